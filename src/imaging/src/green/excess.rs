//! The excess green index.
//!
//! Woebbecke, Meyer, Von Bargen & Mortensen 1995, Transactions of the ASAE 38(1):259-269: 2g - r - b, where
//! r, g and b are the shares of each colour in their sum. It is 0 for grey, 2 for pure green and -1 for a
//! colour without green.

/// Excess green of a colour, -1 to 2; 0 for black.
pub fn excess_green([red, green, blue]: [f32; 3]) -> f32 {
    let sum = red + green + blue;
    if sum > 0.0 {
        (2.0 * green - red - blue) / sum
    } else {
        0.0
    }
}
