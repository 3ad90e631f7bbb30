//! What goes where on one label: the number large, the name below it, then what else there is room for, and the code at the right.

use super::stock::{Cut, POINT_MM, Stock};
use super::told::LabelText;
use super::type_width::{broken, fitted, width};

/// Clear of the edge, mm: a sheet lies off by as much in a printer.
const EDGE_MM: f64 = 1.0;
/// The largest code, mm; more helps no camera.
const CODE_MOST_MM: f64 = 30.0;
/// The share of a label's width that the code may take.
const CODE_SHARE: f64 = 0.45;
/// Sizes of type, mm: below the first it can't be read at arm's length.
const TYPE_MM: (f64, f64) = (1.8, 4.2);
/// Sizes of the number, mm.
const NUMBER_MM: (f64, f64) = (3.2, 12.0);
/// Height of capitals and digits over the size of their type.
const CAPITALS: f64 = 0.72;
/// From line to line over the size of the type.
const LEADING: f64 = 1.2;

/// A line of type.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// What it says.
    pub text: String,
    /// Its left end, mm.
    pub x_mm: f64,
    /// The line that letters stand on, mm from above.
    pub y_mm: f64,
    /// Size of its type, mm.
    pub size_mm: f64,
    /// In strong type.
    pub strong: bool,
}

/// A square on a label.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Square {
    /// Its left edge, mm.
    pub x_mm: f64,
    /// Its upper edge, mm.
    pub y_mm: f64,
    /// Its side, mm.
    pub side_mm: f64,
}

/// A label laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct Composition {
    /// From above.
    pub lines: Vec<Line>,
    /// Where the code goes, its light border included.
    pub code: Square,
}

/// Where the code goes on a label of a kind of sheet.
pub fn code_square(stock: &Stock) -> Square {
    let (wide, high) = stock.label_mm;
    let side_mm = (high - 2.0 * EDGE_MM)
        .min((wide - inset(stock)) * CODE_SHARE)
        .min(CODE_MOST_MM);
    Square {
        x_mm: wide - EDGE_MM - side_mm,
        y_mm: (high - side_mm) / 2.0,
        side_mm,
    }
}

/// A stake's point stands in the soil.
fn inset(stock: &Stock) -> f64 {
    match stock.cut {
        Cut::Point => POINT_MM,
        Cut::Edges | Cut::Nothing => 0.0,
    }
}

/// Lays out a label. What there is no room for at a readable size is left out, the last first.
pub fn compose(text: &LabelText, stock: &Stock) -> Composition {
    let code = code_square(stock);
    let high = stock.label_mm.1;
    let pad = if high < 15.0 { EDGE_MM } else { 2.0 * EDGE_MM };
    let left = inset(stock) + pad;
    let room = (code.x_mm - left).max(0.0);
    let mut lines = Vec::new();
    let mut notes: Vec<&str> = text.notes.iter().map(String::as_str).collect();
    let mut top = pad;
    if let Some(number) = &text.number {
        let wide = width(number, true);
        let size = (high * 0.3)
            .clamp(NUMBER_MM.0, NUMBER_MM.1)
            .min(room / wide.max(0.1));
        top += size * CAPITALS;
        lines.push(line(number, left, top, size, true));
        // Beside the number where there is room, else the first of the notes.
        if let Some(part) = &text.part {
            let small = (size * 0.45).clamp(TYPE_MM.0, TYPE_MM.1);
            let x = left + (wide + 0.3) * size;
            if x + width(part, false) * small <= left + room {
                lines.push(line(part, x, top, small, false));
            } else {
                notes.insert(0, part);
            }
        }
        top += size * 0.2;
    } else if let Some(part) = &text.part {
        notes.insert(0, part);
    }
    let rest = (high - pad - top).max(0.0);
    let wanted = notes.len() + 1;
    let size = (high * 0.11)
        .clamp(TYPE_MM.0, TYPE_MM.1)
        .min((rest / (LEADING * wanted as f64)).max(TYPE_MM.0));
    let fit = ((rest / (size * LEADING) + 1e-9) as usize).max(1);
    let name_lines = fit.saturating_sub(notes.len()).clamp(1, 2);
    let name = broken(&text.name, size, true, room, name_lines);
    let notes = notes.iter().map(|note| fitted(note, size, false, room));
    let strong = name.len();
    for (n, text) in name.into_iter().chain(notes).take(fit).enumerate() {
        top += size * LEADING;
        // Letters that hang below the line stay within its share.
        lines.push(line(&text, left, top - size * 0.25, size, n < strong));
    }
    Composition { lines, code }
}

