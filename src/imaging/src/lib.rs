//! Which cells of a photographed tray have green in them.
//!
//! A picture comes in as plain bytes with the four corners of the tray's edge in it, and goes out as what is seen in each cell, how
//! sure that is, and what is to be said of the picture. The tray is laid flat ([`warp`]), green is told from the mix by its excess of
//! green ([`green`]), patches of it are found and told from algae ([`blob`]), and cells are judged by them ([`cells`]).
//!
//! It never reads a clock, a file or a random number, and speaks no human language. Memory is that of the picture and at most some
//! 40 bytes for each of a million pixels of the tray laid flat; four million for a grid of 100 by 100.

pub mod blob;
pub mod cells;
pub mod corners;
pub mod error;
pub mod green;
mod light;
mod look;
pub mod picture;
pub mod post;
mod remarks;
pub mod seen;
pub mod warp;

pub use corners::{Corners, Point};
pub use error::{CornersError, LookError};
pub use light::Light;
pub use look::{greens, look};
pub use picture::Picture;
pub use seen::{Cell, Look, Remark, Seen};
