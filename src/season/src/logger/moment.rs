//! Days and times of day as loggers write them.

use chrono::{DateTime, NaiveDate};

use crate::typed::month_of;

/// A day as it is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Written {
    /// It reads in one way.
    Day(NaiveDate),
    /// Two numbers of which one is the day and one the month, and the year.
    Either(u32, u32, i32),
}

impl Written {
    /// The day, with the first of two numbers taken for the day of the month or for the month.
    pub(super) fn day(self, day_first: bool) -> Option<NaiveDate> {
        match self {
            Self::Day(date) => Some(date),
            Self::Either(a, b, year) => {
                let (day, month) = if day_first { (a, b) } else { (b, a) };
                NaiveDate::from_ymd_opt(year, month, day)
            }
        }
    }
}

/// Whose clock a time is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Clock {
    /// As the clock on the spot shows it, whatever offset stands beside.
    Local,
    /// Greenwich's: written with a Z, or seconds since 1970.
    Utc,
}

/// A day and, where the same cell says so, the time of day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Moment {
    pub(super) written: Written,
    /// Seconds since midnight.
    pub(super) time: Option<(u32, Clock)>,
}

/// Seconds since 1970 that lie between 2000 and 2100.
const UNIX_SECONDS: core::ops::Range<i64> = 946_684_800..4_102_444_800;

/// What stands in a cell, if it is a day, with or without a time.
pub(super) fn moment(cell: &str) -> Option<Moment> {
    if let Some(unix) = unix(cell) {
        return Some(unix);
    }
    let mut rest = Rest(cell);
    let mut word = rest.word();
    if !word.is_empty() && month_of(word).is_none() {
        // A weekday may stand in front.
        rest.pass(" ,.");
        word = rest.word();
    }
    let written = if word.is_empty() {
        numbers_first(&mut rest)?
    } else {
        let month = month_of(word)?;
        rest.pass(" .-/");
        let (day, _) = rest.number()?;
        rest.pass(" ,.-/");
        let (year, _) = rest.number()?;
        Written::Day(NaiveDate::from_ymd_opt(century(year), month, day)?)
    };
    let before = rest.0.len();
    rest.pass(" ,Tt_");
    if rest.0.is_empty() {
        return Some(Moment {
            written,
            time: None,
        });
    }
    let time = (rest.0.len() < before).then(|| time(rest.0))??;
    Some(Moment {
        written,
        time: Some(time),
    })
}

fn numbers_first(rest: &mut Rest<'_>) -> Option<Written> {
    let (a, digits) = rest.number()?;
    if digits == 8 {
        return NaiveDate::from_ymd_opt((a / 10_000) as i32, a / 100 % 100, a % 100)
            .map(Written::Day);
    }
    let mark = rest.0.chars().next().filter(|c| "-/. ".contains(*c))?;
    rest.pass(" -/.");
    let word = rest.word();
    if !word.is_empty() {
        let month = month_of(word)?;
        rest.pass(" ,-/.");
        let (year, _) = rest.number()?;
        return NaiveDate::from_ymd_opt(century(year), month, a).map(Written::Day);
    }
    let (b, _) = rest.number()?;
    rest.0 = rest.0.strip_prefix(mark)?;
    let (c, last_digits) = rest.number()?;
    if digits == 4 {
        return NaiveDate::from_ymd_opt(a as i32, b, c).map(Written::Day);
    }
    if !matches!(last_digits, 2 | 4) {
        return None;
    }
    let year = century(c);
    let either = Written::Either(a, b, year);
    // Points stand in dates that begin with the day.
    if mark == '.' {
        return either.day(true).map(Written::Day);
    }
    let possible = either.day(true).is_some() || either.day(false).is_some();
    possible.then_some(either)
}

/// A year of two digits is one of this century.
fn century(year: u32) -> i32 {
    let year = i32::try_from(year).unwrap_or(i32::MAX);
    if year < 100 { 2000 + year } else { year }
}

fn unix(cell: &str) -> Option<Moment> {
    let whole = cell.split_once('.').map_or(cell, |(whole, _)| whole);
    if !(9..=13).contains(&whole.len()) || !cell.bytes().all(|b| b.is_ascii_digit() || b == b'.') {
        return None;
    }
    let number: i64 = whole.parse().ok()?;
    let seconds = if whole.len() > 11 {
        number / 1_000
    } else {
        number
    };
    let at = DateTime::from_timestamp(seconds, 0).filter(|_| UNIX_SECONDS.contains(&seconds))?;
    Some(Moment {
        written: Written::Day(at.date_naive()),
        time: Some((seconds.rem_euclid(86_400) as u32, Clock::Utc)),
    })
}

/// A time of day by 24 or by 12 hours, in seconds since midnight.
pub(super) fn time(cell: &str) -> Option<(u32, Clock)> {
    let mut rest = Rest(cell.trim());
    let (mut hour, digits) = rest.number()?;
    rest.0 = rest.0.strip_prefix(':')?;
    let (minute, minute_digits) = rest.number()?;
    let mut second = 0;
    if let Some(after) = rest.0.strip_prefix(':') {
        rest.0 = after;
        second = rest.number()?.0;
        if let Some(after) = rest.0.strip_prefix(['.', ',']) {
            rest.0 = after;
            rest.number()?;
        }
    }
    rest.pass(" ");
    let half = rest.0.to_ascii_lowercase().replace('.', "");
    let after_half = if half.starts_with("am") || half.starts_with("pm") {
        if !(1..=12).contains(&hour) {
            return None;
        }
        hour = hour % 12 + if half.starts_with('p') { 12 } else { 0 };
        half[2..].trim().to_owned()
    } else {
        half
    };
    let clock = match after_half.as_str() {
        "z" | "utc" | "gmt" => Clock::Utc,
        zone if zone.len() <= 12
            && zone
                .chars()
                .all(|c| c.is_ascii_alphanumeric() || "+-: ".contains(c)) =>
        {
            Clock::Local
        }
        _ => return None,
    };
    let possible = digits <= 2 && minute_digits == 2 && minute < 60 && second < 61;
    match hour {
        0..=23 if possible => Some((hour * 3_600 + minute * 60 + second.min(59), clock)),
        // The end of a day, as some write it.
        24 if possible && minute == 0 => Some((86_399, clock)),
        _ => None,
    }
}

/// What is still to be read of a cell.
struct Rest<'a>(&'a str);

impl<'a> Rest<'a> {
    /// Passes over marks.
    fn pass(&mut self, marks: &str) {
        self.0 = self.0.trim_start_matches(|c| marks.contains(c));
    }

    /// Letters; none where something else comes.
    fn word(&mut self) -> &'a str {
        let end = self
            .0
            .find(|c: char| !c.is_alphabetic())
            .unwrap_or(self.0.len());
        let (word, rest) = self.0.split_at(end);
        self.0 = rest;
        word
    }

    /// A whole number of up to nine digits, and how many they are.
    fn number(&mut self) -> Option<(u32, usize)> {
        let end = self.0.bytes().take_while(u8::is_ascii_digit).count();
        let (digits, rest) = self.0.split_at(end);
        self.0 = rest;
        let number = digits.parse().ok().filter(|_| end <= 9)?;
        Some((number, end))
    }
}
