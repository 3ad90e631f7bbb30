//! Which cells of a photographed tray have green in them.
//!
//! The input is a picture as plain bytes with the four corners of the tray in it; the output is the content
//! of each cell, its certainty, and remarks about the picture. The tray is rectified ([`warp`]), green is
//! separated from the mix by its excess green index ([`green`]), patches of green are detected and separated
//! from algae ([`blob`]), and cells are classified by them ([`cells`]).
//!
//! This crate reads no clock, file or random number. It needs memory for the picture and about 40 bytes for
//! each of a million pixels of the rectified tray; four million for a grid of 100 by 100.

pub mod blob;
pub mod cells;
pub mod corners;
pub mod error;
pub mod green;
mod light;
mod look;
pub mod picture;
pub mod protocol;
mod remarks;
pub mod seen;
pub mod warp;

pub use corners::{Corners, Point};
pub use error::{CornersError, LookError};
pub use light::Light;
pub use look::{greens, look};
pub use picture::Picture;
pub use seen::{Cell, Look, Remark, Seen};
