//! Preferences of this device only, stored in local storage because the first
//! paint needs them.
//!
//! The key [`KEY`] holds one JSON object with the optional members `theme`,
//! `units`, `screen`, `book` and `exported_ms`. A missing, unknown or damaged
//! member counts as not chosen; members that a newer version wrote are left
//! unchanged.

use crate::book::Book;
use gloo_storage::{LocalStorage, Storage};
use serde_json::{Map, Value};

/// The key in local storage.
pub const KEY: &str = "stemtide";
/// Maximum length of a screen's name, in bytes.
pub const SCREEN_BYTES_MAX: usize = 200;

/// Colour theme.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Theme {
    /// Follows the device's setting.
    #[default]
    Auto,
    /// Light.
    Light,
    /// Dark.
    Dark,
    /// The strongest contrast, for use outdoors.
    Sunlight,
}

/// Units for display and input; internally everything is SI.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Units {
    /// Degrees Celsius, metres, millimetres.
    #[default]
    Metric,
    /// Degrees Fahrenheit, feet, inches.
    Us,
}

/// The stored preferences.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Prefs {
    /// Colours.
    pub theme: Theme,
    /// Units.
    pub units: Units,
    /// The screen that was open last, at most [`SCREEN_BYTES_MAX`] bytes.
    pub screen: Option<String>,
    /// The book that is open.
    pub book: Book,
    /// When the own log was last exported, in milliseconds since 1970.
    pub exported_ms: Option<u64>,
}

impl Prefs {
    /// The stored preferences, or the defaults if there are none or local
    /// storage cannot be read.
    #[must_use]
    pub fn load() -> Self {
        Self::from_value(&stored())
    }

    /// Changes the stored preferences, starting from what is stored now rather
    /// than from what this tab read earlier. Returns the preferences and
    /// whether they were stored: a private window may refuse.
    pub fn update(change: impl FnOnce(&mut Self)) -> (Self, bool) {
        let mut object = stored();
        let mut prefs = Self::from_value(&object);
        change(&mut prefs);
        prefs.write_into(&mut object);
        let kept = readable() && LocalStorage::set(KEY, Value::Object(object)).is_ok();
        (prefs, kept)
    }

    fn from_value(object: &Map<String, Value>) -> Self {
        let text = |key: &str| object.get(key).and_then(Value::as_str);
        Self {
            theme: text("theme").and_then(Theme::parse).unwrap_or_default(),
            units: text("units").and_then(Units::parse).unwrap_or_default(),
            screen: text("screen")
                .filter(|screen| screen.len() <= SCREEN_BYTES_MAX)
                .map(str::to_owned),
            book: match text("book") {
                Some("demo") => Book::Demo,
                _ => Book::Own,
            },
            exported_ms: object.get("exported_ms").and_then(Value::as_u64),
        }
    }

    fn write_into(&self, object: &mut Map<String, Value>) {
        let book = match self.book {
            Book::Own => "own",
            Book::Demo => "demo",
        };
        let screen = self
            .screen
            .clone()
            .filter(|screen| screen.len() <= SCREEN_BYTES_MAX);
        let members = [
            ("theme", Some(Value::from(self.theme.word()))),
            ("units", Some(Value::from(self.units.word()))),
            ("screen", screen.map(Value::from)),
            ("book", Some(Value::from(book))),
            ("exported_ms", self.exported_ms.map(Value::from)),
        ];
        for (key, value) in members {
            match value {
                Some(value) => object.insert(key.to_owned(), value),
                None => object.remove(key),
            };
        }
    }
}

impl Theme {
    /// All themes in the order to offer them.
    pub const ALL: [Self; 4] = [Self::Auto, Self::Light, Self::Dark, Self::Sunlight];

    /// The value in storage and in the page's `data-theme`.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Auto => "auto",
            Self::Light => "light",
            Self::Dark => "dark",
            Self::Sunlight => "sunlight",
        }
    }

    /// Parses a theme.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|theme| theme.word() == word)
    }
}

impl Units {
    /// Both systems of units.
    pub const ALL: [Self; 2] = [Self::Metric, Self::Us];

    /// The value in storage.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Metric => "metric",
            Self::Us => "us",
        }
    }

    /// Parses a system of units.
    #[must_use]
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|units| units.word() == word)
    }
}

/// The stored object, or an empty one for anything else.
fn stored() -> Map<String, Value> {
    if !readable() {
        return Map::new();
    }
    match LocalStorage::get(KEY) {
        Ok(Value::Object(object)) => object,
        _ => Map::new(),
    }
}

/// Whether local storage exists and can be read. The library throws if it does
/// not, so this is checked first.
fn readable() -> bool {
    web_sys::window()
        .and_then(|window| window.local_storage().ok().flatten())
        .is_some_and(|storage| storage.get_item(KEY).is_ok())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn object(json: &str) -> Map<String, Value> {
        serde_json::from_str(json).expect("an object")
    }

    #[test]
    fn what_is_written_is_read_back() {
        for theme in Theme::ALL {
            for units in Units::ALL {
                let prefs = Prefs {
                    theme,
                    units,
                    screen: Some("bench".to_owned()),
                    book: Book::Demo,
                    exported_ms: Some(1_800_000_000_000),
                };
                let mut written = Map::new();
                prefs.write_into(&mut written);
                assert_eq!(Prefs::from_value(&written), prefs);
            }
        }
    }

    #[test]
    fn damage_to_one_choice_leaves_the_others() {
        let prefs = Prefs::from_value(&object(
            r#"{"theme":"plaid","units":"us","screen":7,"book":[],"exported_ms":-1}"#,
        ));
        let expect = Prefs {
            units: Units::Us,
            ..Prefs::default()
        };
        assert_eq!(prefs, expect);
    }

    #[test]
    fn members_of_a_newer_version_stay() {
        let mut written = object(r#"{"later":{"a":1},"screen":"beds"}"#);
        Prefs::default().write_into(&mut written);
        assert_eq!(written.get("later"), Some(&serde_json::json!({"a":1})));
        assert_eq!(written.get("screen"), None);
    }

    #[test]
    fn an_overlong_screen_name_is_not_stored() {
        let prefs = Prefs {
            screen: Some("s".repeat(SCREEN_BYTES_MAX + 1)),
            ..Prefs::default()
        };
        let mut written = Map::new();
        prefs.write_into(&mut written);
        assert_eq!(Prefs::from_value(&written).screen, None);
    }
}
