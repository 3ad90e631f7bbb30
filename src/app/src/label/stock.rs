//! Sheets that labels are printed on: plain paper to be cut, and label stock, which goes by its measures alone.
//!
//! The measures are those of stock found everywhere (from memory); a sheet's margins follow from its being symmetrical.

/// Millimetres of an inch.
const INCH: f64 = 25.4;

/// The length of a stake's point, mm.
pub const POINT_MM: f64 = 12.0;

/// A paper size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// 210 by 297 mm (ISO 216).
    A4,
    /// 8 1/2 by 11 in.
    Letter,
}

impl Paper {
    /// Width and height, mm.
    pub fn size_mm(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::Letter => (8.5 * INCH, 11.0 * INCH),
        }
    }
}

/// What is printed around a label to cut along.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cut {
    /// Nothing: the stock is cut already.
    Nothing,
    /// Its edges.
    Edges,
    /// Its edges, with a point at the left end to stick into the soil.
    Point,
}

/// One kind of sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stock {
    /// What it goes by in the choice; its words are at `labels.stock.` and this.
    pub name: &'static str,
    /// The key of its words.
    pub words: &'static str,
    /// What it is printed on.
    pub paper: Paper,
    /// Width and height of a label, mm.
    pub label_mm: (f64, f64),
    /// Labels across and down.
    pub grid: (usize, usize),
    /// What lies between two labels, across and down, mm.
    pub gap_mm: (f64, f64),
    /// What is printed to cut along.
    pub cut: Cut,
}

macro_rules! stock {
    ($name:literal, $paper:ident, $label:expr, $grid:expr, $gap:expr, $cut:ident) => {
        Stock {
            name: $name,
            words: concat!("labels.stock.", $name),
            paper: Paper::$paper,
            label_mm: $label,
            grid: $grid,
            gap_mm: $gap,
            cut: Cut::$cut,
        }
    };
}

/// All sheets, plain paper first.
pub const STOCKS: [Stock; 9] = [
    stock!("plain_a4", A4, (85.0, 42.0), (2, 6), (0.0, 0.0), Edges),
    stock!(
        "plain_letter",
        Letter,
        (85.0, 42.0),
        (2, 6),
        (0.0, 0.0),
        Edges
    ),
    stock!("stake_a4", A4, (100.0, 16.0), (2, 17), (0.0, 0.0), Point),
    stock!(
        "stake_letter",
        Letter,
        (100.0, 16.0),
        (2, 16),
        (0.0, 0.0),
        Point
    ),
    stock!("a4_21", A4, (63.5, 38.1), (3, 7), (2.54, 0.0), Nothing),
    stock!("a4_24", A4, (70.0, 37.0), (3, 8), (0.0, 0.0), Nothing),
    stock!("a4_65", A4, (38.1, 21.2), (5, 13), (2.5, 0.0), Nothing),
    stock!(
        "letter_30",
        Letter,
        (2.625 * INCH, INCH),
        (3, 10),
        (0.125 * INCH, 0.0),
        Nothing
    ),
    stock!(
        "letter_80",
        Letter,
        (1.75 * INCH, 0.5 * INCH),
        (4, 20),
        (0.3 * INCH, 0.0),
        Nothing
    ),
];

/// A label in its place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Which of the labels to print, from 0.
    pub label: usize,
    /// From the sheet's left edge, mm.
    pub x_mm: f64,
    /// From the sheet's upper edge, mm.
    pub y_mm: f64,
}

