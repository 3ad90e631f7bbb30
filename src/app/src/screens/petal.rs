//! A spot of colour before a colour's name.

use leptos::prelude::*;

/// Colours that the style sheet has, with words that growers use for them.
const PETALS: [(&str, &[&str]); 16] = [
    ("petal petal--white", &["white"]),
    ("petal petal--cream", &["cream", "ivory"]),
    ("petal petal--yellow", &["yellow", "gold"]),
    ("petal petal--apricot", &["apricot", "peach"]),
    ("petal petal--orange", &["orange"]),
    ("petal petal--coral", &["coral", "salmon", "terracotta"]),
    ("petal petal--blush", &["blush"]),
    ("petal petal--burgundy", &["burgundy", "wine", "chocolate"]),
    ("petal petal--pink", &["pink", "rose"]),
    ("petal petal--red", &["red", "scarlet"]),
    ("petal petal--lavender", &["lavender", "lilac", "mauve"]),
    ("petal petal--purple", &["purple", "violet", "plum"]),
    ("petal petal--blue", &["blue"]),
    ("petal petal--green", &["green"]),
    ("petal petal--bronze", &["bronze", "copper", "brown"]),
    ("petal petal--mixed", &["mix", "mixed"]),
];

/// The class of a colour's spot; `None` for a colour that is not among them.
fn class(colour: &str) -> Option<&'static str> {
    let colour = colour.to_lowercase();
    let words: Vec<&str> = colour.split(|c: char| !c.is_alphabetic()).collect();
    PETALS
        .iter()
        .find(|(_, known)| known.iter().any(|word| words.contains(word)))
        .map(|(class, _)| *class)
}

/// The spot; nothing for a colour without one.
#[component]
pub fn Petal(
    /// The colour in the grower's words.
    colour: String,
) -> impl IntoView {
    class(&colour).map(|class| view! { <span class=class></span> })
}

#[cfg(test)]
mod tests {
    use super::class;

    #[test]
    fn a_colour_is_found_by_its_word_and_not_inside_another() {
        assert_eq!(class("Brick red"), Some("petal petal--red"));
        assert_eq!(class("white, blush edge"), Some("petal petal--white"));
        assert_eq!(class("colored"), None);
        assert_eq!(class(""), None);
    }
}
