//! Numbers and shares.

use core::ops::RangeInclusive;

use crate::words::{Arg, Say};

/// A number with point or comma and any minus sign.
pub fn plain_number(text: &str) -> Option<f64> {
    let text: String = text
        .chars()
        .filter(|c| !c.is_whitespace())
        .map(|c| match c {
            ',' => '.',
            '\u{2212}' | '\u{2013}' => '-',
            c => c,
        })
        .collect();
    let plain = |c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | '+');
    if !text.chars().all(plain) {
        return None;
    }
    text.parse().ok().filter(|n: &f64| n.is_finite())
}

/// A whole number; blanks and marks between groups of three digits are passed over.
fn plain_count(text: &str) -> Option<u64> {
    let groups: Vec<&str> = text
        .trim()
        .split([' ', ',', '.', '\u{a0}', '\u{202f}', '\''])
        .collect();
    let digits = |group: &&str| !group.is_empty() && group.bytes().all(|b| b.is_ascii_digit());
    if !groups.iter().all(digits) || groups.iter().skip(1).any(|group| group.len() != 3) {
        return None;
    }
    groups.concat().parse().ok()
}

/// A whole number within bounds.
pub fn count(text: &str, within: RangeInclusive<u32>) -> Result<u32, Say> {
    if text.trim().is_empty() {
        return Err(Say::new("typed.no_count"));
    }
    let range = |key| {
        Say::new(key)
            .with("low", *within.start())
            .with("high", *within.end())
    };
    match plain_count(text) {
        Some(n) => u32::try_from(n)
            .ok()
            .filter(|n| within.contains(n))
            .ok_or_else(|| range("typed.out_of_range")),
        None if plain_number(text).is_some_and(|n| n < 0.0) => Err(range("typed.out_of_range")),
        None => Err(Say::new("typed.not_whole")),
    }
}

/// A number within bounds.
pub fn decimal(text: &str, within: RangeInclusive<f64>) -> Result<f64, Say> {
    bounded(text, within, |n| Arg::Decimal(n, 2))
}

/// A number within bounds, which the objection names by `arg`.
fn bounded(text: &str, within: RangeInclusive<f64>, arg: impl Fn(f64) -> Arg) -> Result<f64, Say> {
    if text.trim().is_empty() {
        return Err(Say::new("typed.no_number"));
    }
    let n = plain_number(text).ok_or_else(|| Say::new("typed.not_number"))?;
    if within.contains(&n) {
        Ok(n)
    } else {
        Err(Say::new("typed.out_of_range")
            .with("low", arg(*within.start()))
            .with("high", arg(*within.end())))
    }
}

/// A share typed in per cent, such as `85` or `85 %`: 0 to 1.
pub fn share(text: &str, within_100: RangeInclusive<f64>) -> Result<f64, Say> {
    let number = text.trim().trim_end_matches('%');
    bounded(number, within_100, |n| Arg::Share(n / 100.0)).map(|n| n / 100.0)
}