impl Stock {
    /// The one of a name.
    pub fn named(name: &str) -> Option<&'static Self> {
        STOCKS.iter().find(|stock| stock.name == name)
    }

    /// Labels on one sheet.
    pub fn per_sheet(&self) -> usize {
        self.grid.0 * self.grid.1
    }

    /// Left and upper edge of the place of a number, from 0, row by row.
    fn corner(&self, place: usize) -> (f64, f64) {
        let (column, row) = (place % self.grid.0, place / self.grid.0);
        let at = |n: usize, of: usize, label: f64, gap: f64, page: f64| {
            let all = of as f64 * label + (of - 1) as f64 * gap;
            (page - all) / 2.0 + n as f64 * (label + gap)
        };
        let page = self.paper.size_mm();
        (
            at(column, self.grid.0, self.label_mm.0, self.gap_mm.0, page.0),
            at(row, self.grid.1, self.label_mm.1, self.gap_mm.1, page.1),
        )
    }

    /// So many labels on sheets, the first one on the place of number `first` (from 1) of a sheet that is begun already. A number
    /// beyond the sheet is its last place.
    pub fn sheets(&self, labels: usize, first: usize) -> Vec<Vec<Place>> {
        let per_sheet = self.per_sheet();
        let skipped = first.clamp(1, per_sheet) - 1;
        let mut sheets: Vec<Vec<Place>> = Vec::new();
        for label in 0..labels {
            let place = skipped + label;
            let (x_mm, y_mm) = self.corner(place % per_sheet);
            sheets.resize_with(place / per_sheet + 1, Vec::new);
            if let Some(sheet) = sheets.last_mut() {
                sheet.push(Place { label, x_mm, y_mm });
            }
        }
        sheets
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_lie_on_the_page_and_not_on_each_other() {
        for stock in &STOCKS {
            let (wide, high) = stock.paper.size_mm();
            let sheets = stock.sheets(stock.per_sheet(), 1);
            assert_eq!(sheets.len(), 1, "{}", stock.name);
            let (w, h) = stock.label_mm;
            for (n, a) in sheets[0].iter().enumerate() {
                assert!(a.x_mm > -1e-9 && a.x_mm + w < wide + 1e-9, "{}", stock.name);
                assert!(a.y_mm > -1e-9 && a.y_mm + h < high + 1e-9, "{}", stock.name);
                for b in &sheets[0][..n] {
                    let apart =
                        (a.x_mm - b.x_mm).abs() > w - 1e-9 || (a.y_mm - b.y_mm).abs() > h - 1e-9;
                    assert!(apart, "{}: {} on {}", stock.name, a.label, b.label);
                }
            }
            assert!(season::words::has(stock.words), "{}", stock.words);
            assert_eq!(Stock::named(stock.name), Some(stock));
        }
    }

    /// Margins as printed on such stock, mm: 7.2 and 15.1; 0 and 0.5; 4.75 and 10.7; 3/16 and 1/2 in. From memory.
    #[test]
    fn the_first_label_lies_where_the_stock_has_it() {
        for (name, x, y) in [
            ("a4_21", 7.2, 15.1),
            ("a4_24", 0.0, 0.5),
            ("a4_65", 4.75, 10.7),
            ("letter_30", 4.7625, 12.7),
            ("letter_80", 7.62, 12.7),
        ] {
            let place = Stock::named(name).unwrap().sheets(1, 1)[0][0];
            assert!((place.x_mm - x).abs() < 0.1, "{name}: {}", place.x_mm);
            assert!((place.y_mm - y).abs() < 0.1, "{name}: {}", place.y_mm);
        }
    }

    #[test]
    fn a_begun_sheet_is_used_up_first() {
        let stock = Stock::named("a4_21").unwrap();
        let sheets = stock.sheets(5, 19);
        assert_eq!(sheets.iter().map(Vec::len).collect::<Vec<_>>(), [3, 2]);
        assert_eq!(sheets[1][0].label, 3);
        // The third place of the last row, and the first one of the next sheet.
        assert!((sheets[0][2].x_mm - (7.21 + 2.0 * 66.04)).abs() < 0.01);
        assert!((sheets[1][0].x_mm - 7.21).abs() < 0.01);
        assert_eq!(stock.sheets(1, 500)[0].len(), 1);
        assert_eq!(stock.sheets(1, 0), stock.sheets(1, 1));
        assert!(stock.sheets(0, 4).is_empty());
    }
}
