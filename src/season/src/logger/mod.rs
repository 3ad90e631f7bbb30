//! Temperatures from the file of a data logger: each day's minimum, maximum and mean, and what is odd about the file.
//!
//! Nothing is converted or chosen on a mere suspicion: where a file reads in two ways, one is proposed and the other asked for.

mod days;
mod error;
mod layout;
mod moment;
mod notice;
mod text;
mod unit;

use chrono::NaiveDate;

pub use error::LoggerError;
pub use unit::{Unit, UnitSaid};

use crate::words::Say;
use layout::Layout;
use moment::{Clock, Written, moment, time};
use unit::{degrees, may_be_celsius};

/// Rows of a file that is read: five acres of probes for a season.
const ROWS_MAX: usize = 2_000_000;
/// Lines that do not read and are named.
const NAMED_MAX: usize = 20;
/// Readings that a thermometer outdoors or under plastic can show, C. Beyond stand the marks of a broken probe.
const POSSIBLE_C: core::ops::RangeInclusive<f64> = -60.0..=60.0;

/// What the grower said about a file. By default the file decides.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Choice {
    /// Which of the columns of temperatures.
    pub column: Option<usize>,
    /// Whether they are degrees Fahrenheit.
    pub fahrenheit: Option<bool>,
    /// Whether the day stands before the month.
    pub day_first: Option<bool>,
    /// The day today: what was read later comes from a clock that is wrong and is left out.
    pub today: Option<NaiveDate>,
}

/// A day's temperatures, rounded to a tenth of a degree.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Day {
    /// Which day, by the logger's own clock.
    pub date: NaiveDate,
    /// Lowest reading, C.
    pub min_c: f64,
    /// Highest reading, C.
    pub max_c: f64,
    /// Mean of the readings, C.
    pub mean_c: f64,
    /// How many readings.
    pub readings: u32,
    /// Whether they cover 18 hours or more. A day that is not whole has its early morning and its afternoon all the same.
    pub whole: bool,
}

/// What a file holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// Days whose lowest and highest are known, in order; none while the scale is doubtful.
    pub days: Vec<Day>,
    /// Days with too few readings in the early morning or the afternoon to know them.
    pub left_out: Vec<NaiveDate>,
    /// The columns of temperatures by their headings.
    pub columns: Vec<String>,
    /// Which of them was read.
    pub column: usize,
    /// Their scale in the file; all that is handed out is Celsius.
    pub unit: Unit,
    /// How the scale is known.
    pub unit_said: UnitSaid,
    /// Whether the dates read both ways, so that the grower has to say whether the day stands first.
    pub day_first_asked: bool,
    /// How they were read: the day before the month.
    pub day_first: bool,
    /// Readings that were taken, repeated ones among them.
    pub rows: usize,
    /// The first twenty lines that did not read, or hold what no thermometer shows.
    pub bad_rows: Vec<usize>,
    /// How many there are of those.
    pub bad: usize,
    /// The usual time between readings, minutes.
    pub interval_minutes: Option<f64>,
    /// What the grower should know, in plain sentences.
    pub notices: Vec<Say>,
}

/// A row as it is written: line, day, seconds since midnight, number.
type Row = (usize, Written, u32, f64);

/// What came of the rows.
#[derive(Debug, Default)]
struct Rows {
    rows: Vec<Row>,
    /// Lines that did not read.
    bad: Vec<usize>,
    /// Rows with a time and no reading, which mark an event.
    empty: usize,
    utc: bool,
}

/// Reads a file.
///
/// # Errors
/// [`LoggerError`] where no day can come of it, in plain words by [`LoggerError::say`].
pub fn read(bytes: &[u8], choice: &Choice) -> Result<Reading, LoggerError> {
    let text = text::decoded(bytes)?;
    let lines: Vec<(usize, &str)> = text::lines(&text).take(ROWS_MAX + 1).collect();
    if lines.len() > ROWS_MAX {
        return Err(LoggerError::TooLarge);
    }
    let layout = layout::find(&lines)?;
    let column = choice
        .column
        .filter(|n| *n < layout.temperatures.len())
        .unwrap_or(0);
    let (at, heading) = layout
        .temperatures
        .get(column)
        .ok_or(LoggerError::NoTemperature)?;
    let preamble = lines.get(..layout.first).unwrap_or_default();
    let rows = rows_of(lines.get(layout.first..).unwrap_or_default(), &layout, *at)?;

    let (day_first, day_first_asked) = order_of_dates(&rows.rows, choice.day_first);
    let (unit, unit_said) = scale(heading, preamble, &rows.rows, choice.fahrenheit);
    let mut bad = rows.bad;
    let (mut ahead, mut readings) = (0, Vec::with_capacity(rows.rows.len()));
    let doubtful = unit_said == UnitSaid::Doubtful;
    // While it is not known whose degrees they are, what either scale can show is no fault of the file.
    let possible = |n: f64| {
        POSSIBLE_C.contains(&unit.celsius(n))
            || doubtful && POSSIBLE_C.contains(&Unit::Fahrenheit.celsius(n))
    };
    for (line, written, seconds, number) in &rows.rows {
        match written.day(day_first) {
            Some(day) if choice.today.is_some_and(|today| day > today) => ahead += 1,
            Some(day) if possible(*number) => readings.push((day, *seconds, unit.celsius(*number))),
            _ => bad.push(*line),
        }
    }
    if readings.is_empty() && ahead == 0 {
        return Err(LoggerError::NoRow);
    }
    bad.sort_unstable();
    let read = readings.len();
    let mut days = days::of(readings);
    if doubtful {
        days.days.clear();
        days.left_out.clear();
    }
    if days
        .interval_minutes
        .is_some_and(|minutes| minutes > days::SELDOM_MINUTES)
    {
        return Err(LoggerError::TooSeldom);
    }
    let mut reading = Reading {
        columns: layout
            .temperatures
            .iter()
            .map(|(_, name)| name.clone())
            .collect(),
        column,
        unit,
        unit_said,
        day_first_asked,
        day_first,
        rows: read,
        bad: bad.len(),
        bad_rows: bad.into_iter().take(NAMED_MAX).collect(),
        interval_minutes: days.interval_minutes,
        days: days.days,
        left_out: days.left_out,
        notices: Vec::new(),
    };
    reading.notices = notice::of(
        &reading,
        &notice::Odd {
            repeats: days.repeats,
            unordered: days.unordered,
            empty: rows.empty,
            ahead,
            utc: rows.utc,
        },
    );
    Ok(reading)
}

