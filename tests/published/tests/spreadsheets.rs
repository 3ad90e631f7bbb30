//! Reading and writing spreadsheet tables, compared with published ones.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use season::spreadsheet::{as_plain_text, read, write};
use serde_json::Value;

/// Source: csv-spectrum 2.0.0, and RFC 4180, section 2; see `data/SOURCES.md`.
const TABLES: &str = include_str!("../data/csv_tables.json");

type Table = (String, String, Vec<Vec<String>>);

fn tables() -> Vec<Table> {
    let all: Vec<Value> = serde_json::from_str(TABLES).unwrap();
    let text = |value: &Value| value.as_str().unwrap().to_owned();
    let cells = |row: &Value| row.as_array().unwrap().iter().map(text).collect();
    all.iter()
        .map(|table| {
            let rows = table["rows"].as_array().unwrap().iter().map(cells);
            (text(&table["name"]), text(&table["text"]), rows.collect())
        })
        .collect()
}

/// Spaces around pasted cells are removed; a line of only empty cells would be skipped, but there is none.
#[test]
fn published_tables_are_read_correctly() {
    let tables = tables();
    assert_eq!(tables.len(), 17);
    for (name, text, rows) in tables {
        let trimmed: Vec<Vec<String>> = rows
            .iter()
            .map(|row| row.iter().map(|cell| cell.trim().to_owned()).collect())
            .collect();
        let found: Vec<Vec<String>> = read(&text).into_iter().map(|row| row.cells).collect();
        // A tab in a cell makes it a tab-separated table: no spreadsheet copies commas together with tabs.
        if !text.contains('\t') {
            assert_eq!(found, trimmed, "{name}");
        }
    }
}

/// An independent reader reads back what we write, cell by cell; only what a spreadsheet might evaluate gets
/// an apostrophe.
#[test]
fn written_tables_round_trip_by_rfc_4180() {
    let mut guarded = 0;
    for (name, _, rows) in tables() {
        let written = write(rows.clone());
        assert!(written.ends_with("\r\n"), "{name}");
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .from_reader(written.as_bytes());
        let back: Vec<Vec<String>> = reader
            .records()
            .map(|record| record.unwrap().iter().map(str::to_owned).collect())
            .collect();
        let expected: Vec<Vec<String>> = rows
            .iter()
            .map(|row| row.iter().map(|cell| as_plain_text(cell)).collect())
            .collect();
        assert_eq!(back, expected, "{name}");
        for (cell, was) in back.iter().flatten().zip(rows.iter().flatten()) {
            assert!(
                !cell.starts_with(['=', '+', '-', '@', '\t', '\r']),
                "{name}: {cell}"
            );
            guarded += usize::from(cell != was);
        }
    }
    assert_eq!(guarded, 5, "=1+1, +1, -1, @x and a tab before =1");
    let lines = [vec![
        "a\"b".to_owned(),
        "c\r\nd".into(),
        "e,f".into(),
        String::new(),
    ]];
    assert_eq!(write(lines), "\"a\"\"b\",\"c\r\nd\",\"e,f\",\r\n");
}
