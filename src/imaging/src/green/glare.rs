//! Light thrown back by a dome, a wet film or drops, in which no colour is left.

/// From here on (of 255) the weakest of the three colours is washed out. Common practice, no source.
const WASHED_OUT: f32 = 190.0;
/// From here on the strongest colour may have run over, so that its share says nothing.
const RUN_OVER: f32 = 250.0;
/// Weakest to strongest colour from which a pixel that has run over is too pale to be a leaf.
const PALE: f32 = 0.6;

/// Whether a pixel is so bright and pale that its colour says nothing.
pub fn is_glare([red, green, blue]: [f32; 3]) -> bool {
    let (weakest, strongest) = (red.min(green).min(blue), red.max(green).max(blue));
    weakest >= WASHED_OUT || (strongest >= RUN_OVER && weakest >= PALE * strongest)
}
