//! Reads the tables that the checks in `tests/` compare the engine with.
//!
//! Every table names its source in its first lines; see also `data/SOURCES.md`.

#![allow(
    clippy::expect_used,
    clippy::panic,
    reason = "a check that cannot read its table must stop"
)]

use std::collections::BTreeMap;
use std::path::Path;

/// One row of a table, by column name.
#[derive(Debug, Clone)]
pub struct Row(BTreeMap<String, String>);

impl Row {
    /// The text in a column.
    ///
    /// # Panics
    /// If the table has no such column.
    pub fn text(&self, column: &str) -> &str {
        self.0
            .get(column)
            .unwrap_or_else(|| panic!("no column {column} in {self:?}"))
    }

    /// The number in a column, or `None` where it is empty.
    ///
    /// # Panics
    /// If the column holds something else.
    pub fn maybe(&self, column: &str) -> Option<f64> {
        let text = self.text(column);
        (!text.is_empty()).then(|| {
            text.parse()
                .unwrap_or_else(|_| panic!("{text:?} in {column} is not a number"))
        })
    }

    /// The number in a column.
    ///
    /// # Panics
    /// If it is empty or holds something else.
    pub fn number(&self, column: &str) -> f64 {
        self.maybe(column)
            .unwrap_or_else(|| panic!("{column} is empty in {self:?}"))
    }

    /// The whole number in a column.
    ///
    /// # Panics
    /// If it is empty or holds something else.
    pub fn count(&self, column: &str) -> u32 {
        self.text(column)
            .parse()
            .unwrap_or_else(|_| panic!("no count in {column} of {self:?}"))
    }
}

/// The rows of a table in `data/`; lines that start with `#` name its source.
///
/// # Panics
/// If the table is missing, damaged or empty.
pub fn table(name: &str) -> Vec<Row> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("data")
        .join(name);
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_path(&path)
        .unwrap_or_else(|error| panic!("{name}: {error}"));
    let rows: Vec<Row> = reader
        .deserialize()
        .map(|row| Row(row.unwrap_or_else(|error| panic!("{name}: {error}"))))
        .collect();
    assert!(!rows.is_empty(), "{name} is empty");
    rows
}

/// Asserts that two numbers agree within a tolerance.
///
/// # Panics
/// If they do not.
pub fn close(got: f64, wanted: f64, tolerance: f64, what: &dyn std::fmt::Debug) {
    assert!(
        (got - wanted).abs() <= tolerance,
        "got {got}, published {wanted}, tolerance {tolerance}: {what:?}"
    );
}
