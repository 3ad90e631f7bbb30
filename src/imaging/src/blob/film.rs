//! Separating a film of algae or moss from seedlings.
//!
//! A film is duller than leaves, covers large patches and is torn where the mix shows through; leaves are
//! bright and smooth. The much greener parts of a film may be seedlings in it. The thresholds were set on
//! synthetic trays (`tests/imaging`).

use super::{Blob, Green, Typical, count};
use crate::green::{Histogram, Level};

/// Smallest share of a cell that a patch of film covers.
const AREA_MIN: f64 = 0.08;
/// From this raggedness a patch is torn.
const RAGGED: f64 = 5.0;
/// Share of its cell, and multiple of the typical seedling, from which a patch is not a seedling.
const SPREAD: f64 = 0.2;
const BEYOND: f64 = 4.0;
/// Share of its cell from which a patch is not a seedling if its excess green above that of the mix is below
/// `DULL`.
const COVERED: f64 = 0.5;
const DULL: f64 = 0.14;
/// Largest share of a film that is as green as leaves.
const LEAVES_MAX: f64 = 0.6;
/// Smallest excess of leaves above that of the film under them.
const ABOVE_MIN: f64 = 0.08;
/// Share of a cell from which its film is reported.
const FILMED: f64 = 0.1;

/// Removes film from the green pixels and returns for each cell whether it had enough film to hide or imitate
/// a seedling.
pub fn without_film(green: &mut Green, level: &Level, least: usize) -> Vec<bool> {
    let cells = green.columns() * (green.height / green.cell_px);
    let mut filmed = vec![0_usize; cells];
    let (blobs, labels) = count(green, least);
    let found = green.excess.iter().zip(&green.mask);
    let found = found.filter(|(_, green)| **green).map(|(v, _)| *v);
    let Some(histogram) = Histogram::of(found) else {
        return vec![false; cells];
    };
    let threshold = histogram.otsu();
    let typical = Typical::of(blobs.iter(), level.mix, green.cell_area()).unwrap_or_default();
    let leaves = leaf_shares(green, &labels, blobs.len(), threshold);
    let is_film: Vec<bool> = blobs
        .iter()
        .zip(leaves)
        .map(|(blob, leaves)| {
            may_be_film(blob, &typical, level.mix, green.cell_area()) && leaves <= LEAVES_MAX
        })
        .collect();
    let in_film = |number: u32| {
        let at = (number as usize).checked_sub(1);
        at.is_some_and(|at| is_film[at])
    };
    let film = green.excess.iter().zip(&labels);
    let film = film
        .filter(|(_, number)| in_film(**number))
        .map(|(v, _)| *v);
    let Some(film) = Histogram::of(film) else {
        return vec![false; cells];
    };
    // The greener part of a film without seedlings is film, too.
    let leaf = threshold.max(film.quantile(0.5) + ABOVE_MIN.max(2.0 * level.spread));
    for (pixel, number) in labels.iter().enumerate() {
        if in_film(*number) && f64::from(green.excess[pixel]) <= leaf {
            green.mask[pixel] = false;
            let (x, y) = (pixel % green.width, pixel / green.width);
            filmed[y / green.cell_px * green.columns() + x / green.cell_px] += 1;
        }
    }
    let worth = FILMED * green.cell_area();
    filmed.iter().map(|area| *area as f64 >= worth).collect()
}

fn may_be_film(blob: &Blob, typical: &Typical, mix: f64, cell_area: f64) -> bool {
    let torn = blob.area as f64 >= AREA_MIN * cell_area && blob.raggedness() >= RAGGED;
    let home = blob.home_area() as f64;
    let dull = blob.mean_excess() - mix < DULL;
    let beyond = home >= SPREAD * cell_area && home >= BEYOND * typical.area;
    torn || beyond || (dull && home >= COVERED * cell_area)
}

/// The share of each blob that is greener than the threshold within the green.
fn leaf_shares(green: &Green, labels: &[u32], blobs: usize, threshold: f64) -> Vec<f64> {
    let mut all = vec![(0_usize, 0_usize); blobs];
    for (number, excess) in labels.iter().zip(&green.excess) {
        if let Some(at) = (*number as usize).checked_sub(1) {
            all[at].0 += usize::from(f64::from(*excess) > threshold);
            all[at].1 += 1;
        }
    }
    all.iter()
        .map(|(leaves, all)| *leaves as f64 / *all as f64)
        .collect()
}
