//! What stands in which column.

use super::LoggerError;
use super::moment::{moment, time};
use super::text::part;
use super::unit::{Unit, degrees};
use crate::words::text;

/// Lines that may stand above the readings: names, serial numbers, settings.
const PREAMBLE_LINES: usize = 300;
/// Rows looked at to tell whether a column holds numbers.
const LOOK_ROWS: usize = 40;

/// Where a file's readings stand.
#[derive(Debug)]
pub(super) struct Layout {
    /// What parts the cells.
    pub(super) mark: char,
    /// The first line with a reading, counted among the lines that hold anything.
    pub(super) first: usize,
    /// The column of the day, or of day and time.
    pub(super) day: usize,
    /// The column of the time, where it is one by itself.
    pub(super) time: Option<usize>,
    /// The columns of temperatures with their headings.
    pub(super) temperatures: Vec<(usize, String)>,
    /// Columns that have a heading; none without a header.
    pub(super) headed: Option<usize>,
}

/// Whether one of a key's words stands in a heading as a word of its own, or begins one of its words where it ends with a star.
fn says(heading: &str, key: &str) -> bool {
    let heading = heading.to_lowercase();
    let words: Vec<&str> = heading
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .collect();
    text(key)
        .split(',')
        .map(str::trim)
        .any(|wanted| match wanted.strip_suffix('*') {
            Some(begin) => words.iter().any(|word| word.starts_with(begin)),
            None => words.contains(&wanted),
        })
}

fn is_time_word(heading: &str) -> bool {
    says(heading, "logger.head.time")
}

fn filled(cells: &[&str]) -> usize {
    cells.iter().filter(|cell| !cell.is_empty()).count()
}

/// The columns of day and time in a row of readings; those whose heading says so before others.
fn time_columns(cells: &[&str], header: &[String]) -> Option<(usize, Option<usize>)> {
    let named = |at: &usize| header.get(*at).is_some_and(|heading| is_time_word(heading));
    let pick = |columns: Vec<usize>| {
        columns
            .iter()
            .copied()
            .find(named)
            .or(columns.first().copied())
    };
    let read: Vec<_> = cells.iter().map(|cell| moment(cell)).collect();
    let of = |wanted: fn(&super::moment::Moment) -> bool| {
        let columns = read
            .iter()
            .enumerate()
            .filter(|(_, m)| m.as_ref().is_some_and(wanted));
        columns.map(|(at, _)| at).collect::<Vec<_>>()
    };
    if let Some(whole) = pick(of(|m| m.time.is_some())) {
        return Some((whole, None));
    }
    let day = pick(of(|m| m.time.is_none()))?;
    let clocks = cells
        .iter()
        .enumerate()
        .filter(|(_, cell)| time(cell).is_some())
        .map(|(at, _)| at);
    Some((day, pick(clocks.collect())))
}

/// Finds the readings: by each mark in turn, the first under which a row holds a time and a number.
pub(super) fn find(lines: &[(usize, &str)]) -> Result<Layout, LoggerError> {
    let mut best = LoggerError::NoTime;
    for mark in ['\t', ';', ',', '|'] {
        match by_mark(lines, mark) {
            Ok(layout) => return Ok(layout),
            Err(LoggerError::NoTemperature) => best = LoggerError::NoTemperature,
            Err(_) => {}
        }
    }
    Err(best)
}

/// The headings found so far.
struct Header {
    /// Their line.
    at: usize,
    words: Vec<String>,
    /// Whether one of them says that it is a time.
    sure: bool,
}

fn by_mark(lines: &[(usize, &str)], mark: char) -> Result<Layout, LoggerError> {
    let mut header: Option<Header> = None;
    let mut cells = Vec::new();
    let mut timed = false;
    for (at, (_, line)) in lines.iter().take(PREAMBLE_LINES).enumerate() {
        part(line, mark, &mut cells);
        if cells.len() < 2 {
            continue;
        }
        let heads = header
            .as_ref()
            .map_or(&[][..], |header| header.words.as_slice());
        if let Some((day, clock)) = time_columns(&cells, heads) {
            timed = true;
            let is_reading = |(at, cell): (usize, &&str)| {
                at != day && Some(at) != clock && degrees(cell).is_some()
            };
            if !cells.iter().enumerate().any(is_reading) {
                // A row of an event, without a reading.
                continue;
            }
            let found = temperatures(&lines[at..], mark, heads, (day, clock));
            return if found.is_empty() {
                Err(LoggerError::NoTemperature)
            } else {
                let headed = heads.iter().filter(|head| !head.is_empty()).count();
                Ok(Layout {
                    mark,
                    first: at,
                    day,
                    time: clock,
                    temperatures: found,
                    headed: (headed > 0).then_some(headed),
                })
            };
        }
        let sure = filled(&cells) > 1 && cells.iter().any(|cell| is_time_word(cell));
        match &mut header {
            // A line of units may follow the headings.
            Some(above) if above.sure && !sure => {
                if at == above.at + 1 {
                    for (head, unit) in above.words.iter_mut().zip(&cells) {
                        if Unit::said_in(head).is_none() && Unit::said_in(unit).is_some() {
                            *head = format!("{head} {unit}").trim().to_owned();
                        }
                    }
                }
            }
            _ => {
                let words = cells.iter().map(|cell| (*cell).to_owned()).collect();
                header = Some(Header { at, words, sure });
            }
        }
    }
    Err(if timed {
        LoggerError::NoTemperature
    } else {
        LoggerError::NoTime
    })
}

/// The columns that hold temperatures: those whose headings say so, else all that hold numbers and say nothing else.
fn temperatures(
    rows: &[(usize, &str)],
    mark: char,
    heads: &[String],
    (day, clock): (usize, Option<usize>),
) -> Vec<(usize, String)> {
    let mut numbers: Vec<usize> = Vec::new();
    let mut cells = Vec::new();
    for (_, line) in rows.iter().take(LOOK_ROWS) {
        part(line, mark, &mut cells);
        numbers.resize(numbers.len().max(cells.len()), 0);
        for (count, cell) in numbers.iter_mut().zip(&cells) {
            *count += usize::from(degrees(cell).is_some());
        }
    }
    let heading = |at: usize| heads.get(at).map_or("", String::as_str);
    let hold: Vec<usize> = (0..numbers.len())
        .filter(|at| numbers[*at] > 0 && *at != day && Some(*at) != clock)
        .filter(|at| !says(heading(*at), "logger.head.never"))
        .collect();
    let warm = |at: &usize| {
        says(heading(*at), "logger.head.temperature") || Unit::said_in(heading(*at)).is_some()
    };
    let named: Vec<usize> = hold.iter().copied().filter(warm).collect();
    let other = |at: &usize| {
        let heading = heading(*at);
        let mark_only = !heading.is_empty() && !heading.contains(char::is_alphanumeric);
        mark_only || says(heading, "logger.head.other")
    };
    let columns: Vec<usize> = if named.is_empty() {
        hold.into_iter().filter(|at| !other(at)).collect()
    } else {
        named
    };
    let name = |at: usize| match heading(at) {
        "" => format!("{} {}", text("logger.column"), at + 1),
        heading => heading.to_owned(),
    };
    columns.into_iter().map(|at| (at, name(at))).collect()
}
