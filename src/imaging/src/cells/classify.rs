//! Which cells have seedlings.
//!
//! A blob belongs to the cell where most of it is, so a leaf that leans over a wall is its own cell's. Only where a good part of it is
//! about the middle of another cell, too, are both taken as up: two seedlings whose leaves touch. Where the lines are was set on drawn
//! trays (`tests/imaging`).

use crate::blob::{Blob, Piece, Usual};
use crate::green::Level;
use crate::seen::{Cell, Seen};

/// Share of a usual seedling's area in a neighbour's cell that makes a seedling of its own.
const OWN: f64 = 0.5;
/// How far from a cell's middle, in cells' sides, its own seedling's green lies at most.
const MIDDLE: f64 = 0.25;
/// Share of a usual seedling's area below which a blob is a speck.
const LEAST: f64 = 0.12;
/// Excess green above the mix's from which a seedling is as sure as can be.
const PLAIN: f64 = 0.1;
/// Least share of a usual seedling's contrast in a cell with a film.
const IN_FILM: f64 = 0.75;
/// Share of the way from mix to green from which the greenest of an empty cell makes it less sure.
const HINT: f64 = 0.6;
/// Least excess green above the mix's of a seedling, all its pixels together, for each pixel of a cell.
const FAINT: f64 = 0.0007;
/// Share of a usual seedling's area up to which a blob at the wall may be the tip of a leaf from next door.
const TIP: f64 = 0.35;
/// Share of such a blob that lies away from the wall where it is a seedling.
const TIP_INNER: f64 = 0.5;
/// The same of any blob: walls that look green in a lamp's light lie along themselves.
const INNER: f64 = 0.2;
/// Share of a usual seedling's area from which a second blob is a second seedling.
const SECOND: f64 = 0.4;
/// Share of a usual seedling's area from which one is as sure as can be.
const SURE: f64 = 0.4;

/// What there is to judge a tray's cells by.
#[derive(Debug, Clone, Copy)]
pub struct Evidence<'a> {
    /// Cells in a row.
    pub columns: usize,
    /// Pixels along a cell's side.
    pub cell_px: usize,
    /// Patches of green.
    pub blobs: &'a [Blob],
    /// What is green.
    pub level: &'a Level,
    /// The excess of green that the greenest hundredth of each cell passes.
    pub hints: &'a [f64],
    /// The share of each cell that is hidden by glare.
    pub hidden: &'a [f64],
    /// Whether there is a film in each cell.
    pub filmed: &'a [bool],
}

#[derive(Debug, Clone, Copy, Default)]
struct Tally {
    /// Blobs at home here that are large enough to be one seedling each.
    seedlings: u32,
    /// How sure the best of what is here is; none without any.
    best: Option<f64>,
    /// Green that was not taken as a seedling, in usual seedlings.
    rest: f64,
}

/// Judges each cell.
pub fn judge(evidence: &Evidence<'_>) -> Vec<Cell> {
    let cell_area = (evidence.cell_px * evidence.cell_px) as f64;
    let outside = |blob: &&Blob| blob.home().is_none_or(|cell| !evidence.filmed[cell]);
    let unfilmed = evidence.blobs.iter().filter(outside);
    let usual = Usual::of(unfilmed, evidence.level.mix, cell_area)
        .or_else(|| Usual::of(evidence.blobs.iter(), evidence.level.mix, cell_area))
        .unwrap_or_default();
    let mut tallies = vec![Tally::default(); evidence.hidden.len()];
    for blob in evidence.blobs {
        let contrast = (blob.mean_excess() - evidence.level.mix) / PLAIN.max(0.5 * usual.contrast);
        let strength = |area: f64| (area / (SURE * usual.area)).min(contrast).clamp(0.0, 1.0);
        for (order, piece) in blob.pieces.iter().enumerate() {
            let tally = &mut tallies[piece.cell];
            let size = piece.area as f64 / usual.area;
            let sure = if order == 0 && is_seedling(evidence, &usual, blob, piece) {
                if blob.area as f64 >= SECOND * usual.area {
                    tally.seedlings += 1;
                }
                Some(0.5 + 0.5 * strength(blob.area as f64))
            } else if order > 0 && size >= OWN && is_about_middle(evidence, piece) {
                Some(0.5 + 0.3 * strength(piece.area as f64))
            } else {
                None
            };
            match sure {
                Some(sure) => tally.best = Some(tally.best.map_or(sure, |best| best.max(sure))),
                None => tally.rest += size,
            }
        }
    }
    let way = (evidence.level.threshold - evidence.level.mix).max(f64::MIN_POSITIVE);
    let cells = tallies.iter().enumerate();
    cells
        .map(|(cell, tally)| {
            let hint = (evidence.hints[cell] - evidence.level.mix) / way;
            let doubt = tally.rest.max((hint - HINT) / (1.0 - HINT));
            concluded(tally, doubt, evidence.hidden[cell], evidence.filmed[cell])
        })
        .collect()
}

fn concluded(tally: &Tally, doubt: f64, hidden: f64, filmed: bool) -> Cell {
    let (seen, sure) = match tally.best {
        Some(sure) if tally.seedlings > 1 => (Seen::Two, sure.min(0.9)),
        Some(sure) => (Seen::Up, sure),
        None => (Seen::Empty, 1.0 - 0.5 * doubt.clamp(0.0, 1.0)),
    };
    // Half a cell that can't be seen may hold a seedling, while one that is seen is there whatever the other half holds.
    let clear = match seen {
        Seen::Empty => 1.0 - hidden,
        Seen::Up | Seen::Two => 1.0 - 0.5 * hidden,
    };
    let film = if filmed { 0.7 } else { 1.0 };
    Cell {
        seen,
        // More figures would say more than is known.
        certainty: ((sure * clear * film).clamp(0.0, 1.0) * 1000.0).round() / 1000.0,
    }
}

/// Whether a blob is a seedling of the cell in which most of it lies: not a speck beside the others, nor the tip of a leaf that leans
/// over a wall from next door.
fn is_seedling(evidence: &Evidence<'_>, usual: &Usual, blob: &Blob, home: &Piece) -> bool {
    let size = blob.area as f64 / usual.area;
    let contrast = blob.mean_excess() - evidence.level.mix;
    if evidence.filmed[home.cell] && contrast < IN_FILM * usual.contrast {
        return false;
    }
    let strength = blob.area as f64 * contrast;
    let cell = (evidence.cell_px * evidence.cell_px) as f64;
    if strength < FAINT * cell || size < LEAST {
        return false;
    }
    let inner = home.inner as f64 / home.area as f64;
    inner >= if size < TIP { TIP_INNER } else { INNER }
}

fn is_about_middle(evidence: &Evidence<'_>, piece: &Piece) -> bool {
    off_middle(evidence, piece) <= MIDDLE
}

/// How far from its cell's middle a piece lies, in cells' sides, across or down, whichever is more.
fn off_middle(evidence: &Evidence<'_>, piece: &Piece) -> f64 {
    let side = evidence.cell_px as f64;
    let off = |sum: f64, cell: usize| (sum / piece.area as f64 / side - cell as f64 - 0.5).abs();
    let (column, row) = (piece.cell % evidence.columns, piece.cell / evidence.columns);
    off(piece.x, column).max(off(piece.y, row))
}
