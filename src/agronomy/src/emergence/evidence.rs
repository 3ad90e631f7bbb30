//! One emergence curve, and what the looks say of it.

use super::Looked;

/// A log-logistic emergence curve: half up on `half_day`, steeper with `shape`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Curve {
    pub(super) half_day: f64,
    pub(super) shape: f64,
}

impl Curve {
    /// Share of those that come up in the end that are up by `day`.
    pub(super) fn up_by(&self, day: f64) -> f64 {
        if day <= 0.0 {
            0.0
        } else {
            1.0 / (1.0 + (day / self.half_day).powf(-self.shape))
        }
    }
}

/// What the looks say of one curve, with all done that does not depend on the
/// final share.
///
/// At each look, of what was not up at the one before, the part newly up is
/// binomial with chance G (F - F') / (1 - G F'), where G is the final share and
/// F', F the curve before and now. In the sum of logs the terms ln(1 - G F)
/// cancel between looks that covered the same number, and are left out.
pub(super) struct Evidence {
    /// Logs that do not depend on the final share.
    constant: f64,
    /// How many came up: the factor of ln G.
    came: f64,
    /// Factors of ln(1 - G F), with F.
    empty: Vec<(f64, f64)>,
    /// Share of its final number that the curve has up by the last look.
    pub(super) up_by_last: f64,
}

impl Evidence {
    pub(super) fn new(curve: &Curve, prior: f64, looks: &[Looked]) -> Self {
        let mut evidence = Self {
            constant: prior,
            came: 0.0,
            empty: Vec::new(),
            up_by_last: 0.0,
        };
        let mut seen = 0.0;
        for (step, look) in looks.iter().enumerate() {
            let of = f64::from(look.of);
            let up = curve.up_by(look.day);
            let newly = of * (look.share - seen);
            if newly > 0.0 {
                // Up sooner than the curve allows at all: next to impossible, not NaN.
                evidence.constant += newly * (up - evidence.up_by_last).max(1e-12).ln();
                evidence.came += newly;
            }
            let next_of = looks.get(step + 1).map_or(0.0, |next| f64::from(next.of));
            let factor = (of - next_of) * (1.0 - look.share);
            if factor.abs() > 1e-9 {
                evidence.empty.push((factor, up));
            }
            evidence.up_by_last = up;
            seen = look.share;
        }
        evidence
    }

    pub(super) fn log_weight(&self, share: f64) -> f64 {
        let empty: f64 = self
            .empty
            .iter()
            .map(|(factor, up)| factor * (1.0 - share * up).ln())
            .sum();
        self.constant + self.came * share.ln() + empty
    }
}
