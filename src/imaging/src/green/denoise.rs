//! Preparing colours before green is detected: smoothing out grain and noise, and removing the haze of a
//! dome.

use crate::warp::Flat;

/// Pixels of a cell's side per pixel of smoothing radius.
const CELL_PX_EACH: usize = 40;
/// The darkest colour (0 to 255) of mix, walls and shade without haze.
const DARK: f32 = 42.0;
/// One in this many pixels of a cell is at least as dark as its darkest parts are assumed to be.
const DARKEST: usize = 10;

/// The tray with each pixel replaced by the mean of its neighbourhood.
pub fn smoothed(flat: &Flat) -> Flat {
    let reach = flat.cell_px.div_ceil(CELL_PX_EACH).min(2);
    let (width, height) = (flat.width(), flat.height());
    let mut wide = flat.pixels.clone();
    for row in 0..height {
        let line = row * width..(row + 1) * width;
        means(&flat.pixels[line.clone()], &mut wide[line], 1, width, reach);
    }
    let mut pixels = wide.clone();
    for column in 0..width {
        means(&wide[column..], &mut pixels[column..], width, height, reach);
    }
    Flat {
        pixels,
        ..flat.clone()
    }
}

/// Moving averages of `many` values that are `step` apart.
fn means(from: &[[f32; 3]], to: &mut [[f32; 3]], step: usize, many: usize, reach: usize) {
    for at in 0..many {
        let around = at.saturating_sub(reach)..(at + reach + 1).min(many);
        let share = 1.0 / around.len() as f32;
        let mut sum = [0.0; 3];
        for beside in around {
            for (sum, v) in sum.iter_mut().zip(from[beside * step]) {
                *sum += v;
            }
        }
        to[at * step] = sum.map(|v| v * share);
    }
}

/// Removes haze cell by cell. The light that a dome adds to all colours alike leaves nothing dark, so the
/// darkest pixels show how much it is: He, Sun & Tang 2011, IEEE Transactions on Pattern Analysis and Machine
/// Intelligence 33:2341-2353 (from memory).
pub fn dehaze(flat: &mut Flat) {
    let haze = hazes(flat);
    let (width, side) = (flat.width(), flat.cell_px);
    let (rows, columns) = (flat.rows, flat.columns);
    // Linear interpolation between cell centres.
    let place = |v: usize, cells: usize| {
        let at = ((v as f32 + 0.5) / side as f32 - 0.5).clamp(0.0, (cells - 1) as f32);
        let first = at as usize;
        (first, (first + 1).min(cells - 1), at - first as f32)
    };
    for (at, pixel) in flat.pixels.iter_mut().enumerate() {
        let (left, right, across) = place(at % width, columns);
        let (top, low, down) = place(at / width, rows);
        let row = |row: usize| {
            let (a, b) = (haze[row * columns + left], haze[row * columns + right]);
            a + (b - a) * across
        };
        let haze = row(top) + (row(low) - row(top)) * down;
        // Limited so that every colour channel remains.
        let haze = haze.min(0.8 * pixel[0].min(pixel[1]).min(pixel[2]));
        *pixel = pixel.map(|v| v - haze);
    }
}

/// The haze of each cell, 0 to 255.
fn hazes(flat: &Flat) -> Vec<f32> {
    let (width, side) = (flat.width(), flat.cell_px);
    let mut weakest = Vec::with_capacity(side * side);
    (0..flat.rows * flat.columns)
        .map(|cell| {
            let start = cell / flat.columns * side * width + cell % flat.columns * side;
            weakest.clear();
            for row in 0..side {
                let line = &flat.pixels[start + row * width..start + row * width + side];
                weakest.extend(line.iter().map(|[r, g, b]| r.min(*g).min(*b)));
            }
            let at = weakest.len() / DARKEST;
            let (_, darkest, _) = weakest.select_nth_unstable_by(at, f32::total_cmp);
            (*darkest - DARK).max(0.0)
        })
        .collect()
}
