//! Classification of the cells.
//!
//! A blob belongs to the cell with most of it, so a leaf that leans over a wall belongs to its own cell. Only
//! if a large part of it is also around the centre of another cell are both counted as up: two seedlings
//! whose leaves touch. The thresholds were set on synthetic trays (`tests/imaging`).

use crate::blob::{Blob, Piece, Typical};
use crate::green::Level;
use crate::seen::{Cell, Seen};

/// Area in a neighbouring cell, relative to the typical seedling, that makes a seedling of its own.
const OWN: f64 = 0.5;
/// Largest distance of a seedling's green from the centre of its cell, in cell sides.
const MIDDLE: f64 = 0.25;
/// Area below which a blob is a speck, relative to the typical seedling.
const LEAST: f64 = 0.12;
/// Excess green above that of the mix from which a seedling has full certainty.
const PLAIN: f64 = 0.1;
/// Smallest contrast in a cell with film, relative to the typical seedling.
const IN_FILM: f64 = 0.75;
/// Position between mix and threshold from which the greenest pixels of an empty cell reduce its certainty.
const HINT: f64 = 0.6;
/// Smallest total excess green above that of the mix for a seedling, per pixel of the cell.
const FAINT: f64 = 0.0007;
/// Area up to which a blob at the wall may be the tip of a neighbouring leaf, relative to the typical
/// seedling.
const TIP: f64 = 0.35;
/// Share of such a blob that is away from the wall if it is a seedling.
const TIP_INNER: f64 = 0.5;
/// The same for any blob: walls that look green in lamp light are entirely at the wall.
const INNER: f64 = 0.2;
/// Area from which a second blob is a second seedling, relative to the typical seedling.
const SECOND: f64 = 0.4;
/// Area from which a seedling has full certainty, relative to the typical seedling.
const SURE: f64 = 0.4;

/// The measurements by which a tray's cells are classified.
#[derive(Debug, Clone, Copy)]
pub struct Measurements<'a> {
    /// Cells in a row.
    pub columns: usize,
    /// Side of a cell in pixels.
    pub cell_px: usize,
    /// Patches of green.
    pub blobs: &'a [Blob],
    /// The threshold of green.
    pub level: &'a Level,
    /// The 99th percentile of the excess green of each cell.
    pub hints: &'a [f64],
    /// The share of each cell that is hidden by glare.
    pub hidden: &'a [f64],
    /// Whether each cell has a film.
    pub filmed: &'a [bool],
}

#[derive(Debug, Clone, Copy, Default)]
struct CellGreen {
    /// Blobs of this cell that are large enough to be a seedling each.
    seedlings: u32,
    /// Certainty of the best seedling, if any.
    best: Option<f64>,
    /// Green that is not a seedling, in typical seedlings.
    rest: f64,
}

/// Classifies each cell.
pub fn classify(measurements: &Measurements<'_>) -> Vec<Cell> {
    let cell_area = (measurements.cell_px * measurements.cell_px) as f64;
    let outside = |blob: &&Blob| blob.home().is_none_or(|cell| !measurements.filmed[cell]);
    let unfilmed = measurements.blobs.iter().filter(outside);
    let typical = Typical::of(unfilmed, measurements.level.mix, cell_area)
        .or_else(|| Typical::of(measurements.blobs.iter(), measurements.level.mix, cell_area))
        .unwrap_or_default();
    let mut greens = vec![CellGreen::default(); measurements.hidden.len()];
    for blob in measurements.blobs {
        let contrast =
            (blob.mean_excess() - measurements.level.mix) / PLAIN.max(0.5 * typical.contrast);
        let strength = |area: f64| (area / (SURE * typical.area)).min(contrast).clamp(0.0, 1.0);
        for (order, piece) in blob.pieces.iter().enumerate() {
            let green = &mut greens[piece.cell];
            let size = piece.area as f64 / typical.area;
            let sure = if order == 0 && is_seedling(measurements, &typical, blob, piece) {
                if blob.area as f64 >= SECOND * typical.area {
                    green.seedlings += 1;
                }
                Some(0.5 + 0.5 * strength(blob.area as f64))
            } else if order > 0 && size >= OWN && is_about_middle(measurements, piece) {
                Some(0.5 + 0.3 * strength(piece.area as f64))
            } else {
                None
            };
            match sure {
                Some(sure) => green.best = Some(green.best.map_or(sure, |best| best.max(sure))),
                None => green.rest += size,
            }
        }
    }
    let way = (measurements.level.threshold - measurements.level.mix).max(f64::MIN_POSITIVE);
    let cells = greens.iter().enumerate();
    cells
        .map(|(cell, green)| {
            let hint = (measurements.hints[cell] - measurements.level.mix) / way;
            let doubt = green.rest.max((hint - HINT) / (1.0 - HINT));
            conclusion(
                green,
                doubt,
                measurements.hidden[cell],
                measurements.filmed[cell],
            )
        })
        .collect()
}

fn conclusion(green: &CellGreen, doubt: f64, hidden: f64, filmed: bool) -> Cell {
    let (seen, sure) = match green.best {
        Some(sure) if green.seedlings > 1 => (Seen::Two, sure.min(0.9)),
        Some(sure) => (Seen::Up, sure),
        None => (Seen::Empty, 1.0 - 0.5 * doubt.clamp(0.0, 1.0)),
    };
    // A hidden half may contain a seedling, while a visible seedling is there whatever the other half
    // contains.
    let clear = match seen {
        Seen::Empty => 1.0 - hidden,
        Seen::Up | Seen::Two => 1.0 - 0.5 * hidden,
    };
    let film = if filmed { 0.7 } else { 1.0 };
    Cell {
        seen,
        // More digits would be spurious.
        certainty: ((sure * clear * film).clamp(0.0, 1.0) * 1000.0).round() / 1000.0,
    }
}

/// Whether a blob is a seedling of the cell with most of it: neither a speck nor the tip of a neighbouring
/// leaf.
fn is_seedling(
    measurements: &Measurements<'_>,
    typical: &Typical,
    blob: &Blob,
    home: &Piece,
) -> bool {
    let size = blob.area as f64 / typical.area;
    let contrast = blob.mean_excess() - measurements.level.mix;
    if measurements.filmed[home.cell] && contrast < IN_FILM * typical.contrast {
        return false;
    }
    let strength = blob.area as f64 * contrast;
    let cell = (measurements.cell_px * measurements.cell_px) as f64;
    if strength < FAINT * cell || size < LEAST {
        return false;
    }
    let inner = home.inner as f64 / home.area as f64;
    inner >= if size < TIP { TIP_INNER } else { INNER }
}

fn is_about_middle(measurements: &Measurements<'_>, piece: &Piece) -> bool {
    off_middle(measurements, piece) <= MIDDLE
}

/// Distance of a piece from its cell's centre in cell sides: the larger of both coordinates.
fn off_middle(measurements: &Measurements<'_>, piece: &Piece) -> f64 {
    let side = measurements.cell_px as f64;
    let off = |sum: f64, cell: usize| (sum / piece.area as f64 / side - cell as f64 - 0.5).abs();
    let (column, row) = (
        piece.cell % measurements.columns,
        piece.cell / measurements.columns,
    );
    off(piece.x, column).max(off(piece.y, row))
}
