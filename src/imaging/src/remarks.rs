//! Remarks about a picture as a whole. The thresholds were set on synthetic trays (`tests/imaging`).

use crate::blob::{Blob, Green};
use crate::green::Level;
use crate::light::Light;
use crate::seen::Remark;
use crate::warp::Flat;

/// Share of a cell from which it counts as hidden, and share of hidden cells that is reported.
const HIDDEN: (f64, f64) = (0.3, 0.02);
/// Brightness (0 to 255) that the brightest twentieth of a dark picture does not reach.
const DARK: f64 = 45.0;
/// Sharpness below which a picture is blurred.
const SHARP: f64 = 0.06;
/// Share of green from which a cell is covered entirely, and share of such cells that no tray of seedlings
/// has.
const COVERED: (f64, f64) = (0.95, 0.3);
/// Standard deviation of brightness, relative to its mean, below which there is nothing to see: a wall, a
/// cloth, a covered lens.
const EVEN: f64 = 0.05;

/// The remarks about a tray's picture.
pub fn remarks(
    flat: &Flat,
    green: &Green,
    level: &Level,
    blobs: &[Blob],
    (hidden, filmed): (&[f64], &[bool]),
) -> Vec<Remark> {
    let cells = hidden.len() as f64;
    let share = |n: usize| n as f64 / cells;
    let light = Light::of(flat);
    let pieces = blobs.iter().flat_map(|blob| &blob.pieces);
    let covered = pieces.filter(|piece| piece.area as f64 >= COVERED.0 * green.cell_area());
    let covered = share(covered.count()) >= COVERED.1;
    let hidden = hidden.iter().filter(|hidden| **hidden >= HIDDEN.0).count();
    let filmed = filmed.iter().filter(|filmed| **filmed).count();
    let even = light.spread <= EVEN * light.mean;
    let glare = share(hidden) >= HIDDEN.1;
    let all = [
        (Remark::Glare, glare),
        (Remark::Film, filmed > 0),
        // The haze of a dome is soft by itself.
        (Remark::Blurred, !even && !glare && light.sharpness < SHARP),
        (Remark::Dark, light.bright < DARK),
        (Remark::NoGreen, blobs.is_empty()),
        (Remark::NotLikeATray, even || covered || level.is_all_green),
    ];
    all.iter()
        .filter(|(_, holds)| *holds)
        .map(|(remark, _)| *remark)
        .collect()
}
