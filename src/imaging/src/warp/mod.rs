//! From the picture to the tray laid flat.

mod homography;
mod rectify;

pub use homography::Homography;
pub use rectify::{Flat, rectify};
