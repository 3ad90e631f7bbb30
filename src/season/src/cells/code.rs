//! Cells written down: how many of a mark, then its letter, cell after cell: `12u3ed` is twelve up, three empty, one with two.

use core::fmt;

use super::Mark;
use crate::limits::CELLS_MAX;

/// A text that is no map of cells.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NotCells {
    /// A letter that is no mark.
    Letter(char),
    /// A number without a mark after it, or a number that can't be read.
    Number,
    /// More cells than a sowing may have ([`CELLS_MAX`]).
    TooMany,
}

impl fmt::Display for NotCells {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Letter(letter) => write!(f, "no mark of a cell: {letter:?}"),
            Self::Number => write!(f, "a number of cells without their mark"),
            Self::TooMany => write!(f, "more than {CELLS_MAX} cells"),
        }
    }
}

impl core::error::Error for NotCells {}

/// Marks as text.
pub(super) fn write(marks: &[Mark]) -> String {
    let mut text = String::new();
    for run in marks.chunk_by(|a, b| a == b) {
        let Some(mark) = run.first() else { continue };
        if run.len() > 1 {
            text.push_str(&run.len().to_string());
        }
        text.push(mark.letter());
    }
    text
}

/// Marks from text.
///
/// # Errors
/// [`NotCells`] for anything that [`write()`] does not write.
pub(super) fn read(text: &str) -> Result<Vec<Mark>, NotCells> {
    let mut marks = Vec::new();
    let mut number: Option<u32> = None;
    for letter in text.chars() {
        if let Some(digit) = letter.to_digit(10) {
            let more = number
                .unwrap_or(0)
                .checked_mul(10)
                .and_then(|n| n.checked_add(digit))
                .filter(|n| *n <= CELLS_MAX);
            number = Some(more.ok_or(NotCells::TooMany)?);
            continue;
        }
        let mark = Mark::of_letter(letter).ok_or(NotCells::Letter(letter))?;
        let n = match number.take() {
            Some(0) => return Err(NotCells::Number),
            Some(n) => n as usize,
            None => 1,
        };
        if marks.len() + n > CELLS_MAX as usize {
            return Err(NotCells::TooMany);
        }
        marks.resize(marks.len() + n, mark);
    }
    if number.is_some() {
        return Err(NotCells::Number);
    }
    Ok(marks)
}
