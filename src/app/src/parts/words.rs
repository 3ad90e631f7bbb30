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
