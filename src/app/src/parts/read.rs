//! Reading what was typed: to a value, or to a sentence that says what is wrong and what would be right.

use core::ops::RangeInclusive;

use agronomy::iso_week::IsoWeek;
use chrono::{Datelike, NaiveDate};
use season::limits::{NAME_LENGTH_MAX, YEARS};
use season::words::{Arg, Manner, Say};

/// A typed quantity with its unit, SI inside.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// Degrees C.
    Temperature,
    /// Metres.
    Length,
    /// Centimetres.
    Spacing,
}

impl Measure {
    /// A value as the number the reader would type.
    pub fn shown(self, si: f64, manner: Manner) -> f64 {
        match self {
            Self::Temperature => manner.temperature_value(si),
            Self::Length => manner.length_value(si),
            Self::Spacing => manner.spacing_value(si),
        }
    }

    /// The value of the number that the reader typed.
    pub fn of(self, typed: f64, manner: Manner) -> f64 {
        match self {
            Self::Temperature => manner.temperature_of(typed),
            Self::Length => manner.length_of(typed),
            Self::Spacing => manner.spacing_of(typed),
        }
    }

    /// The key of the unit that the reader types in.
    pub fn unit_key(self, manner: Manner) -> &'static str {
        use season::words::Units;
        match (self, manner.units) {
            (Self::Temperature, Units::Metric) => "unit.c",
            (Self::Temperature, Units::Us) => "unit.f",
            (Self::Length, Units::Metric) => "unit.m",
            (Self::Length, Units::Us) => "unit.ft",
            (Self::Spacing, Units::Metric) => "unit.cm",
            (Self::Spacing, Units::Us) => "unit.in",
        }
    }

    fn arg(self, si: f64) -> Arg {
        match self {
            Self::Temperature => Arg::Temperature(si),
            Self::Length => Arg::Length(si),
            Self::Spacing => Arg::Spacing(si),
        }
    }
}

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
    if text.trim().is_empty() {
        return Err(Say::new("typed.no_number"));
    }
    let n = plain_number(text).ok_or_else(|| Say::new("typed.not_number"))?;
    if within.contains(&n) {
        Ok(n)
    } else {
        Err(Say::new("typed.out_of_range")
            .with("low", Arg::Decimal(*within.start(), 2))
            .with("high", Arg::Decimal(*within.end(), 2)))
    }
}

/// A share typed in 100, such as `85` or `85 %`: 0 to 1.
pub fn share(text: &str, within_100: RangeInclusive<f64>) -> Result<f64, Say> {
    decimal(text.trim().trim_end_matches('%'), within_100).map(|n| n / 100.0)
}

/// A quantity typed in the reader's unit; the bounds and the result are SI.
pub fn quantity(
    text: &str,
    measure: Measure,
    within: RangeInclusive<f64>,
    manner: Manner,
) -> Result<f64, Say> {
    if text.trim().is_empty() {
        return Err(Say::new("typed.no_number"));
    }
    let typed = plain_number(text).ok_or_else(|| Say::new("typed.not_number"))?;
    let value = measure.of(typed, manner);
    // A bound may not be met to the last digit after converting there and back.
    let slack = 1e-9 * (within.end() - within.start()).abs();
    if (*within.start() - slack..=*within.end() + slack).contains(&value) {
        Ok(value)
    } else {
        Err(Say::new("typed.out_of_range")
            .with("low", measure.arg(*within.start()))
            .with("high", measure.arg(*within.end())))
    }
}

/// A name; blanks around it go.
pub fn name(text: &str) -> Result<String, Say> {
    let name = text.trim();
    if name.is_empty() {
        return Err(Say::new("typed.no_name"));
    }
    within_length(name)?;
    Ok(name.to_owned())
}

/// A name or nothing.
pub fn name_or_none(text: &str) -> Result<String, Say> {
    within_length(text.trim())?;
    Ok(text.trim().to_owned())
}

fn within_length(name: &str) -> Result<(), Say> {
    if name.chars().count() > NAME_LENGTH_MAX {
        return Err(Say::new("typed.too_long").with("n", NAME_LENGTH_MAX));
    }
    Ok(())
}

/// A date as a date field gives it: `2027-02-15`.
pub fn date(text: &str) -> Result<NaiveDate, Say> {
    if text.trim().is_empty() {
        return Err(Say::new("typed.no_date"));
    }
    let date: NaiveDate = text
        .trim()
        .parse()
        .map_err(|_| Say::new("typed.not_date"))?;
    if YEARS.contains(&date.year()) {
        Ok(date)
    } else {
        Err(Say::new("typed.year")
            .with("low", *YEARS.start())
            .with("high", *YEARS.end()))
    }
}

