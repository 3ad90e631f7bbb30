//! Degree-days of one day, by the single sine method.
//!
//! G. L. Baskerville & P. Emin 1969, Ecology 50:514-517; tables in Zalom et al. 1983, UC leaflet 21373. The
//! temperature of a day follows one sine wave between its minimum and its maximum. Degree-days are the area
//! under the wave above the base, with a horizontal cutoff at the ceiling: warmth above it counts no further.
//!
//! Other methods give up to half as much again on a day whose night falls below the base, so a thermal time
//! is only valid with the method it was measured by.

use std::f64::consts::{FRAC_PI_2, PI};

use chrono::NaiveDate;

use crate::days;
use crate::quantity::{Celsius, DegreeDays};

/// The longest time over which degree-days are summed, in days.
pub(crate) const SUM_DAYS_MAX: i64 = 500;

/// Rounding error allowed for in a sum of many days.
pub(crate) const TOLERANCE: f64 = 1e-9;

/// Degree-days of a day from `min` to `max`, above `base` and up to `ceiling`; never negative.
///
/// The order of minimum and maximum does not matter. A ceiling at or below the base gives zero.
pub fn single_sine(
    min: Celsius,
    max: Celsius,
    base: Celsius,
    ceiling: Option<Celsius>,
) -> DegreeDays {
    DegreeDays(with_slope((min, max), base, ceiling).0)
}

/// As [`single_sine`], with the degree-days that one degree more would add.
pub(crate) fn with_slope(
    (min, max): (Celsius, Celsius),
    base: Celsius,
    ceiling: Option<Celsius>,
) -> (f64, f64) {
    let wave = Wave::of(min.0, max.0);
    let ceiling = ceiling.map(|ceiling| ceiling.0);
    let warmth = wave.area_between(base.0, ceiling).max(0.0);
    (warmth, wave.share_between(base.0, ceiling))
}

/// The first date by whose start the days' contributions add up to `required`.
pub(crate) fn sum_until(
    from: NaiveDate,
    required: f64,
    mut of_day: impl FnMut(NaiveDate) -> f64,
) -> Option<NaiveDate> {
    let mut sum = 0.0;
    for offset in 0..=SUM_DAYS_MAX {
        let date = days::shifted(from, offset);
        if sum >= required - TOLERANCE {
            return Some(date);
        }
        sum += of_day(date);
    }
    None
}

/// A day's temperature: its mean plus `amplitude` times a sine.
struct Wave {
    mean: f64,
    amplitude: f64,
}

impl Wave {
    fn of(min: f64, max: f64) -> Self {
        Self {
            mean: f64::midpoint(min, max),
            amplitude: (max - min).abs() / 2.0,
        }
    }

    fn area_between(&self, base: f64, ceiling: Option<f64>) -> f64 {
        let total = self.area_above(base);
        match ceiling {
            None => total,
            Some(ceiling) if ceiling <= base => 0.0,
            Some(ceiling) => total - self.area_above(ceiling),
        }
    }

    /// Approximate share of the day spent between the thresholds, which is what one degree more adds. It
    /// treats the temperature as uniform between its extremes.
    fn share_between(&self, base: f64, ceiling: Option<f64>) -> f64 {
        let above = |level: f64| {
            let amplitude = self.amplitude.max(0.5);
            ((self.mean + amplitude - level) / (2.0 * amplitude)).clamp(0.0, 1.0)
        };
        (above(base) - ceiling.map_or(0.0, above)).max(0.0)
    }

    /// The excess of the temperature over `level`, averaged over the day.
    fn area_above(&self, level: f64) -> f64 {
        let over = self.mean - level;
        if over >= self.amplitude {
            return over;
        }
        if over <= -self.amplitude {
            return 0.0;
        }
        let sine = -over / self.amplitude;
        let theta = sine.asin();
        // The cosine of theta, without a second trigonometric call.
        let cosine = (1.0 - sine * sine).sqrt();
        (over * (FRAC_PI_2 - theta) + self.amplitude * cosine) / PI
    }
}
