//! Rectification: the tray seen from straight above, with square cells.

use super::homography::Homography;
use crate::corners::{Corners, Point};
use crate::error::{CornersError, LookError};
use crate::picture::Picture;

/// Largest number of rows, and of cells in a row.
pub const GRID_MAX: u32 = 100;
/// Smallest and largest side of a cell in pixels. A cotyledon of 2 mm in a block of 50 mm is still 2 pixels
/// long.
const CELL_PX: (f64, f64) = (20.0, 64.0);
/// Target for the total number of pixels; a grid of 100 by 100 has four times as many.
const PIXELS: f64 = 1_000_000.0;
/// Smallest side of a cell in the picture, in pixels.
const SEEN_PX_MIN: f64 = 4.0;
/// Largest number of samples along a side of a pixel.
const SAMPLES_MAX: f64 = 8.0;

/// A rectified tray.
#[derive(Debug, Clone, PartialEq)]
pub struct Flat {
    /// Rows of cells.
    pub rows: usize,
    /// Cells in a row.
    pub columns: usize,
    /// Side of a cell in pixels.
    pub cell_px: usize,
    /// Red, green and blue of each pixel, 0 to 255, by row.
    pub pixels: Vec<[f32; 3]>,
}

impl Flat {
    /// Width in pixels.
    pub fn width(&self) -> usize {
        self.columns * self.cell_px
    }

    /// Height in pixels.
    pub fn height(&self) -> usize {
        self.rows * self.cell_px
    }
}

/// Rectifies the tray between four corners. Each pixel is the mean of bilinear samples, about as many as it
/// covers pixels of the picture, so that the grain of a large picture does not turn into patterns.
///
/// # Errors
/// [`LookError::Grid`] and [`LookError::Corners`] for an invalid grid or invalid corners.
pub fn rectify(
    picture: &Picture<'_>,
    corners: &Corners,
    rows: u32,
    columns: u32,
) -> Result<Flat, LookError> {
    let grid = 1..=GRID_MAX;
    if !grid.contains(&rows) || !grid.contains(&columns) {
        return Err(LookError::Grid { rows, columns });
    }
    let (width, height) = (picture.width() as u32, picture.height() as u32);
    corners.check(width, height)?;
    let cells = f64::from(rows * columns);
    let seen_px = (corners.area() / cells).sqrt();
    if seen_px < SEEN_PX_MIN {
        return Err(CornersError::Small.into());
    }
    let most = (PIXELS / cells).sqrt().clamp(CELL_PX.0, CELL_PX.1);
    let cell_px = seen_px.clamp(CELL_PX.0, most).round();
    let samples = (seen_px / cell_px).round().clamp(1.0, SAMPLES_MAX) as usize;
    let to_picture = Homography::of_unit_square(corners.0).ok_or(CornersError::Flat)?;
    let mut flat = Flat {
        rows: rows as usize,
        columns: columns as usize,
        cell_px: cell_px as usize,
        pixels: Vec::new(),
    };
    flat.pixels = sample(picture, &to_picture, (flat.width(), flat.height()), samples);
    Ok(flat)
}

fn sample(
    picture: &Picture<'_>,
    to_picture: &Homography,
    (width, height): (usize, usize),
    samples: usize,
) -> Vec<[f32; 3]> {
    let mut pixels = Vec::with_capacity(width * height);
    let share = 1.0 / (samples * samples) as f32;
    let place = |pixel: usize, sample: usize, all: usize| {
        (pixel as f64 + (sample as f64 + 0.5) / samples as f64) / all as f64
    };
    for row in 0..height {
        for column in 0..width {
            let mut sum = [0.0_f32; 3];
            for down in 0..samples {
                let y = place(row, down, height);
                for across in 0..samples {
                    let x = place(column, across, width);
                    let seen = between(picture, to_picture.map(Point::new(x, y)));
                    for (sum, seen) in sum.iter_mut().zip(seen) {
                        *sum += seen;
                    }
                }
            }
            pixels.push(sum.map(|sum| sum * share));
        }
    }
    pixels
}

/// The bilinearly interpolated colour at a point; beyond the border, that of the border.
fn between(picture: &Picture<'_>, at: Point) -> [f32; 3] {
    let (right, low) = (picture.width() - 1, picture.height() - 1);
    let x = (at.x - 0.5).clamp(0.0, right as f64);
    let y = (at.y - 0.5).clamp(0.0, low as f64);
    let (left, top) = (x as usize, y as usize);
    let (x, y) = ((x - left as f64) as f32, (y - top as f64) as f32);
    let (next, below) = ((left + 1).min(right), (top + 1).min(low));
    let [a, b] = [left, next].map(|column| picture.at(column, top));
    let [c, d] = [left, next].map(|column| picture.at(column, below));
    let mut mixed = [0.0; 3];
    for (channel, mixed) in mixed.iter_mut().enumerate() {
        let upper = a[channel] + (b[channel] - a[channel]) * x;
        let lower = c[channel] + (d[channel] - c[channel]) * x;
        *mixed = upper + (lower - upper) * y;
    }
    mixed
}
