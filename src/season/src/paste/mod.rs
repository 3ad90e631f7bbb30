//! Targets and orders pasted from a spreadsheet: each line read back, or what is wrong with it in a sentence. Nothing is
//! recorded here.

mod header;
mod orders;
mod targets;
mod wish;

pub use orders::{OrderPart, OrderRow, OrderTogether, orders, together};
pub use targets::{TargetRow, targets};
pub use wish::wish;

use crate::almanac::Almanac;
use crate::check::{Weight, check};
use crate::fact::Fact;
use crate::spreadsheet::{self, ROWS_MAX, Row};
use crate::words::Say;
use chrono::NaiveDate;

use header::{Columns, Heads};

/// A pasted line.
#[derive(Debug, Clone, PartialEq)]
pub struct Line<T> {
    /// Its number, from 1.
    pub number: usize,
    /// As it was pasted.
    pub raw: String,
    /// What it says, or why it does not read.
    pub read: Result<T, Say>,
    /// What is unlikely about it.
    pub asks: Vec<Say>,
}

/// A pasted table.
#[derive(Debug, Clone, PartialEq)]
pub struct Pasted<T> {
    /// Its header as it was pasted, if it has one.
    pub header: Option<String>,
    /// Its lines.
    pub lines: Vec<Line<T>>,
}

impl<T> Pasted<T> {
    /// What reads.
    pub fn rows(&self) -> impl Iterator<Item = &T> {
        self.lines.iter().filter_map(|line| line.read.as_ref().ok())
    }

    /// How many lines don't read.
    pub fn problems(&self) -> usize {
        self.lines.iter().filter(|line| line.read.is_err()).count()
    }

    /// The lines that don't read as they were pasted, below their header: what is left to mend.
    pub fn left_over(&self) -> String {
        let bad = self.lines.iter().filter(|line| line.read.is_err());
        let lines: Vec<&str> = bad.map(|line| line.raw.as_str()).collect();
        let header = self.header.as_deref().filter(|_| !lines.is_empty());
        header
            .into_iter()
            .chain(lines)
            .collect::<Vec<_>>()
            .join("\n")
    }
}

/// What a line's reading may lean on.
struct Desk<'a, 'b> {
    almanac: &'a Almanac<'b>,
    today: NaiveDate,
}

/// Reads a table line by line.
fn lines<T>(
    pasted: &str,
    heads: &'static Heads,
    desk: &Desk<'_, '_>,
    read: impl Fn(&Desk<'_, '_>, &Columns<'_>) -> Result<T, Say>,
    fact: impl Fn(&T) -> Fact,
) -> Pasted<T> {
    let rows = spreadsheet::read(pasted);
    let order = rows.first().and_then(|row| header::order(heads, row));
    let header = order.as_ref().and(rows.first()).map(|row| row.raw.clone());
    let order = order.unwrap_or_else(|| heads.usual.to_vec());
    let skipped = usize::from(header.is_some());
    let lines = rows
        .iter()
        .skip(skipped)
        .enumerate()
        .map(|(nth, row)| {
            if nth >= ROWS_MAX - skipped {
                let why = Say::new("paste.many").with("most", ROWS_MAX);
                return line(row, Err(why), Vec::new());
            }
            match read(desk, &Columns::new(heads, &order, row)) {
                Ok(value) => checked(desk, row, value, &fact),
                Err(why) => line(row, Err(why), Vec::new()),
            }
        })
        .collect();
    Pasted { header, lines }
}

fn line<T>(row: &Row, read: Result<T, Say>, asks: Vec<Say>) -> Line<T> {
    Line {
        number: row.number,
        raw: row.raw.clone(),
        read,
        asks,
    }
}

/// A line held against the same checks as a form.
fn checked<T>(desk: &Desk<'_, '_>, row: &Row, value: T, fact: impl Fn(&T) -> Fact) -> Line<T> {
    let objections = check(desk.almanac, &fact(&value), desk.today);
    // The weightiest stands first.
    match objections.first() {
        Some(first) if first.weight == Weight::Refuse => {
            line(row, Err(first.say.clone()), Vec::new())
        }
        _ => {
            let asks = objections.into_iter().map(|objection| objection.say);
            line(row, Ok(value), asks.collect())
        }
    }
}

#[cfg(test)]
mod tests;