fn rows_of(lines: &[(usize, &str)], layout: &Layout, column: usize) -> Result<Rows, LoggerError> {
    let mut all = Rows::default();
    let (mut cells, mut wide) = (Vec::new(), 0);
    let mut dated = false;
    for (number, line) in lines {
        text::part(line, layout.mark, &mut cells);
        let filled = cells.iter().filter(|cell| !cell.is_empty()).count();
        wide += usize::from(layout.headed.is_some_and(|headed| filled > headed));
        let cell = |at: usize| cells.get(at).copied().unwrap_or_default();
        let at = moment(cell(layout.day));
        let clock = match layout.time {
            Some(column) => time(cell(column)),
            None => at.and_then(|at| at.time),
        };
        let value = cell(column);
        dated |= at.is_some();
        match (at, clock, degrees(value)) {
            (Some(at), Some((seconds, clock)), Some(degrees)) => {
                all.utc |= clock == Clock::Utc;
                all.rows.push((*number, at.written, seconds, degrees));
            }
            (Some(_), Some(_), None) if value.is_empty() => all.empty += 1,
            _ => all.bad.push(*number),
        }
    }
    if wide * 2 > lines.len() {
        return Err(LoggerError::MoreCells);
    }
    match all.rows.is_empty() {
        true if dated && layout.time.is_none() => Err(LoggerError::NoTimeOfDay),
        true => Err(LoggerError::NoRow),
        false => Ok(all),
    }
}

/// Whether the day stands before the month, and whether that has to be asked. All rows together decide; where they read both ways,
/// the reading is proposed under which the file spans less time.
fn order_of_dates(rows: &[Row], told: Option<bool>) -> (bool, bool) {
    let read = |day_first: bool| {
        let days = rows
            .iter()
            .map(move |(_, written, ..)| written.day(day_first));
        let (mut not, mut first, mut last) = (0_usize, None, None);
        for day in days {
            match day {
                Some(day) => {
                    first = Some(first.map_or(day, |first: NaiveDate| first.min(day)));
                    last = Some(last.map_or(day, |last: NaiveDate| last.max(day)));
                }
                None => not += 1,
            }
        }
        let span = first
            .zip(last)
            .map_or(i64::MAX, |(first, last)| (last - first).num_days());
        (not, span)
    };
    if let Some(told) = told {
        return (told, false);
    }
    let same = |written: &Written| written.day(true) == written.day(false);
    if rows.iter().all(|(_, written, ..)| same(written)) {
        return (true, false);
    }
    let (day, month) = (read(true), read(false));
    (day <= month, day.0 == 0 && month.0 == 0)
}

/// The scale and how it is known: told, by the heading, by the lines above the table, else Celsius if it can be.
fn scale(
    heading: &str,
    preamble: &[(usize, &str)],
    rows: &[Row],
    told: Option<bool>,
) -> (Unit, UnitSaid) {
    if let Some(fahrenheit) = told {
        let unit = if fahrenheit {
            Unit::Fahrenheit
        } else {
            Unit::Celsius
        };
        return (unit, UnitSaid::Told);
    }
    let mut sorted: Vec<f64> = rows.iter().map(|row| row.3).collect();
    sorted.sort_by(f64::total_cmp);
    let said = Unit::said_in(heading).or_else(|| {
        let mut settings = preamble.iter().filter_map(|(_, line)| Unit::said_in(line));
        let first = settings.next()?;
        settings.all(|next| next == first).then_some(first)
    });
    match said {
        Some(Unit::Fahrenheit) => (Unit::Fahrenheit, UnitSaid::Header),
        _ if !may_be_celsius(&sorted) => (Unit::Celsius, UnitSaid::Doubtful),
        Some(Unit::Celsius) => (Unit::Celsius, UnitSaid::Header),
        None => (Unit::Celsius, UnitSaid::Assumed),
    }
}

#[cfg(test)]
mod tests;
