//! Rectification, excess green and Otsu's threshold compared with scikit-image on the same pictures.
//!
//! Source: scikit-image (https://scikit-image.org), run by `skimage_check.py`; the tables in `data` give the
//! version. Each picture is identified by the SHA-256 of its bytes, so that both have processed the same one.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot read its figures must stop"
)]

use imaging::Picture;
use imaging::green::{Histogram, excess_green};
use imaging::warp::{Flat, rectify};
use imaging_checks::{Drawn, cases, drawn};
use sha2::{Digest, Sha256};

/// Tolerance of a cell's mean colour, out of 255: ours is computed in single precision, theirs is written
/// with four digits.
const COLOUR: f64 = 0.001;
/// Tolerance of the threshold, in bins of the histogram: its first and last edge are computed in single
/// precision.
const BINS: f64 = 0.01;
/// Tolerance of the share of pixels above the threshold: some are equal to it.
const SHARE: f64 = 1e-4;

fn table(text: &str) -> Vec<csv::StringRecord> {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    reader.records().map(|record| record.unwrap()).collect()
}

fn number(record: &csv::StringRecord, at: usize) -> f64 {
    record[at].parse().unwrap()
}

fn means(flat: &Flat, row: usize, column: usize) -> [f64; 3] {
    let (side, width) = (flat.cell_px, flat.width());
    let mut sum = [0.0; 3];
    for down in 0..side {
        let start = (row * side + down) * width + column * side;
        for pixel in &flat.pixels[start..start + side] {
            for (sum, v) in sum.iter_mut().zip(pixel) {
                *sum += f64::from(*v);
            }
        }
    }
    sum.map(|sum| sum / (side * side) as f64)
}

fn laid_flat(drawn: &Drawn) -> Flat {
    let (width, height) = (drawn.size.0 as u32, drawn.size.1 as u32);
    let picture = Picture::new(width, height, &drawn.bytes).unwrap();
    let (rows, columns) = (drawn.rows as u32, drawn.columns as u32);
    rectify(&picture, &drawn.corners, rows, columns).unwrap()
}

#[test]
fn trays_are_rectified_and_segmented_as_by_scikit_image() {
    let all = cases();
    let cells = table(include_str!("../data/skimage_cells.csv"));
    let pictures = table(include_str!("../data/skimage_pictures.csv"));
    assert!(pictures.len() >= 12);
    println!("picture, worst colour, our threshold, theirs, our share above, theirs");
    for known in pictures {
        let id = &known[0];
        let drawn = drawn(all.iter().find(|case| case.id() == id).unwrap());
        let digest = Sha256::digest(&drawn.bytes);
        let sha256: String = digest.iter().map(|byte| format!("{byte:02x}")).collect();
        assert_eq!(
            sha256, known[1],
            "{id} is another picture than the one they looked at"
        );
        let flat = laid_flat(&drawn);
        assert_eq!(flat.cell_px.to_string(), known[2], "{id}");

        let mut worst = 0.0_f64;
        let mut compared = 0;
        for cell in cells.iter().filter(|cell| &cell[0] == id) {
            let [row, column] = [1, 2].map(|at| cell[at].parse::<usize>().unwrap());
            for (channel, ours) in means(&flat, row, column).iter().enumerate() {
                worst = worst.max((ours - number(cell, 3 + channel)).abs());
            }
            compared += 1;
        }
        assert_eq!(compared, drawn.rows * drawn.columns, "{id}");
        assert!(worst < COLOUR, "{id}: {worst}");

        let excess: Vec<f32> = flat
            .pixels
            .iter()
            .map(|pixel| excess_green(*pixel))
            .collect();
        let otsu = Histogram::of(excess.iter().copied()).unwrap().otsu();
        let bin = (number(&known, 6) - number(&known, 5)) / 256.0;
        assert!(
            (otsu - number(&known, 3)).abs() < BINS * bin,
            "{id}: {otsu}"
        );
        let above = excess.iter().filter(|v| f64::from(**v) > otsu).count();
        let share = above as f64 / excess.len() as f64;
        assert!((share - number(&known, 4)).abs() < SHARE, "{id}: {share}");
        println!(
            "{id}, {worst:.5}, {otsu:.6}, {}, {share:.6}, {}",
            &known[3], &known[4]
        );
    }
}
