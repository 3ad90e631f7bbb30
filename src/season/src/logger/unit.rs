//! Degrees, and whose they are.

use crate::typed::plain_number;

/// A scale of temperature.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// Degrees Celsius.
    Celsius,
    /// Degrees Fahrenheit.
    Fahrenheit,
}

/// How the scale is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum UnitSaid {
    /// The file says so.
    Header,
    /// The grower said so.
    Told,
    /// The file says nothing; the readings may well be Celsius.
    Assumed,
    /// The readings are taken for Celsius and hardly can be: ask.
    Doubtful,
}

impl Unit {
    /// The scale that a heading or a setting names.
    pub(super) fn said_in(text: &str) -> Option<Self> {
        let lower = text.to_lowercase();
        let has = |marks: [&str; 4], letter: &str| {
            marks.iter().any(|mark| lower.contains(mark))
                // A letter by itself: "Temp (F)", "air_temp_c".
                || lower.split(|c: char| !c.is_alphanumeric()).any(|word| word == letter)
        };
        let fahrenheit = has(["\u{b0}f", "fahrenheit", "degf", "\u{ba}f"], "f");
        let celsius = has(["\u{b0}c", "celsius", "degc", "\u{ba}c"], "c")
            || ["\u{2103}", "centigrade"]
                .iter()
                .any(|mark| lower.contains(mark));
        match (celsius, fahrenheit || lower.contains('\u{2109}')) {
            (true, false) => Some(Self::Celsius),
            (false, true) => Some(Self::Fahrenheit),
            _ => None,
        }
    }

    /// Degrees Celsius of a reading on this scale.
    pub(super) fn celsius(self, reading: f64) -> f64 {
        match self {
            Self::Celsius => reading,
            Self::Fahrenheit => (reading - 32.0) / 1.8,
        }
    }
}

/// The number in a cell, whatever degree sign and letter follow it.
pub(super) fn degrees(cell: &str) -> Option<f64> {
    let letters = [
        'c', 'C', 'f', 'F', '\u{b0}', '\u{ba}', '\u{2103}', '\u{2109}',
    ];
    let number = cell.trim_end_matches(|c: char| letters.contains(&c) || c.is_whitespace());
    plain_number(number)
}

/// Readings that could be Celsius: half of them below 30, and hardly any above 50. From memory of tunnels in summer.
pub(super) fn may_be_celsius(sorted: &[f64]) -> bool {
    let at = |share: f64| {
        let last = sorted.len().saturating_sub(1);
        sorted
            .get((last as f64 * share).round() as usize)
            .copied()
            .unwrap_or(0.0)
    };
    at(0.5) <= 30.0 && at(0.98) <= 50.0
}
