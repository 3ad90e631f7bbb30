//! Lines pasted from a spreadsheet.

use csv::{ReaderBuilder, StringRecord};

/// Lines that are read at once; more are not a paste.
pub const ROWS_MAX: usize = 1_000;

/// A line of a pasted table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// The line's number in what was pasted, from 1.
    pub number: usize,
    /// As it was pasted.
    pub raw: String,
    /// Its cells, without blanks around them.
    pub cells: Vec<String>,
}

/// Cells of a pasted table, parted by tabs if there are any, else by semicolons, else by commas; quoted as spreadsheets and RFC
/// 4180 do. Lines with nothing in them are passed over, and so is all beyond the first thousand and one.
pub fn read(pasted: &str) -> Vec<Row> {
    // Some programs begin a text with a mark that says how it is coded.
    let pasted = pasted.trim_start_matches('\u{feff}');
    let mark = [b'\t', b';']
        .into_iter()
        .find(|m| pasted.contains(char::from(*m)));
    let mut reader = ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(mark.unwrap_or(b','))
        .from_reader(pasted.as_bytes());
    let (mut rows, mut record) = (Vec::new(), StringRecord::new());
    // What is already a text has no bytes that could not be read.
    while rows.len() <= ROWS_MAX && reader.read_record(&mut record).unwrap_or(false) {
        let from = record.position().map_or(0, |at| at.byte() as usize);
        let to = reader.position().byte() as usize;
        let raw = pasted.get(from..to).unwrap_or_default();
        // The reader's place is after the line before, with any empty lines still to come.
        let skipped = raw.len() - raw.trim_start_matches(['\r', '\n']).len();
        let before = pasted.get(..from + skipped).unwrap_or_default();
        let cells: Vec<String> = record.iter().map(|cell| cell.trim().to_owned()).collect();
        if cells.iter().any(|cell| !cell.is_empty()) {
            rows.push(Row {
                number: before.matches('\n').count() + 1,
                raw: raw.trim_matches(['\r', '\n']).to_owned(),
                cells,
            });
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cells(pasted: &str) -> Vec<Vec<String>> {
        read(pasted).into_iter().map(|row| row.cells).collect()
    }

    #[test]
    fn tabs_go_before_semicolons_and_semicolons_before_commas() {
        for pasted in ["a, b\t2;5", "\u{feff}\"a, b\"\t2;5\r\n\r\n"] {
            assert_eq!(cells(pasted), [["a, b", "2;5"]], "{pasted:?}");
        }
        assert_eq!(cells("a ; 0,8\nb;1"), [["a", "0,8"], ["b", "1"]]);
        assert_eq!(cells("a,b\n,\n c ,d"), [["a", "b"], ["c", "d"]]);
        assert_eq!(cells(" \n\n"), Vec::<Vec<String>>::new());
    }

    #[test]
    fn lines_keep_their_numbers_and_their_text() {
        let rows = read("what,stems\n\n\"white\nspike\",40\r\nfiller , 30\n");
        let said: Vec<_> = rows.iter().map(|r| (r.number, r.raw.as_str())).collect();
        assert_eq!(
            said,
            [
                (1, "what,stems"),
                (3, "\"white\nspike\",40"),
                (5, "filler , 30")
            ]
        );
    }

    #[test]
    fn a_quote_that_never_ends_and_a_paste_that_hardly_does_are_read() {
        assert_eq!(cells("\"a,b\nc"), [["a,b\nc"]]);
        assert_eq!(read(&"a,b\n".repeat(5_000)).len(), ROWS_MAX + 1);
    }
}