fn line(text: &str, x_mm: f64, y_mm: f64, size_mm: f64, strong: bool) -> Line {
    Line {
        text: text.to_owned(),
        x_mm,
        y_mm,
        size_mm,
        strong,
    }
}

#[cfg(test)]
mod tests {
    use super::super::stock::STOCKS;
    use super::*;

    fn text(number: Option<&str>, part: Option<&str>) -> LabelText {
        LabelText {
            number: number.map(Into::into),
            part: part.map(Into::into),
            name: "Early spike, snapdragon, white, group 1".into(),
            notes: vec![
                "Sown Fri 15 Jan 2027".into(),
                "60 soil blocks".into(),
                "Lot A 7 2027".into(),
                "Plant out by Sat 20 Mar".into(),
            ],
        }
    }

    #[test]
    fn type_and_code_lie_on_the_label_and_not_on_each_other() {
        for stock in &STOCKS {
            for text in [
                text(Some("9999"), Some("tray 12 of 13")),
                text(Some("4"), None),
                text(None, Some("tray 2 of 3")),
            ] {
                let laid = compose(&text, stock);
                let (wide, high) = stock.label_mm;
                let code = laid.code;
                assert!(code.x_mm > 0.0 && code.x_mm + code.side_mm <= wide - 0.99);
                assert!(code.y_mm > 0.99 && code.y_mm + code.side_mm <= high - 0.99);
                let mut below = 0.0;
                for line in &laid.lines {
                    let end = line.x_mm + width(&line.text, line.strong) * line.size_mm;
                    assert!(end <= code.x_mm + 1e-9, "{}: {line:?}", stock.name);
                    assert!(line.y_mm + 0.25 * line.size_mm <= high, "{line:?}");
                    assert!(line.size_mm >= TYPE_MM.0 - 1e-9, "{line:?}");
                    // Beside the number, or clear below what stands above.
                    let above = line.y_mm - CAPITALS * line.size_mm;
                    let beside = line.x_mm > inset(stock) + 2.0 * EDGE_MM + 1e-9;
                    assert!(beside || above >= below - 1e-9, "{}: {line:?}", stock.name);
                    below = f64::max(below, line.y_mm);
                }
            }
        }
    }

    #[test]
    fn every_label_says_the_number_and_the_name_and_a_large_one_says_all() {
        for stock in &STOCKS {
            let laid = compose(&text(Some("41"), None), stock);
            assert_eq!(laid.lines[0].text, "41");
            assert!(laid.lines[1].text.starts_with("Early"), "{}", stock.name);
            assert!(laid.lines[0].size_mm > 1.5 * laid.lines[1].size_mm);
        }
        let large = compose(&text(Some("41"), Some("tray 2 of 3")), &STOCKS[0]);
        let said: Vec<&str> = large.lines.iter().map(|l| l.text.as_str()).collect();
        assert_eq!(said[1], "tray 2 of 3");
        assert_eq!(
            &said[said.len() - 4..],
            [
                "Sown Fri 15 Jan 2027",
                "60 soil blocks",
                "Lot A 7 2027",
                "Plant out by Sat 20 Mar"
            ]
        );
    }
}
