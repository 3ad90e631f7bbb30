//! A bed as a strip: where its plantings lie, in percent of its length, and how many rows each has.

use agronomy::quantity::Metres;
use agronomy::spacing::rows_across;
use season::almanac::Almanac;
use season::bed_layout::BedLayout;
use season::ids::PlantingId;
use season::space::spacing_cm;
use season::state::{Bed, Planting};

/// Height of the strip, px.
pub const HEIGHT: f64 = 60.0;
/// Rows that are drawn at most.
const ROWS_MAX: u32 = 6;
/// Rows of a bed whose width is not said.
const ROWS_USUAL: u32 = 4;

/// What the rows look like.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// Growing.
    Growing,
    /// Stems are cut.
    Bloom,
}

impl Look {
    /// The class of its rows.
    pub fn class(self) -> &'static str {
        match self {
            Self::Growing => "bed__row",
            Self::Bloom => "bed__row bed__row--bloom",
        }
    }
}

/// One planting's part of the strip.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Which planting.
    pub planting: PlantingId,
    /// Its letter.
    pub letter: String,
    /// Where it begins, percent.
    pub from: f64,
    /// How long it is, percent.
    pub long: f64,
    /// Heights of its rows, px.
    pub rows: Vec<f64>,
    /// What the rows look like.
    pub look: Look,
}

/// A planting's letter: A to Z, then AA, AB and on.
pub fn letter(n: usize) -> String {
    let one = |n: usize| char::from(b'A' + (n % 26) as u8);
    match n / 26 {
        0 => one(n).to_string(),
        more => format!("{}{}", one(more - 1), one(n)),
    }
}

/// Rows of a planting across its bed.
pub fn rows(almanac: &Almanac<'_>, bed: &Bed, planting: &Planting) -> u32 {
    let spacing = planting
        .spacing_cm
        .unwrap_or_else(|| spacing_cm(almanac, &planting.variety));
    bed.width_m
        .map(|width| rows_across(Metres(width), Metres(spacing / 100.0)))
        .filter(|rows| *rows > 0)
        .unwrap_or(ROWS_USUAL)
}

/// Heights of so many rows, spread over the strip.
pub fn heights(rows: u32) -> Vec<f64> {
    let rows = rows.clamp(1, ROWS_MAX);
    let apart = HEIGHT / f64::from(rows);
    (0..rows).map(|n| apart * (f64::from(n) + 0.5)).collect()
}

/// A layout drawn. What lies beyond the bed's end makes the drawing longer than the bed.
pub fn pieces(
    layout: &BedLayout,
    mut of: impl FnMut(&PlantingId) -> (String, u32, Look),
) -> Vec<Piece> {
    let drawn = layout.length_m + layout.over_m();
    let part = |metres: f64| {
        if drawn > 0.0 {
            metres / drawn * 100.0
        } else {
            0.0
        }
    };
    layout
        .stretches
        .iter()
        .map(|stretch| {
            let (letter, rows, look) = of(&stretch.planting);
            Piece {
                planting: stretch.planting.clone(),
                letter,
                from: part(stretch.from_m),
                long: part(stretch.to_m - stretch.from_m),
                rows: heights(rows),
                look,
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use season::bed_layout::Stretch;

    fn stretch(id: &str, from_m: f64, to_m: f64) -> Stretch {
        Stretch {
            planting: PlantingId::new(id).unwrap(),
            from_m,
            to_m,
        }
    }

    #[test]
    fn letters_go_on_after_z() {
        let told: Vec<String> = [0, 25, 26, 27, 52].map(letter).into();
        assert_eq!(told, ["A", "Z", "AA", "AB", "BA"]);
    }

    #[test]
    fn rows_stay_inside_the_strip() {
        assert_eq!(heights(0).len(), 1);
        assert_eq!(heights(40).len(), 6);
        assert!(heights(5).iter().all(|y| *y > 0.0 && *y < HEIGHT));
    }

    #[test]
    fn an_overfull_bed_is_drawn_with_what_hangs_over() {
        let layout = BedLayout {
            length_m: 3.0,
            stretches: vec![stretch("a", 0.0, 2.0), stretch("b", 2.0, 4.0)],
        };
        let pieces = pieces(&layout, |_| ("A".into(), 5, Look::Growing));
        assert!((pieces[0].long - 50.0).abs() < 1e-9);
        assert!((pieces[1].from + pieces[1].long - 100.0).abs() < 1e-9);
    }
}
