//! Words in one place: every sentence that a person reads stands in one catalogue per language, so that a second language is one
//! file.
//!
//! A line of the catalogue is `key = text`. In the text, `{name}` stands for an argument, `{n|stem|stems}` for the word that fits
//! the number `n`, `{name?text}` for a text that is left out when the argument is missing. Rooms below the screens say things as
//! [`Say`] values; turning them into text is done at the edge, in the reader's units.

pub mod faults;
mod manner;
mod measured;
mod say;

use std::collections::HashMap;
use std::sync::OnceLock;

pub use manner::{Manner, Units};
pub use say::{Arg, Say};

const ENGLISH: &str = include_str!("en.txt");

/// The catalogue's texts by key.
fn catalogue() -> &'static HashMap<&'static str, &'static str> {
    static TEXTS: OnceLock<HashMap<&'static str, &'static str>> = OnceLock::new();
    TEXTS.get_or_init(|| lines(ENGLISH).collect())
}

/// Keys and texts of a catalogue file; blank lines and lines that begin with `#` are passed over.
fn lines(file: &str) -> impl Iterator<Item = (&str, &str)> {
    file.lines()
        .filter(|line| !line.trim_start().starts_with('#'))
        .filter_map(|line| line.split_once(" = "))
        .map(|(key, text)| (key.trim(), text.trim()))
}

/// All keys of the catalogue, for tests that hold the code against it.
pub fn keys() -> impl Iterator<Item = &'static str> {
    lines(ENGLISH).map(|(key, _)| key)
}

/// The text of a key that takes no arguments. An unknown key comes back as it is, so that it is seen.
pub fn text(key: &str) -> &str {
    catalogue().get(key).copied().unwrap_or(key)
}

/// Whether the catalogue has a key.
pub fn has(key: &str) -> bool {
    catalogue().contains_key(key)
}

#[cfg(test)]
mod bare_units;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_key_stands_twice_and_every_line_reads() {
        let mut seen = std::collections::BTreeSet::new();
        for (key, text) in lines(ENGLISH) {
            assert!(seen.insert(key), "{key} stands twice");
            assert!(!text.is_empty(), "{key} is empty");
            assert_eq!(
                text.matches('{').count(),
                text.matches('}').count(),
                "{key}: braces"
            );
        }
        for line in ENGLISH.lines() {
            let line = line.trim();
            assert!(
                line.is_empty() || line.starts_with('#') || line.contains(" = "),
                "{line}"
            );
        }
    }
}
