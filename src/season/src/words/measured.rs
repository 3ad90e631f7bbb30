//! Figures with a unit inside a note of the crop reference, written in the reader's units.
//!
//! Notes give temperatures in C, lengths in mm, cm or m, pots in L and warmth in degree-days, the unit behind the figures: `24 C`,
//! `15-20 C`, `-8 to -12 C`, `60x40 cm`. Grades of bulbs and corms (`10/12+ cm`) are the same centimetres everywhere and stay.

use super::manner::{Manner, Units, rounded};
use super::text;

const QUARTS_PER_LITRE: f64 = 1.056_688;
/// Below this many inches a length is written in eighths, as seed depths and soil blocks are.
const FRACTIONS_BELOW_IN: f64 = 2.5;

/// A unit that notes use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Unit {
    Celsius,
    Millimetres,
    Centimetres,
    Metres,
    Litres,
    DegreeDays,
}

/// Longer words first, where one begins like another.
const UNITS: [(&str, Unit); 6] = [
    ("degree-days", Unit::DegreeDays),
    ("cm", Unit::Centimetres),
    ("mm", Unit::Millimetres),
    ("m", Unit::Metres),
    ("C", Unit::Celsius),
    ("L", Unit::Litres),
];
/// What may part the figures that share a unit.
const BETWEEN: [&str; 5] = [" to ", " and ", "-", "/", "x"];

impl Unit {
    fn word(self, units: Units) -> &'static str {
        match (self, units) {
            (Self::Celsius, Units::Metric) => text("unit.c"),
            (Self::Celsius, Units::Us) => text("unit.f"),
            (Self::Millimetres, Units::Metric) => text("unit.mm"),
            (Self::Centimetres, Units::Metric) => text("unit.cm"),
            (Self::Millimetres | Self::Centimetres, Units::Us) => text("unit.in"),
            (Self::Metres, Units::Metric) => text("unit.m"),
            (Self::Metres, Units::Us) => text("unit.ft"),
            (Self::Litres, Units::Metric) => text("unit.litre"),
            (Self::Litres, Units::Us) => text("unit.quart"),
            (Self::DegreeDays, Units::Metric) => text("unit.degree_days_c"),
            (Self::DegreeDays, Units::Us) => text("unit.degree_days_f"),
        }
    }

    /// A metric figure in US units.
    fn us(self, n: f64) -> String {
        let us = Manner { units: Units::Us };
        match self {
            Self::Celsius => rounded(us.temperature_value(n), 0),
            Self::DegreeDays => rounded(us.degree_days_value(n), 0),
            Self::Millimetres => inches(us.spacing_value(n / 10.0)),
            Self::Centimetres => inches(us.spacing_value(n)),
            // To the half foot and the whole quart: figures of notes are no finer.
            Self::Metres => rounded((us.length_value(n) * 2.0).round() / 2.0, 1),
            Self::Litres => rounded(n * QUARTS_PER_LITRE, 0),
        }
    }
}

fn inches(n: f64) -> String {
    if n >= FRACTIONS_BELOW_IN {
        return rounded(n, 0);
    }
    let eighths = (n * 8.0).round().max(1.0) as u32;
    let (whole, part) = (eighths / 8, eighths % 8);
    let part = match part {
        0 => return whole.to_string(),
        2 | 6 => format!("{}/4", part / 2),
        4 => "1/2".to_owned(),
        _ => format!("{part}/8"),
    };
    if whole == 0 {
        part
    } else {
        format!("{whole} {part}")
    }
}

/// Figures that share one unit, at the beginning of a text.
struct Found<'a> {
    figures: Vec<&'a str>,
    /// What stands between them, one fewer.
    between: Vec<&'static str>,
    unit: Unit,
    /// Bytes of the text that they take, the unit's word included.
    length: usize,
}

/// The number at the beginning of a text.
fn figure(text: &str) -> Option<&str> {
    let unsigned = text.strip_prefix('-').unwrap_or(text);
    let sign = text.len() - unsigned.len();
    let digits = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
    let whole = digits(unsigned);
    if whole == 0 {
        return None;
    }
    let decimals = unsigned[whole..].strip_prefix('.').map_or(0, digits);
    let part = if decimals > 0 { decimals + 1 } else { 0 };
    Some(&text[..sign + whole + part])
}

fn found(text: &str) -> Option<Found<'_>> {
    let first = figure(text)?;
    let (mut figures, mut between) = (vec![first], Vec::new());
    let mut rest = &text[first.len()..];
    while let Some((word, next)) = BETWEEN.iter().find_map(|word| {
        let after = rest.strip_prefix(word)?;
        Some((*word, figure(after)?))
    }) {
        rest = &rest[word.len() + next.len()..];
        between.push(word);
        figures.push(next);
    }
    let rest = rest.strip_prefix(' ')?;
    let (word, unit) = UNITS.iter().find(|(word, _)| {
        rest.strip_prefix(word)
            .is_some_and(|after| !after.starts_with(|c: char| c.is_alphanumeric()))
    })?;
    let grade = *unit != Unit::Celsius && between.contains(&"/");
    (!grade).then(|| Found {
        figures,
        between,
        unit: *unit,
        length: text.len() - rest.len() + word.len(),
    })
}

