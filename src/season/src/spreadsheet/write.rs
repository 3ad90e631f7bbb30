//! Tables as comma-separated values: RFC 4180, UTF-8, lines ended by CR LF, a field quoted where it must be.
//!
//! A spreadsheet takes a cell that begins with `=`, `+`, `-`, `@`, a tab or a carriage return for a formula, and a name may
//! come from anybody's file: such a cell gets an apostrophe before it, which spreadsheets take as "this is text". RFC 4180 is
//! silent on it.

/// Beginnings that a spreadsheet may take for a formula.
const FORMULA_BEGINS: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];

/// A cell that no spreadsheet takes for a formula.
pub fn as_plain_text(cell: &str) -> String {
    if cell.starts_with(FORMULA_BEGINS) {
        format!("'{cell}")
    } else {
        cell.to_owned()
    }
}

/// A table with its header. Every cell is text that a spreadsheet won't compute; rows may differ in length.
pub fn write<R, C>(rows: R) -> String
where
    R: IntoIterator<Item = C>,
    C: IntoIterator<Item = String>,
{
    let mut writer = csv::WriterBuilder::new()
        .flexible(true)
        .terminator(csv::Terminator::CRLF)
        .from_writer(Vec::new());
    for row in rows {
        let cells = row.into_iter().map(|cell| as_plain_text(&cell));
        // Writing to memory does not fail.
        let _written = writer.write_record(cells.collect::<Vec<_>>());
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8(bytes).unwrap_or_default()
}
