//! From the picture to the rectified tray.

mod homography;
mod rectify;

pub use homography::Homography;
pub use rectify::{Flat, rectify};
