//! The threshold from which a pixel is green, on this tray in this light.
//!
//! Otsu's threshold is right if there is plenty of both mix and green. A tray of empty cells or of a few
//! small seedlings would be split within the grain of the mix, and one with pale and bright plants between
//! them, so the threshold is limited to a range above the mix. The limits were set on synthetic trays
//! (`tests/imaging`).

use super::otsu::Histogram;

/// Smallest excess above that of the mix that can be green.
const ABOVE_MIN: f64 = 0.055;
/// Excess above that of the mix that is always green.
const ABOVE_MAX: f64 = 0.2;
/// Distance of green from the mix, in standard deviations of the mix.
const SPREADS: f64 = 4.0;
/// Highest excess of a mix, even in the light of a yellow lamp.
const MIX_MAX: f64 = 0.2;

/// The threshold of green on a tray.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Level {
    /// Excess green of the mix.
    pub mix: f64,
    /// Its standard deviation, if it were normal.
    pub spread: f64,
    /// Otsu's threshold.
    pub otsu: f64,
    /// A pixel above this is green.
    pub threshold: f64,
    /// Whether even the less green half is greener than any mix.
    pub is_all_green: bool,
}

impl Level {
    /// The threshold if no pixel's colour is usable.
    pub fn none() -> Self {
        Self {
            mix: 0.0,
            spread: 0.0,
            otsu: 0.0,
            threshold: ABOVE_MAX,
            is_all_green: false,
        }
    }

    /// The threshold for a tray's histogram of excess green.
    pub fn of(histogram: &Histogram) -> Self {
        let otsu = histogram.otsu();
        let below = histogram.share_below(otsu);
        let mix = histogram.quantile(0.5 * below);
        // The 16th percentile is one standard deviation below the mean.
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
