//! One emergence curve, and the likelihood of the inspections under it.

use super::Inspection;

/// A log-logistic emergence curve: half up on `half_day`, steeper with `shape`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Curve {
    pub(super) half_day: f64,
    pub(super) shape: f64,
}

impl Curve {
    /// Share of the final number that is up by `day`.
    pub(super) fn up_by(&self, day: f64) -> f64 {
        if day <= 0.0 {
            0.0
        } else {
            1.0 / (1.0 + (day / self.half_day).powf(-self.shape))
        }
    }
}

/// The likelihood of the inspections under one curve, as a function of the final share.
///
/// At each inspection, the number newly up among those not up at the previous one is binomial with
/// probability G (F - F') / (1 - G F'), where G is the final share and F' and F are the curve at the previous
/// and at this inspection. In the sum of logs, the terms ln(1 - G F) of inspections that covered the same
/// number cancel and are omitted.
pub(super) struct CurveLikelihood {
    /// Terms that do not depend on the final share.
    constant: f64,
    /// Number that came up: the factor of ln G.
    came: f64,
    /// Factors of ln(1 - G F), with F.
    empty: Vec<(f64, f64)>,
    /// Share of its final number that the curve has up by the last inspection.
    pub(super) up_by_last: f64,
}

impl CurveLikelihood {
    pub(super) fn new(curve: &Curve, prior: f64, inspections: &[Inspection]) -> Self {
        let mut likelihood = Self {
            constant: prior,
            came: 0.0,
            empty: Vec::new(),
            up_by_last: 0.0,
        };
        let mut seen = 0.0;
        for (step, inspection) in inspections.iter().enumerate() {
            let of = f64::from(inspection.of);
            let up = curve.up_by(inspection.day);
            let newly = of * (inspection.share - seen);
            if newly > 0.0 {
                // Earlier than the curve allows at all: almost impossible, not NaN.
                likelihood.constant += newly * (up - likelihood.up_by_last).max(1e-12).ln();
                likelihood.came += newly;
            }
            let next_of = inspections
                .get(step + 1)
                .map_or(0.0, |next| f64::from(next.of));
            let factor = (of - next_of) * (1.0 - inspection.share);
            if factor.abs() > 1e-9 {
                likelihood.empty.push((factor, up));
            }
            likelihood.up_by_last = up;
            seen = inspection.share;
        }
        likelihood
    }

    pub(super) fn log_likelihood(&self, share: f64) -> f64 {
        let empty: f64 = self
            .empty
            .iter()
            .map(|(factor, up)| factor * (1.0 - share * up).ln())
            .sum();
        self.constant + self.came * share.ln() + empty
    }
}
