//! Green told from the mix.

mod calm;
mod excess;
mod glare;
mod level;
mod otsu;

pub use calm::{cleared, smoothed};
pub use excess::excess_green;
pub use glare::is_glare;
pub use level::Level;
pub use otsu::{BINS, Histogram, split};
