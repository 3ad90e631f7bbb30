//! Dates and weeks.

use agronomy::iso_week::IsoWeek;
use chrono::{Datelike, NaiveDate};

use super::months::month_of;
use crate::limits::YEARS;
use crate::words::Say;

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
            .with("low", YEARS.record.0)
            .with("high", YEARS.record.1))
    }
}

/// A date as spreadsheets write it: `2027-06-12`, `12 June 2027`, `June 12, 2027`, `12.6.2027`, and `6/12/2027` where only one
/// of the two can be the month. A year of two digits is one of this century.
pub fn date_of_sheet(text: &str) -> Result<NaiveDate, Say> {
    if let Ok(date) = date(text) {
        return Ok(date);
    }
    let marks = [' ', ',', '.', '/', '-'];
    let parts: Vec<&str> = text.split(marks).filter(|part| !part.is_empty()).collect();
    let [a, b, year] = parts.as_slice() else {
        return date(text);
    };
    let year = match year.parse::<i32>() {
        Ok(short @ 0..=99) => 2000 + short,
        Ok(year) => year,
        Err(_) => return Err(Say::new("typed.not_date")),
    };
    let number = |part: &str| part.parse::<u32>().ok();
    let (month, day) = match (number(a), number(b)) {
        (Some(day), None) => (month_of(b), day),
        (None, Some(day)) => (month_of(a), day),
        // Points stand in dates that begin with the day; strokes stand in both.
        (Some(day), Some(month)) if text.contains('.') || (day > 12 && month <= 12) => {
            (Some(month), day)
        }
        (Some(month), Some(day)) if day > 12 || day == month => (Some(month), day),
        (Some(_), Some(_)) => return Err(Say::new("typed.day_or_month")),
        (None, None) => (None, 0),
    };
    let month = month.ok_or_else(|| Say::new("typed.not_date"))?;
    // One way of writing it is checked for all that a date may be.
    date(&format!("{year:04}-{month:02}-{day:02}"))
}

/// A week: `2027-W14`, `w14`, `week 14`, `14`, or a date in it. A week without a year is the one nearest to `today`, rather
/// ahead.
pub fn week(text: &str, today: NaiveDate) -> Result<IsoWeek, Say> {
    let text = text.trim().to_ascii_uppercase();
    if text.is_empty() {
        return Err(Say::new("typed.no_week"));
    }
    let text = text.replace("WEEK", "W").replace("WK", "W");
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

/// Weeks back, a quarter of a year, up to which a week without a year still means the one that was.
pub const WEEKS_BACK: i32 = 13;

fn week_ahead(number: u32, today: NaiveDate) -> Option<IsoWeek> {
    let now = IsoWeek::of(today);
    (-1..=2)
        .filter_map(|years| IsoWeek::new(now.year() + years, number).ok())
        .find(|week| now.weeks_until(*week) >= -WEEKS_BACK)
}
