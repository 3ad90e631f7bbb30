//! A program in free-format MPS, the exchange format of mixed-integer programs: names without spaces, one
//! item a line, integer columns between markers.

use core::fmt::Write as _;

use crate::model::Model;

/// The program as an MPS file.
pub fn mps(model: &Model) -> String {
    let mut by_column: Vec<Vec<(usize, f64)>> = vec![Vec::new(); model.columns.len()];
    for (row, content) in model.rows.iter().enumerate() {
        for (column, factor) in &content.terms {
            if let Some(column) = by_column.get_mut(*column) {
                column.push((row, *factor));
            }
        }
    }
    let mut text = String::from("NAME plan\nROWS\n N cost\n");
    // Writing to a string cannot fail.
    for (n, row) in model.rows.iter().enumerate() {
        let kind = if row.at_least { 'G' } else { 'L' };
        let _ = writeln!(text, " {kind} r{n}");
    }
    text.push_str("COLUMNS\n");
    let mut whole = false;
    for (n, column) in model.columns.iter().enumerate() {
        if column.whole != whole {
            whole = column.whole;
            let what = if whole { "INTORG" } else { "INTEND" };
            let _ = writeln!(text, " m{n} 'MARKER' '{what}'");
        }
        let _ = writeln!(text, " c{n} cost {}", column.cost);
        for (row, factor) in by_column.get(n).into_iter().flatten() {
            let _ = writeln!(text, " c{n} r{row} {factor}");
        }
    }
    if whole {
        let _ = writeln!(text, " mend 'MARKER' 'INTEND'");
    }
    text.push_str("RHS\n");
    for (n, row) in model.rows.iter().enumerate() {
        let _ = writeln!(text, " b r{n} {}", row.bound);
    }
    text.push_str("BOUNDS\n");
    for (n, column) in model.columns.iter().enumerate() {
        let _ = writeln!(text, " UP u c{n} {}", column.upper);
    }
    text.push_str("ENDATA\n");
    text
}
