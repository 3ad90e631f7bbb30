//! Figures for each month of the year.

mod table;

pub use table::two_rows;

use super::plain_number;
use crate::words::{Say, text};

/// Keys of the months' words, January first.
pub const MONTHS: [&str; 12] = [
    "month.1", "month.2", "month.3", "month.4", "month.5", "month.6", "month.7", "month.8",
    "month.9", "month.10", "month.11", "month.12",
];

/// The month, 1 to 12, that a word begins like: "Jan", "january", "Sept.".
pub(crate) fn month_of(word: &str) -> Option<u32> {
    let word = word.trim().to_lowercase();
    let month = MONTHS
        .iter()
        .position(|key| word.starts_with(&text(key).to_lowercase()))?;
    u32::try_from(month + 1).ok()
}

/// Twelve figures, January first, as typed or pasted from a table: parted by blanks, tabs, lines or semicolons, or by commas
/// where no other mark parts them. A word before the first figure is passed over.
pub fn twelve(typed: &str) -> Result<[f64; 12], Say> {
    if typed.trim().is_empty() {
        return Err(Say::new("typed.no_months"));
    }
    let mut parts: Vec<&str> = split(typed, &[' ', '\t', '\n', '\r', ';']);
    if parts.len() < 12 {
        let by_comma = split(typed, &[' ', '\t', '\n', '\r', ';', ',']);
        if by_comma.len() >= 12 {
            parts = by_comma;
        }
    }
    let is_word = |part: &&str| plain_number(part).is_none();
    while parts.first().is_some_and(is_word) {
        parts.remove(0);
    }
    let figures: Vec<f64> = parts
        .iter()
        .map(|part| {
            plain_number(part).ok_or_else(|| Say::new("typed.not_month").with("text", *part))
        })
        .collect::<Result<_, _>>()?;
    let found = figures.len();
    figures
        .try_into()
        .map_err(|_| Say::new("typed.not_twelve").with("n", found))
}

fn split<'a>(typed: &'a str, marks: &[char]) -> Vec<&'a str> {
    typed
        .split(marks)
        .map(|part| part.trim().trim_end_matches(','))
        .filter(|p| !p.is_empty())
        .collect()
}
