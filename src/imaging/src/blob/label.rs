//! Connected components.

use super::{Blob, Green, Piece};

/// Widest gap between leaves of one plant, in cell sides: a stem or a shaded centre of a pixel or two.
const GAP: f64 = 1.0 / 50.0;

/// Width of a cell's wall, in cell sides, with corners set by thumb.
const WALL: f64 = 0.12;

/// Labels the connected pixels of a mask, including diagonal neighbours, from 1; 0 is the background. Returns
/// the labels and their number.
pub fn label(mask: &[bool], width: usize) -> (Vec<u32>, u32) {
    let mut labels = vec![0_u32; mask.len()];
    let height = mask.len().checked_div(width).unwrap_or(0);
    let mut next = 0;
    let mut waiting = Vec::new();
    for start in 0..width * height {
        if !mask[start] || labels[start] != 0 {
            continue;
        }
        next += 1;
        labels[start] = next;
        waiting.push(start);
        while let Some(pixel) = waiting.pop() {
            let (x, y) = (pixel % width, pixel / width);
            for row in y.saturating_sub(1)..(y + 2).min(height) {
                for column in x.saturating_sub(1)..(x + 2).min(width) {
                    let beside = row * width + column;
                    if mask[beside] && labels[beside] == 0 {
                        labels[beside] = next;
                        waiting.push(beside);
                    }
                }
            }
        }
    }
    (labels, next)
}

/// The blobs of a tray with at least `least` pixels, and the number of each pixel's blob, from 1 (0 for
/// none). Leaves with a small gap between them are one blob.
pub fn count(green: &Green, least: usize) -> (Vec<Blob>, Vec<u32>) {
    let reach = (green.cell_px as f64 * GAP).round() as usize;
    let (mut labels, found) = label(&grown(green, reach), green.width);
    let mut blobs = vec![Blob::default(); found as usize];
    for (pixel, number) in labels.iter_mut().enumerate() {
        if !green.mask[pixel] {
            *number = 0;
            continue;
        }
        let blob = &mut blobs[*number as usize - 1];
        let (x, y) = (pixel % green.width, pixel / green.width);
        blob.area += 1;
        blob.edges += open_sides(green, x, y);
        blob.excess += f64::from(green.excess[pixel]);
        let cell = y / green.cell_px * green.columns() + x / green.cell_px;
        let piece = match blob.pieces.iter_mut().position(|piece| piece.cell == cell) {
            Some(at) => &mut blob.pieces[at],
            None => blob.pieces.push_mut(Piece {
                cell,
                ..Piece::default()
            }),
        };
        piece.area += 1;
        piece.inner += usize::from(is_inner(green, x) && is_inner(green, y));
        piece.x += x as f64 + 0.5;
        piece.y += y as f64 + 0.5;
    }
    let mut kept = Vec::new();
    let mut numbers = vec![0; blobs.len() + 1];
    for (at, mut blob) in blobs.into_iter().enumerate() {
        if blob.area >= least.max(1) {
            blob.pieces
                .sort_by_key(|piece| core::cmp::Reverse(piece.area));
            kept.push(blob);
            numbers[at + 1] = kept.len() as u32;
        }
    }
    for number in &mut labels {
        *number = numbers[*number as usize];
    }
    (kept, labels)
}

/// Whether a coordinate is away from the cell's walls.
fn is_inner(green: &Green, place: usize) -> bool {
    let within = (place % green.cell_px) as f64 + 0.5;
    let wall = WALL * green.cell_px as f64;
    (wall..=green.cell_px as f64 - wall).contains(&within)
}

fn open_sides(green: &Green, x: usize, y: usize) -> usize {
    let at = |x: usize, y: usize| green.mask[y * green.width + x];
    let sides = [
        x > 0 && at(x - 1, y),
        x + 1 < green.width && at(x + 1, y),
        y > 0 && at(x, y - 1),
        y + 1 < green.height && at(x, y + 1),
    ];
    sides.iter().filter(|green| !**green).count()
}

/// The mask dilated by `reach` pixels, first along the rows and then along the columns.
fn grown(green: &Green, reach: usize) -> Vec<bool> {
    let (width, height) = (green.width, green.height);
    let mut wide = green.mask.clone();
    let mut grown = wide.clone();
    if reach == 0 {
        return grown;
    }
    for (pixel, _) in green.mask.iter().enumerate().filter(|(_, green)| **green) {
        let (x, start) = (pixel % width, pixel - pixel % width);
        wide[start + x.saturating_sub(reach)..start + (x + reach + 1).min(width)].fill(true);
    }
    for (pixel, _) in wide.iter().enumerate().filter(|(_, green)| **green) {
        let (x, y) = (pixel % width, pixel / width);
        for row in y.saturating_sub(reach)..(y + reach + 1).min(height) {
            grown[row * width + x] = true;
        }
    }
    grown
}
