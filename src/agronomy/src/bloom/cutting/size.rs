//! The size of a planting, given its prior and the cuts, for one length of its flush.

use statrs::function::gamma::ln_gamma;

use crate::yields::LogRange;

/// Dispersion of a cut: its standard deviation is one over the square root of this, a fifth of the mean. No
/// source: practice would suggest a quarter to a third; calibrated so that the p10 to p90 band of simulated
/// plantings holds 80 %.
const DISPERSION: f64 = 25.0;
/// Stems that may come at any time, so that a few after the end are not impossible.
const STRAY_STEMS: f64 = 0.3;
/// Smallest prior standard deviation of a size, on the log scale: no crop is more certain than that.
const DEVIATION_MIN: f64 = 0.05;
/// Deviations beyond which the log prior is linear instead of quadratic (Huber), so that cuts outweigh a
/// prior that never foresaw them.
const HUBER_LIMIT: f64 = 1.5;
/// Newton steps. The objective is concave but for stray stems, so a few suffice.
const STEPS: usize = 16;

/// The mode of the log size, its standard deviation, and the log of the joint probability of prior and cuts.
/// `shares` are the expected share of the whole for each cut, with its stems.
pub(super) fn fitted(size: LogRange, shares: &[(f64, f64)]) -> (f64, f64, f64) {
    let (below, above) = size.deviations();
    let (below, above) = (below.max(DEVIATION_MIN), above.max(DEVIATION_MIN));
    let prior = size.middle().max(1e-3).ln();
    let side = |log_size: f64| if log_size < prior { below } else { above };
    // Starting near the estimate from the cuts alone, so that surprising sizes converge as fast.
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
        let mut slope =
            ((prior - log_size) / deviation).clamp(-HUBER_LIMIT, HUBER_LIMIT) / deviation;
        curvature = deviation.powi(-2);
        let whole = log_size.exp();
        for (share, stems) in shares {
            let regular = whole * share.max(0.0);
            let mean = regular + STRAY_STEMS;
            let pull = (stems - mean) * DISPERSION / (mean * (mean + DISPERSION));
            slope += pull * regular;
            // The expected information is never negative.
            curvature += regular * regular * DISPERSION / (mean * (mean + DISPERSION));
        }
        let step = (slope / curvature).clamp(-1.0, 1.0);
        log_size += step;
        if step.abs() < 1e-6 {
            break;
        }
    }
    let away = ((log_size - prior) / side(log_size)).abs();
    let against = if away > HUBER_LIMIT {
        HUBER_LIMIT * (away - HUBER_LIMIT / 2.0)
    } else {
        0.5 * away * away
    };
    let whole = log_size.exp();
    let likelihood: f64 = shares
        .iter()
        .map(|(share, stems)| {
            let mean = whole * share.max(0.0) + STRAY_STEMS;
            stems * mean.ln() - (stems + DISPERSION) * (mean + DISPERSION).ln()
                + ln_gamma(stems + DISPERSION)
                - ln_gamma(stems + 1.0)
        })
        .sum();
    let deviation = curvature.sqrt().recip();
    // Terms common to all scenarios are omitted.
    (log_size, deviation, likelihood - against + deviation.ln())
}
