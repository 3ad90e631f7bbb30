//! A film of algae or moss on the mix, told from seedlings.
//!
//! It is duller than leaves, lies in large patches and is torn where the mix shows through; leaves are bright and smooth. What of such
//! a patch is much greener than the rest of it may be a seedling that stands in it. Where the lines are was set on drawn trays
//! (`tests/imaging`).

use super::{Blob, Green, Usual, count};
use crate::green::{Histogram, Level};

/// Least share of a cell that a patch of film covers.
const AREA_MIN: f64 = 0.08;
/// From this raggedness on a patch is torn.
const RAGGED: f64 = 5.0;
/// Share of its cell, and usual seedlings, from which a patch is no seedling.
const SPREAD: f64 = 0.2;
const BEYOND: f64 = 4.0;
/// Share of its cell from which a patch is no seedling if its excess green above the mix's is less than leaves of that size have.
const COVERED: f64 = 0.5;
const DULL: f64 = 0.14;
/// Largest share of a film's patch that is as green as leaves.
const LEAVES_MAX: f64 = 0.6;
/// Least excess of leaves above the film under them.
const ABOVE_MIN: f64 = 0.08;
/// Share of a cell that a film has to cover so that it is worth a word.
const FILMED: f64 = 0.1;

/// Takes film out of what is green, and says for each cell whether there was enough of it to hide or to feign a seedling.
pub fn without_film(green: &mut Green, level: &Level, least: usize) -> Vec<bool> {
    let cells = green.columns() * (green.height / green.cell_px);
    let mut filmed = vec![0_usize; cells];
    let (blobs, labels) = count(green, least);
    let found = green.excess.iter().zip(&green.mask);
    let found = found.filter(|(_, green)| **green).map(|(v, _)| *v);
    let Some(histogram) = Histogram::of(found) else {
        return vec![false; cells];
    };
    let parted = histogram.otsu();
    let usual = Usual::of(blobs.iter(), level.mix, green.cell_area()).unwrap_or_default();
    let leaves = leaf_shares(green, &labels, blobs.len(), parted);
    let is_film: Vec<bool> = blobs
        .iter()
        .zip(leaves)
        .map(|(blob, leaves)| {
            may_be_film(blob, &usual, level.mix, green.cell_area()) && leaves <= LEAVES_MAX
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
    let leaf = parted.max(film.quantile(0.5) + ABOVE_MIN.max(2.0 * level.spread));
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

fn may_be_film(blob: &Blob, usual: &Usual, mix: f64, cell_area: f64) -> bool {
    let torn = blob.area as f64 >= AREA_MIN * cell_area && blob.raggedness() >= RAGGED;
    let home = blob.home_area() as f64;
    let dull = blob.mean_excess() - mix < DULL;
    let beyond = home >= SPREAD * cell_area && home >= BEYOND * usual.area;
    torn || beyond || (dull && home >= COVERED * cell_area)
}

/// The share of each blob that is greener than where the green parts.
fn leaf_shares(green: &Green, labels: &[u32], blobs: usize, parted: f64) -> Vec<f64> {
    let mut all = vec![(0_usize, 0_usize); blobs];
    for (number, excess) in labels.iter().zip(&green.excess) {
        if let Some(at) = (*number as usize).checked_sub(1) {
            all[at].0 += usize::from(f64::from(*excess) > parted);
            all[at].1 += 1;
        }
    }
    all.iter()
        .map(|(leaves, all)| *leaves as f64 / *all as f64)
        .collect()
}
