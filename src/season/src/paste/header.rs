//! Which column holds what: by a header in any order, else in the usual order.

use crate::spreadsheet::Row;
use crate::words::{Arg, Say, text};

/// The columns that a table may have.
pub(super) struct Heads {
    /// For each column, the key of the words that may stand above it, the word that we use first.
    pub(super) words: &'static [&'static str],
    /// The order without a header: places in `words`.
    pub(super) usual: &'static [Option<usize>],
}

/// A word as it is compared: small, without marks and double blanks.
pub(super) fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for c in text.chars().flat_map(char::to_lowercase) {
        match c {
            '\'' | '\u{2019}' | '.' | ':' | '(' | ')' => {}
            c if c.is_whitespace() || matches!(c, '_' | '-' | '/') => plain.push(' '),
            c => plain.push(c),
        }
    }
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The columns that a header names; `None` when the line is no header.
pub(super) fn order(heads: &Heads, row: &Row) -> Option<Vec<Option<usize>>> {
    let order: Vec<Option<usize>> = row.cells.iter().map(|cell| column(heads, cell)).collect();
    let named = order.iter().flatten().count();
    let filled = row.cells.iter().filter(|cell| !cell.is_empty()).count();
    // One known word may be a name; two above a table are its header, as is one that stands alone.
    (named >= 2 || (named == 1 && filled == 1)).then_some(order)
}

fn column(heads: &Heads, cell: &str) -> Option<usize> {
    let cell = plain(cell);
    heads.words.iter().position(|key| {
        let mut words = text(key).split(',');
        !cell.is_empty() && words.any(|word| plain(word) == cell)
    })
}

/// A line's cells by their columns.
pub(super) struct Columns<'a> {
    heads: &'static Heads,
    order: &'a [Option<usize>],
    row: &'a Row,
}

impl<'a> Columns<'a> {
    pub(super) fn new(heads: &'static Heads, order: &'a [Option<usize>], row: &'a Row) -> Self {
        Self { heads, order, row }
    }

    /// What stands in a column; empty where there is none.
    pub(super) fn get(&self, column: usize) -> &'a str {
        let at = self.order.iter().position(|of| *of == Some(column));
        at.and_then(|at| self.row.cells.get(at))
            .map_or("", String::as_str)
    }

    /// Reads a column; what is wrong is said with the column's name.
    pub(super) fn read<T>(
        &self,
        column: usize,
        reader: impl FnOnce(&str) -> Result<T, Say>,
    ) -> Result<T, Say> {
        reader(self.get(column)).map_err(|why| {
            let words = self.heads.words.get(column).map_or("", |key| text(key));
            let name = words.split(',').next().unwrap_or_default().trim();
            Say::new("paste.in_column")
                .with("column", name)
                .with("why", Arg::from(why))
        })
    }

    /// As [`Columns::read`], where nothing is an answer too.
    pub(super) fn read_if_any<T>(
        &self,
        column: usize,
        reader: impl FnOnce(&str) -> Result<T, Say>,
    ) -> Result<Option<T>, Say> {
        match self.get(column) {
            "" => Ok(None),
            _ => self.read(column, reader).map(Some),
        }
    }
}
