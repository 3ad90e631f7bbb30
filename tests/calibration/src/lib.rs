//! Simulated trays with known truth, for checking the bench's forecasts and verdicts.
//!
//! The truth of each tray is drawn from a seed and from the reference's ranges for lots and days, by
//! independent code: seed by seed through the inverse of the curve, not over the model's grid. Assumptions
//! beyond the reference are documented with their source in [`truth`], and what happens to seed and seedlings
//! on a bench in [`bench`].

#![allow(
    clippy::expect_used,
    clippy::panic,
    reason = "a check that cannot be set up must stop"
)]

pub mod bench;
pub mod book;
pub mod intervals;
pub mod plantings;
pub mod policies;
pub mod table;
pub mod truth;

use culture::{Crop, Reference};

/// Fast and slow crops, warm and cool ones, with good and poor germination; all are sown on a mat or may be.
pub const CROPS: [&str; 10] = [
    "antirrhinum",
    "matthiola",
    "limonium",
    "zinnia",
    "celosia_plumosa",
    "ocimum",
    "helianthus",
    "gomphrena",
    "eustoma",
    "trachelium",
];

/// Trays of each crop.
pub const TRAYS: u32 = 200;

/// Cells of a tray: soil blocks 6 by 10, or plugs 6 by 12.
pub fn cells_of(tray: u32) -> u32 {
    if tray.is_multiple_of(2) { 60 } else { 72 }
}

/// The result of `each` for every crop, in their order, computed in parallel.
///
/// # Panics
/// If a crop is missing from the reference, or `each` panics.
pub fn over_crops<T: Send>(
    reference: &Reference,
    each: impl Fn(u64, &Crop) -> T + Sync,
) -> Vec<(String, T)> {
    std::thread::scope(|scope| {
        let workers: Vec<_> = (0u64..)
            .zip(CROPS)
            .map(|(number, id)| {
                let each = &each;
                let crop = reference.crop(id).expect("the reference has it");
                scope.spawn(move || (crop.name().to_owned(), each(number, crop)))
            })
            .collect();
        workers
            .into_iter()
            .map(|worker| worker.join().expect("every crop is worked out"))
            .collect()
    })
}
