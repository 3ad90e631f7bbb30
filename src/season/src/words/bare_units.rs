//! No sentence writes a unit of its own behind a figure: an argument brings both, so that they fit the reader.

use super::{ENGLISH, lines};

/// Units that differ between readers, and those that an argument writes.
const UNITS: [&str; 33] = [
    "degree",
    "degrees",
    "C",
    "F",
    "°",
    "°C",
    "°F",
    "K",
    "mm",
    "cm",
    "m",
    "m2",
    "m²",
    "km",
    "metre",
    "metres",
    "meter",
    "meters",
    "foot",
    "feet",
    "ft",
    "inch",
    "inches",
    "litre",
    "litres",
    "l",
    "g",
    "kg",
    "gram",
    "grams",
    "mol",
    "micromoles",
    "percent",
];
/// Figures in words that sentences use.
const NUMBERS: [&str; 12] = [
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "twelve",
    "twenty",
];
/// Sentences that may, by the beginning of their keys, and why.
const ALLOWED: [(&str, &str); 6] = [
    ("lamp.hours", "light is counted in moles everywhere"),
    ("lamp.too_weak", "light is counted in moles everywhere"),
    ("why.daily_light", "light is counted in moles everywhere"),
    ("why.lamp_light", "light is counted in moles everywhere"),
    ("labels.stock.", "paper is named in both units"),
    ("shed.place.note", "degrees of latitude"),
];

/// What a text's words are, a placeholder one of them as `#`; inner texts and words to choose from count as text.
fn words(text: &str) -> Vec<String> {
    let mut plain = String::new();
    let mut rest = text;
    while let Some(open) = rest.find('{') {
        plain.push_str(&rest[..open]);
        rest = &rest[open + 1..];
        let end = rest.find(['}', '?', '|']).unwrap_or(rest.len());
        let by_itself = rest[end..].starts_with('}');
        plain.push_str(if by_itself { "# " } else { " " });
        rest = rest.get(end + 1..).unwrap_or_default();
    }
    plain.push_str(rest);
    plain
        .replace(['}', '|'], " ")
        .replace('%', " % ")
        .split_whitespace()
        .map(|word| {
            word.trim_matches(|c: char| ",.;:()!?“”\"".contains(c))
                .to_owned()
        })
        .collect()
}

/// A unit that stands bare behind a figure, with the figure.
fn bare(text: &str) -> Option<String> {
    let words = words(text);
    let is_typed =
        |word: &str| NUMBERS.contains(&word) || word.ends_with(|c: char| c.is_ascii_digit());
    words.windows(3).find_map(|three| {
        let [figure, unit, next] = three else {
            return None;
        };
        let of_100 = matches!(unit.as_str(), "in" | "of") && next == "100";
        let is_unit = UNITS.contains(&unit.as_str());
        let found = match figure.as_str() {
            "#" => is_unit || of_100 || unit == "%",
            figure if is_typed(figure) => is_unit || (unit == "in" && next == "100"),
            _ => false,
        };
        found.then(|| format!("{figure} {unit} {next}"))
    })
}

#[test]
fn no_unit_stands_bare_behind_a_figure() {
    let mut used = [false; ALLOWED.len()];
    for (key, text) in lines(ENGLISH) {
        // Words for a heading that somebody else wrote.
        if key.starts_with("paste.head.") {
            continue;
        }
        let Some(found) = bare(&format!("{text} . .")) else {
            continue;
        };
        let allowed = ALLOWED
            .iter()
            .position(|(begins, _)| key.starts_with(begins));
        let Some(allowed) = allowed else {
            panic!("{key}: “{found}”; an argument brings the unit along");
        };
        used[allowed] = true;
    }
    for ((key, _), used) in ALLOWED.iter().zip(used) {
        assert!(used, "{key} needs no leave any more");
    }
}

#[test]
fn a_bare_unit_is_found() {
    for text in [
        "with {spare} degrees to spare",
        "{n?{n} cm}",
        "six degrees beyond",
        "{n} in 100 {n|is|are} up",
        "near 5 °C.",
        "{n}% of it",
        "comes in {chance} of 100 years",
        "a bed 1.2 m wide",
    ] {
        assert!(bare(&format!("{text} . .")).is_some(), "{text}");
    }
    for text in [
        "{n} {n|stem|stems} in all",
        "{chance} of years",
        "80% is usual",
        "in {low} to {high}",
    ] {
        assert_eq!(bare(&format!("{text} . .")), None, "{text}");
    }
}
