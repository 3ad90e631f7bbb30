//! From a picture to the content of each cell.

use crate::blob::{Green, count, without_film};
use crate::cells::{Measurements, classify};
use crate::corners::Corners;
use crate::error::LookError;
use crate::green::{Histogram, Level, dehaze, excess_green, is_glare, smoothed};
use crate::picture::Picture;
use crate::remarks::remarks;
use crate::seen::Look;
use crate::warp::{Flat, rectify};

/// Area below which a blob is a speck, relative to the cell.
const SPECK: f64 = 0.003;
/// Smallest number of pixels of a seedling.
const SPECK_PX: usize = 5;

/// Analyses the tray between four corners of a picture.
///
/// # Errors
/// [`LookError`] for an invalid grid or invalid corners.
pub fn look(
    picture: &Picture<'_>,
    corners: &Corners,
    rows: u32,
    columns: u32,
) -> Result<Look, LookError> {
    let flat = rectify(picture, corners, rows, columns)?;
    let glare: Vec<bool> = flat.pixels.iter().map(|pixel| is_glare(*pixel)).collect();
    let (mut green, level) = greens(&flat, &glare);
    let least = SPECK_PX.max((SPECK * green.cell_area()) as usize);
    let filmed = without_film(&mut green, &level, least);
    let (blobs, _) = count(&green, least);
    let hidden = shares(&glare, &flat);
    let hints = hints(&green, &glare);
    let cells = classify(&Measurements {
        columns: flat.columns,
        cell_px: flat.cell_px,
        blobs: &blobs,
        level: &level,
        hints: &hints,
        hidden: &hidden,
        filmed: &filmed,
    });
    let remarks = remarks(&flat, &green, &level, &blobs, (&hidden, &filmed));
    Ok(Look { cells, remarks })
}

/// The green pixels of a rectified tray, and the threshold used.
pub fn greens(flat: &Flat, glare: &[bool]) -> (Green, Level) {
    let mut denoised = smoothed(flat);
    dehaze(&mut denoised);
    let pixels = &denoised.pixels;
    let excess: Vec<f32> = pixels.iter().map(|pixel| excess_green(*pixel)).collect();
    let clear = excess.iter().zip(glare).filter(|(_, glare)| !**glare);
    let level = Histogram::of(clear.map(|(v, _)| *v)).map_or_else(Level::none, |h| Level::of(&h));
    let is_green = |(v, glare): (&f32, &bool)| !glare && f64::from(*v) > level.threshold;
    let mask = excess.iter().zip(glare).map(is_green).collect();
    let green = Green {
        width: flat.width(),
        height: flat.height(),
        cell_px: flat.cell_px,
        excess,
        mask,
    };
    (green, level)
}

/// The 99th percentile of the excess green of each cell.
fn hints(green: &Green, glare: &[bool]) -> Vec<f64> {
    let (side, columns) = (green.cell_px, green.columns());
    let mut seen = Vec::with_capacity(side * side);
    (0..columns * (green.height / side))
        .map(|cell| {
            let start = cell / columns * side * green.width + cell % columns * side;
            seen.clear();
            for row in 0..side {
                let line = start + row * green.width..start + row * green.width + side;
                let clear = line.filter(|pixel| !glare[*pixel]);
                seen.extend(clear.map(|pixel| green.excess[pixel]));
            }
            if seen.is_empty() {
                return f64::NEG_INFINITY;
            }
            let at = seen.len() - 1 - seen.len() / 100;
            f64::from(*seen.select_nth_unstable_by(at, f32::total_cmp).1)
        })
        .collect()
}

/// The share of each cell that a mask covers.
fn shares(mask: &[bool], flat: &Flat) -> Vec<f64> {
    let mut counts = vec![0_usize; flat.rows * flat.columns];
    let (width, side) = (flat.width(), flat.cell_px);
    for (pixel, _) in mask.iter().enumerate().filter(|(_, covers)| **covers) {
        counts[pixel / width / side * flat.columns + pixel % width / side] += 1;
    }
    let area = (side * side) as f64;
    counts.iter().map(|n| *n as f64 / area).collect()
}
