//! A planting's size by its prior and the cuts, for one pace of its flush.

use statrs::function::gamma::ln_gamma;

use crate::yields::LogRange;

/// How evenly a planting is cut: a cut strays from what it should be by one over the root of this, a fifth. No source: practice would
/// say a quarter to a third; set by the simulated plantings so that their band holds 80 in 100.
const EVENNESS: f64 = 25.0;
/// Stems that come at any time, so that a few after the end surprise nobody.
const STRAY_STEMS: f64 = 0.3;
/// The least that a size strays beforehand, in its logarithm: no crop is surer of its stems.
const LEAST_DEVIATION: f64 = 0.05;
/// Deviations beyond which a size speaks against its prior in a straight line only: what is cut counts for more than what was
/// ever thought possible.
const BEYOND: f64 = 1.5;
/// Newton steps; the sum is concave but for stray stems, so it is there after a few.
const STEPS: usize = 16;

/// The likeliest logarithm of the size, its deviation, and the logarithm of how likely prior and cuts are together. `shares` are
/// those that each cut should have of the whole, with its stems.
pub(super) fn fitted(size: LogRange, shares: &[(f64, f64)]) -> (f64, f64, f64) {
    let (below, above) = size.deviations();
    let (below, above) = (below.max(LEAST_DEVIATION), above.max(LEAST_DEVIATION));
    let prior = size.middle().max(1e-3).ln();
    let side = |log_size: f64| if log_size < prior { below } else { above };
    // From where the cuts alone would put it: what was never expected is found as quickly.
    let (stems, share) = shares
        .iter()
        .fold((0.0, 0.0), |sum, cut| (sum.0 + cut.1, sum.1 + cut.0));
    let mut log_size = if stems > 0.0 && share > 1e-6 {
        f64::midpoint((stems / share).ln(), prior)
    } else {
        prior
    };
    let mut curvature = 1.0;
    for _ in 0..STEPS {
        let deviation = side(log_size);
        let mut slope = ((prior - log_size) / deviation).clamp(-BEYOND, BEYOND) / deviation;
        curvature = deviation.powi(-2);
        let whole = log_size.exp();
        for (share, stems) in shares {
            let regular = whole * share.max(0.0);
            let mean = regular + STRAY_STEMS;
            let pull = (stems - mean) * EVENNESS / (mean * (mean + EVENNESS));
            slope += pull * regular;
            // The expected curvature is never negative.
            curvature += regular * regular * EVENNESS / (mean * (mean + EVENNESS));
        }
        let step = (slope / curvature).clamp(-1.0, 1.0);
        log_size += step;
        if step.abs() < 1e-6 {
            break;
        }
    }
    let away = ((log_size - prior) / side(log_size)).abs();
    let against = if away > BEYOND {
        BEYOND * (away - BEYOND / 2.0)
    } else {
        0.5 * away * away
    };
    let whole = log_size.exp();
    let likelihood: f64 = shares
        .iter()
        .map(|(share, stems)| {
            let mean = whole * share.max(0.0) + STRAY_STEMS;
            stems * mean.ln() - (stems + EVENNESS) * (mean + EVENNESS).ln()
                + ln_gamma(stems + EVENNESS)
                - ln_gamma(stems + 1.0)
        })
        .sum();
    let deviation = curvature.sqrt().recip();
    // What is common to all paces is left out.
    (log_size, deviation, likelihood - against + deviation.ln())
}