/// A week: `2027-W14`, `w14`, `14`, or a date in it. A week without a year is the one nearest to `today`, rather ahead.
pub fn week(text: &str, today: NaiveDate) -> Result<IsoWeek, Say> {
    let text = text.trim().to_ascii_uppercase();
    if text.is_empty() {
        return Err(Say::new("typed.no_week"));
    }
    if let Ok(date) = date(&text) {
        return Ok(IsoWeek::of(date));
    }
    let not_week = || Say::new("typed.not_week");
    let (year, number) = match text.split_once('W') {
        Some((year, number)) => (year.trim().trim_end_matches('-'), number.trim()),
        None => ("", text.as_str()),
    };
    let number: u32 = number.parse().map_err(|_| not_week())?;
    let week = if year.is_empty() {
        week_ahead(number, today)
    } else {
        let year: i32 = year.trim().parse().map_err(|_| not_week())?;
        IsoWeek::new(year, number).ok()
    };
    week.filter(|week| YEARS.contains(&week.year()))
        .ok_or_else(|| Say::new("typed.no_such_week"))
}

/// Up to a quarter of a year back a week still means the one that was.
fn week_ahead(number: u32, today: NaiveDate) -> Option<IsoWeek> {
    const BACK_WEEKS: i32 = 13;
    let now = IsoWeek::of(today);
    (-1..=2)
        .filter_map(|years| IsoWeek::new(now.year() + years, number).ok())
        .find(|week| now.weeks_until(*week) >= -BACK_WEEKS)
}

/// A latitude: `44.1`, `44.1 N`, `33.9 S`, `-33.9`, `44° 30'`.
pub fn latitude(text: &str) -> Result<f64, Say> {
    let text = text.trim().to_ascii_uppercase();
    if text.is_empty() {
        return Err(Say::new("typed.no_latitude"));
    }
    let (text, south) = match (text.strip_suffix('N'), text.strip_suffix('S')) {
        (Some(north), _) => (north, false),
        (_, Some(south)) => (south, true),
        _ => (text.as_str(), false),
    };
    let parts: Vec<&str> = text
        .split(['°', '\'', '′', '’', '"', '″'])
        .map(str::trim)
        .filter(|part| !part.is_empty())
        .collect();
    let wrong = || Say::new("typed.not_latitude");
    let mut degrees = 0.0;
    let mut sign = if south { -1.0 } else { 1.0 };
    for (n, part) in parts.iter().enumerate().take(4) {
        let value = plain_number(part).ok_or_else(wrong)?;
        match n {
            0 => {
                if value < 0.0 {
                    sign = -1.0;
                }
                degrees = value.abs();
            }
            1 | 2 if (0.0..60.0).contains(&value) => {
                degrees += value / if n == 1 { 60.0 } else { 3_600.0 };
            }
            _ => return Err(wrong()),
        }
    }
    if parts.is_empty() || degrees > 90.0 {
        return Err(wrong());
    }
    Ok(sign * degrees)
}

