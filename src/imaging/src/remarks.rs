//! What is to be said of a picture as a whole. Where the lines are was set on drawn trays (`tests/imaging`).

use crate::blob::{Blob, Green};
use crate::green::Level;
use crate::light::Light;
use crate::seen::Remark;
use crate::warp::Flat;

/// Share of a cell from which it counts as hidden, and share of cells hidden that is worth a word.
const HIDDEN: (f64, f64) = (0.3, 0.02);
/// Brightness (0 to 255) which even the brightest twentieth of a dark picture does not reach.
const DARK: f64 = 45.0;
/// Difference between neighbours, as a share of the spread of all, below which a picture is blurred.
const SHARP: f64 = 0.06;
/// Share of a cell from which it is green all over, walls too, and share of such cells that is more than a tray of seedlings has.
const COVERED: (f64, f64) = (0.95, 0.3);
/// Spread of brightness, as a share of its mean, below which there is nothing to be seen: a wall, a cloth, a lens behind a finger.
const EVEN: f64 = 0.05;

/// What there is to say of a tray and its green.
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
    let said = [
        (Remark::Glare, glare),
        (Remark::Film, filmed > 0),
        // A dome's haze is soft by itself.
        (Remark::Blurred, !even && !glare && light.sharpness < SHARP),
        (Remark::Dark, light.bright < DARK),
        (Remark::NoGreen, blobs.is_empty()),
        (Remark::NotLikeATray, even || covered || level.is_all_green),
    ];
    said.iter()
        .filter(|(_, holds)| *holds)
        .map(|(remark, _)| *remark)
        .collect()
}