/// A note with its figures in the reader's units.
pub(super) fn written(note: &str, manner: Manner) -> String {
    let mut out = String::with_capacity(note.len() + 16);
    let mut rest = note;
    let mut before = ' ';
    while let Some(c) = rest.chars().next() {
        // A figure begins a word; a hyphen inside one is no minus.
        let begins = !before.is_alphanumeric() && !matches!(before, '-' | '.' | '/');
        match found(rest).filter(|_| begins) {
            Some(found) => {
                write(&found, manner, &mut out);
                rest = &rest[found.length..];
                before = 'x';
            }
            None => {
                out.push(c);
                rest = &rest[c.len_utf8()..];
                before = c;
            }
        }
    }
    out
}

fn write(found: &Found<'_>, manner: Manner, out: &mut String) {
    let figures: Vec<String> = match manner.units {
        Units::Metric => found.figures.iter().map(|n| (*n).to_owned()).collect(),
        Units::Us => found
            .figures
            .iter()
            .map(|n| found.unit.us(n.parse().unwrap_or_default()))
            .collect(),
    };
    let span = found
        .between
        .iter()
        .all(|word| matches!(*word, "-" | " to "));
    // A span that rounds to one figure is that figure.
    if span && figures.iter().all(|n| *n == figures[0]) {
        out.push_str(&figures[0]);
    } else {
        for (n, figure) in figures.iter().enumerate() {
            if n > 0 {
                out.push_str(found.between[n - 1]);
            }
            out.push_str(figure);
        }
    }
    out.push(' ');
    out.push_str(found.unit.word(manner.units));
}

#[cfg(test)]
mod tests {
    use super::*;

    const US: Manner = Manner { units: Units::Us };

    #[test]
    fn figures_of_notes_are_written_in_the_readers_units() {
        for (note, metric, us) in [
            ("stops near 27 C", "stops near 27 °C", "stops near 81 °F"),
            (
                "dies at -8 to -12 C",
                "dies at -8 to -12 °C",
                "dies at 18 to 10 °F",
            ),
            (
                "room at 15-20 C: cool",
                "room at 15-20 °C: cool",
                "room at 59-68 °F: cool",
            ),
            (
                "stuck below 15.6 C",
                "stuck below 15.6 °C",
                "stuck below 60 °F",
            ),
            ("swing 24/13 C", "swing 24/13 °C", "swing 75/55 °F"),
            (
                "15 cm mesh at 25-40 cm",
                "15 cm mesh at 25-40 cm",
                "6 in mesh at 10-16 in",
            ),
            (
                "3-5 mm and keep dark",
                "3-5 mm and keep dark",
                "1/8-1/4 in and keep dark",
            ),
            ("20-40 mm block", "20-40 mm block", "3/4-1 5/8 in block"),
            ("7-8 cm longer", "7-8 cm longer", "3 in longer"),
            ("crate 60x40 cm", "crate 60x40 cm", "crate 24x16 in"),
            ("net 1.5-1.8 m", "net 1.5-1.8 m", "net 5-6 ft"),
            ("1-2 L pot", "1-2 l pot", "1-2 qt pot"),
            ("89 degree-days", "89 °C days", "160 °F days"),
            (
                "corm 4/5 to 6/7 cm",
                "corm 4/5 to 6/7 cm",
                "corm 4/5 to 6/7 cm",
            ),
            ("bulb 12+ cm", "bulb 12+ cm", "bulb 12+ cm"),
            (
                "stress from 1.8 dS/m",
                "stress from 1.8 dS/m",
                "stress from 1.8 dS/m",
            ),
            (
                "72-128 cell, 3-4 wk",
                "72-128 cell, 3-4 wk",
                "72-128 cell, 3-4 wk",
            ),
        ] {
            assert_eq!(written(note, Manner::default()), metric);
            assert_eq!(written(note, US), us);
        }
    }

    #[test]
    fn no_note_of_the_reference_keeps_a_metric_figure() {
        let reference = culture::Reference::builtin().unwrap();
        let mut changed = 0;
        for crop in reference.crops() {
            for note in crop.text_names().filter_map(|name| crop.text(name)) {
                let us = written(&note.text, US);
                changed += usize::from(us != note.text);
                let words: Vec<&str> = us
                    .split(|c: char| c.is_whitespace() || matches!(c, ',' | ';' | ':' | '.' | ')'))
                    .collect();
                for pair in words.windows(2) {
                    let figure = pair[0].ends_with(|c: char| c.is_ascii_digit());
                    let metric = matches!(pair[1], "C" | "°C" | "cm" | "mm" | "m" | "L" | "l");
                    let grade = pair[0].contains('/') && pair[1] == "cm";
                    assert!(!(figure && metric) || grade, "{}: {us}", crop.name());
                }
            }
        }
        assert!(changed > 40, "{changed}");
    }
}
