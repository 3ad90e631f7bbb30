//! From which excess on a pixel is green, on this tray in this light.
//!
//! Otsu's threshold is right where mix and green are both there in plenty. A tray of empty cells or of few small seedlings would be
//! parted in the midst of the mix's own grain, and one with pale and bright plants between these; so the threshold has to lie some way
//! above the mix, and not too far. How far was set on drawn trays (`tests/imaging`).

use super::otsu::Histogram;

/// Least excess above the mix's that is green.
const ABOVE_MIN: f64 = 0.055;
/// Excess above the mix's that always is green.
const ABOVE_MAX: f64 = 0.2;
/// How many times the mix's own spread green lies above it.
const SPREADS: f64 = 4.0;
/// Highest excess that is taken for mix: even a yellow lamp's light makes none greener.
const MIX_MAX: f64 = 0.2;

/// What is green on a tray.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Level {
    /// The mix's own excess green.
    pub mix: f64,
    /// Its spread: one standard deviation, were it normal.
    pub spread: f64,
    /// Otsu's threshold.
    pub otsu: f64,
    /// Above this a pixel is green.
    pub threshold: f64,
    /// Whether even the least green half is greener than any mix.
    pub is_all_green: bool,
}

impl Level {
    /// The level where no pixel's colour can be told.
    pub fn none() -> Self {
        Self {
            mix: 0.0,
            spread: 0.0,
            otsu: 0.0,
            threshold: ABOVE_MAX,
            is_all_green: false,
        }
    }

    /// The level of a tray with such a histogram of its excess green.
    pub fn of(histogram: &Histogram) -> Self {
        let otsu = histogram.otsu();
        let below = histogram.share_below(otsu);
        let mix = histogram.quantile(0.5 * below);
        // The sixth part that lies lowest is one standard deviation below.
        let spread = (mix - histogram.quantile(0.16 * below)).max(0.0);
        let is_all_green = mix > MIX_MAX;
        let mix = mix.min(MIX_MAX);
        let least = mix + ABOVE_MIN.max(SPREADS * spread).min(ABOVE_MAX);
        let threshold = otsu.clamp(least, mix + ABOVE_MAX);
        Self {
            mix,
            spread,
            otsu,
            threshold,
            is_all_green,
        }
    }
}
