//! Separating green from the mix.

mod denoise;
mod excess;
mod glare;
mod level;
mod otsu;

pub use denoise::{dehaze, smoothed};
pub use excess::excess_green;
pub use glare::is_glare;
pub use level::Level;
pub use otsu::{BINS, Histogram, split};
