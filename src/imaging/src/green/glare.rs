//! Glare: reflections of a dome, a wet film or drops that hide all colour.

/// From this value (of 255) the weakest colour is washed out. Common practice, no source.
const WASHED_OUT: f32 = 190.0;
/// From this value the strongest colour may be saturated, so that its share is meaningless.
const RUN_OVER: f32 = 250.0;
/// Ratio of weakest to strongest colour from which a saturated pixel is too pale for a leaf.
const PALE: f32 = 0.6;

/// Whether a pixel is so bright and pale that its colour is meaningless.
pub fn is_glare([red, green, blue]: [f32; 3]) -> bool {
    let (weakest, strongest) = (red.min(green).min(blue), red.max(green).max(blue));
    weakest >= WASHED_OUT || (strongest >= RUN_OVER && weakest >= PALE * strongest)
}
