//! The area under one sine wave a day.

use super::Cutoff;

/// A day's temperature as mean plus swing times the sine of time.
pub(super) struct Wave {
    mean: f64,
    swing: f64,
}

impl Wave {
    pub(super) fn of(min: f64, max: f64) -> Self {
        Self {
            mean: f64::midpoint(min, max),
            swing: (max - min).abs() / 2.0,
        }
    }

    /// Degree-days of the day between the thresholds; below zero where the
    /// intermediate cutoff takes more than there is.
    pub(super) fn between(&self, base: f64, ceiling: Option<f64>, cutoff: Cutoff) -> f64 {
        let total = self.area_above(base);
        match ceiling {
            None => total,
            Some(ceiling) if ceiling <= base => 0.0,
            Some(ceiling) => {
                let excess = self.area_above(ceiling);
                match cutoff {
                    Cutoff::Horizontal => total - excess,
                    Cutoff::Intermediate => total - 2.0 * excess,
                    Cutoff::Vertical => {
                        total - excess - (ceiling - base) * self.share_above(ceiling)
                    }
                }
            }
        }
    }

    /// About the share of the day spent between the thresholds, by the span of
    /// its temperatures: good enough to tell how much a degree matters.
    pub(super) fn share_between(&self, base: f64, ceiling: Option<f64>) -> f64 {
        let above = |level: f64| {
            let swing = self.swing.max(0.5);
            ((self.mean + swing - level) / (2.0 * swing)).clamp(0.0, 1.0)
        };
        (above(base) - ceiling.map_or(0.0, above)).max(0.0)
    }

    /// Mean over the day of the temperature's excess over `level`.
    fn area_above(&self, level: f64) -> f64 {
        let over = self.mean - level;
        if over >= self.swing {
            return over;
        }
        if over <= -self.swing {
            return 0.0;
        }
        let sine = -over / self.swing;
        let theta = sine.asin();
        // The cosine of the arc sine, without a second call for an angle.
        let cosine = (1.0 - sine * sine).sqrt();
        (over * (std::f64::consts::FRAC_PI_2 - theta) + self.swing * cosine) / std::f64::consts::PI
    }

    /// Share of the day spent above `level`.
    fn share_above(&self, level: f64) -> f64 {
        let over = self.mean - level;
        if over >= self.swing {
            return if over > 0.0 { 1.0 } else { 0.0 };
        }
        if over <= -self.swing {
            return 0.0;
        }
        0.5 - (-over / self.swing).asin() / std::f64::consts::PI
    }
}
