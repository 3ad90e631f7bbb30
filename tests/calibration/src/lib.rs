//! Simulated trays, of which the truth is known, for holding the bench's forecasts and verdicts against.
//!
//! The truth of each tray is drawn by a seed from what the crop reference says of lots and of days, by code of its own: seed by seed
//! through the inverse of the curve, not over the model's grid. What it takes beyond the reference stands with its source in
//! [`truth`], and what becomes of seed and seedlings on a bench in [`bench`].

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

/// Crops that are quick and slow, want it warm and cool, and come up well and poorly; all are sown on a mat or may be.
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

/// What `each` makes of every crop, in their order, worked out side by side.
///
/// # Panics
/// If the reference lacks a crop, or `each` panics.
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
