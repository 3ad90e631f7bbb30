//! Words for views: keys, sentences and changing texts alike.

use leptos::prelude::*;
use season::words::{Manner, Say, text};

use crate::store::Store;

/// What a part is given to say.
#[derive(Clone)]
pub enum Words {
    /// A key of the catalogue.
    Key(&'static str),
    /// A sentence, in the reader's units.
    Said(Say),
    /// A text as it is: a name that the grower gave.
    Plain(String),
    /// A text that changes.
    Changing(Signal<String>),
}

impl Words {
    /// The text. Follows changes of the text and of the reader's units.
    pub fn get(&self) -> String {
        match self {
            Self::Key(key) => text(key).to_owned(),
            Self::Said(say) => say.write(Store::here().manner()),
            Self::Plain(text) => text.clone(),
            Self::Changing(signal) => signal.get(),
        }
    }
}

impl From<&'static str> for Words {
    fn from(key: &'static str) -> Self {
        Self::Key(key)
    }
}

impl From<Say> for Words {
    fn from(say: Say) -> Self {
        Self::Said(say)
    }
}

impl From<String> for Words {
    fn from(text: String) -> Self {
        Self::Plain(text)
    }
}

impl From<Signal<String>> for Words {
    fn from(signal: Signal<String>) -> Self {
        Self::Changing(signal)
    }
}

/// A sentence as a text that follows the reader's units.
pub fn said(say: Say) -> impl Fn() -> String + Clone + Send + Sync + 'static {
    let store = Store::here();
    move || say.write(store.manner())
}

macro_rules! keys {
    ($prefix:literal, $word:expr, $other:literal: $($known:literal),+ $(,)?) => {
        match $word {
            $($known => concat!($prefix, $known),)+
            _ => concat!($prefix, $other),
        }
    };
}

/// The key of the word for a kind of space.
pub fn space_key(kind: season::fact::SpaceKind) -> &'static str {
    keys!("space.", kind.word(), "shelf": "mat", "shelf", "hardening", "tunnel", "outdoors", "cooler")
}

/// The name of the icon for a kind of space.
pub fn space_icon(kind: season::fact::SpaceKind) -> &'static str {
    use season::fact::SpaceKind;
    match kind {
        SpaceKind::Mat => "mat",
        SpaceKind::Shelf => "shelf",
        SpaceKind::Hardening => "dome",
        SpaceKind::Tunnel => "tunnel",
        SpaceKind::Outdoors => "field",
        SpaceKind::Cooler => "cooler",
    }
}

/// The key of the word for a role in a bouquet.
pub fn role_key(role: season::fact::Role) -> &'static str {
    keys!("role.", role.word(), "filler": "spike", "focal", "secondary", "filler", "airy", "foliage")
}

/// The key of the word for a way to keep seed.
pub fn kept_key(kept: season::fact::Keeping) -> &'static str {
    keys!("kept.", kept.word(), "room": "room", "cool", "freezer")
}

/// The key of the name of a crop's figure; the figure's own name where the catalogue has none.
pub fn figure_label(name: &str) -> String {
    let key = format!("figure.{name}");
    if season::words::has(&key) {
        text(&key).to_owned()
    } else {
        name.replace('_', " ")
    }
}

/// Whether a grower sees a figure of this name: not the constants of the seed-life equation, which speak only together.
pub fn is_shown(figure: &str) -> bool {
    !figure.starts_with("viability_")
}

/// A number with at most so many decimals and no trailing zeros, as sentences write it.
pub fn number(value: f64, decimals: usize) -> String {
    Say::new("plain.n")
        .with("n", season::words::Arg::Decimal(value, decimals))
        .write(Manner::default())
}

#[cfg(test)]
mod tests {
    use super::*;
    use season::fact::{Keeping, Role, SpaceKind};

    #[test]
    fn every_word_of_a_fact_has_its_text() {
        for kind in SpaceKind::ALL {
            assert_eq!(space_key(*kind), format!("space.{}", kind.word()));
            assert!(season::words::has(space_key(*kind)));
        }
        for role in Role::ALL {
            assert_eq!(role_key(*role), format!("role.{}", role.word()));
            assert!(season::words::has(role_key(*role)));
        }
        for kept in Keeping::ALL {
            assert_eq!(kept_key(*kept), format!("kept.{}", kept.word()));
            assert!(season::words::has(kept_key(*kept)));
        }
    }

    #[test]
    fn every_figure_of_the_reference_has_a_name() {
        let reference = culture::Reference::builtin().unwrap();
        for crop in reference.crops() {
            for name in crop.figure_names().filter(|name| is_shown(name)) {
                let key = format!("figure.{name}");
                assert!(season::words::has(&key), "{key}");
            }
        }
    }
}