/// Twelve figures, January first, as typed or pasted from a table: parted by blanks, tabs, lines or semicolons, or by commas
/// where no other mark parts them. A word before the first figure is passed over.
pub fn twelve(text: &str) -> Result<[f64; 12], Say> {
    if text.trim().is_empty() {
        return Err(Say::new("typed.no_months"));
    }
    let mut parts: Vec<&str> = split(text, &[' ', '\t', '\n', '\r', ';']);
    if parts.len() < 12 {
        let by_comma = split(text, &[' ', '\t', '\n', '\r', ';', ',']);
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

fn split<'a>(text: &'a str, marks: &[char]) -> Vec<&'a str> {
    text.split(marks)
        .map(|part| part.trim().trim_end_matches(','))
        .filter(|p| !p.is_empty())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use season::words::Units;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    #[test]
    fn counts_are_whole_and_within_bounds() {
        let read = |text: &str| count(text, 0..=5_000).map_err(|say| say.key());
        assert_eq!(read(" 60 "), Ok(60));
        assert_eq!(read("1,200"), Ok(1_200));
        assert_eq!(read("1 200"), Ok(1_200));
        assert_eq!(read(""), Err("typed.no_count"));
        assert_eq!(read("-3"), Err("typed.out_of_range"));
        assert_eq!(read("99999999999999999999"), Err("typed.not_whole"));
        assert_eq!(read("5001"), Err("typed.out_of_range"));
        assert_eq!(read("4.5"), Err("typed.not_whole"));
        assert_eq!(read("some"), Err("typed.not_whole"));
    }

    #[test]
    fn numbers_take_comma_and_point_and_nothing_odd() {
        assert_eq!(plain_number("12,5"), Some(12.5));
        assert_eq!(plain_number("\u{2212}2.5"), Some(-2.5));
        for text in ["", "1e9", "inf", "NaN", "0x10", "1.2.3", "five", "--1"] {
            assert_eq!(plain_number(text), None, "{text}");
        }
        assert_eq!(share("85 %", 1.0..=100.0), Ok(0.85));
        assert!(share("120", 1.0..=100.0).is_err());
    }

    #[test]
    fn quantities_come_in_the_readers_unit_and_bounds_are_told_in_it() {
        let us = Manner { units: Units::Us };
        // 4 ft = 1.2192 m by definition of the international foot (0.3048 m).
        let bed = quantity("4", Measure::Length, 0.1..=20.0, us).unwrap();
        assert!((bed - 1.2192).abs() < 1e-12);
        let told = quantity("99", Measure::Length, 0.1..=20.0, us).unwrap_err();
        assert!(told.write(us).contains("65.6 ft"), "{}", told.write(us));
        assert!(quantity("20", Measure::Length, 0.1..=20.0, Manner::default()).is_ok());
    }

    /// ISO 8601 week dates as published: 2008-12-29 is 2009-W01-1, 2010-01-03 is 2009-W53-7 (examples of the standard, as the
    /// encyclopaedia article "ISO week date" gives them; from memory).
    #[test]
    fn weeks_are_read_in_every_usual_spelling() {
        let today = day("2027-02-15");
        let read = |text: &str| {
            week(text, today)
                .map(|w| w.to_string())
                .map_err(|say| say.key())
        };
        for text in ["2027-W14", "2027W14", "w14", "14", "2027-w14", "2027-04-08"] {
            assert_eq!(read(text), Ok("2027-W14".into()), "{text}");
        }
        assert_eq!(read("2008-12-29"), Ok("2009-W01".into()));
        assert_eq!(read("2010-01-03"), Ok("2009-W53".into()));
        assert_eq!(read("w50"), Ok("2026-W50".into()), "a few weeks back");
        assert_eq!(read("w30"), Ok("2027-W30".into()));
        assert_eq!(read("2027-W53"), Err("typed.no_such_week"));
        assert_eq!(read("w0"), Err("typed.no_such_week"));
        assert_eq!(read("12.4"), Err("typed.not_week"));
        assert_eq!(read(""), Err("typed.no_week"));
    }

    #[test]
    fn latitudes_are_read_north_and_south() {
        for (text, degrees) in [
            ("44.1", 44.1),
            ("44,1 n", 44.1),
            ("44° 30' N", 44.5),
            ("33.9 S", -33.9),
            ("-33.9", -33.9),
            ("0", 0.0),
        ] {
            let read = latitude(text).unwrap();
            assert!((read - degrees).abs() < 1e-9, "{text}: {read}");
        }
        for text in ["", "north", "91", "44 61' ", "44° 61'", "N"] {
            assert!(latitude(text).is_err(), "{text}");
        }
    }

    #[test]
    fn twelve_months_come_from_a_row_a_column_or_a_list() {
        let months: [f64; 12] = core::array::from_fn(|m| m as f64 - 3.5);
        let write = |mark: &str, comma: bool| {
            let texts: Vec<String> = months.iter().map(f64::to_string).collect();
            let text = texts.join(mark);
            if comma { text.replace('.', ",") } else { text }
        };
        for text in [
            write("\t", false),
            write("\n", false),
            write(" ", true),
            write("; ", true),
            write(", ", false),
            write(",", false),
            format!("Tmin\t{}", write("\t", false)),
        ] {
            assert_eq!(twelve(&text), Ok(months), "{text}");
        }
        assert_eq!(twelve("1 2 3").unwrap_err().key(), "typed.not_twelve");
        assert_eq!(twelve("1 2 x").unwrap_err().key(), "typed.not_month");
        assert_eq!(twelve(" ").unwrap_err().key(), "typed.no_months");
    }

    #[test]
    fn dates_and_names_are_refused_with_a_sentence() {
        assert_eq!(date("2027-02-15"), Ok(day("2027-02-15")));
        assert_eq!(date("1027-02-15").unwrap_err().key(), "typed.year");
        assert_eq!(date("2027-02-30").unwrap_err().key(), "typed.not_date");
        assert_eq!(name("  Tunnel 1 ").unwrap(), "Tunnel 1");
        assert_eq!(name(" ").unwrap_err().key(), "typed.no_name");
        assert!(name(&"x".repeat(81)).is_err());
        assert!(name(&"é".repeat(80)).is_ok());
    }
}
