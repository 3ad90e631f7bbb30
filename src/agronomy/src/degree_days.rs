//! Warmth summed above a base temperature.
//!
//! Three published readings of one day's minimum and maximum, and their sum
//! over a season. They differ by up to half on a day whose night falls below
//! the base, so a figure is only usable with the reading it was made with.
//! A minimum above the maximum is read as the pair the other way round.

use chrono::NaiveDate;

use crate::climate::{Climate, Cover};
use crate::days;
use crate::error::AgronomyError;
use crate::quantity::{Celsius, DegreeDays};

/// How far [`arrival`] looks ahead, in days.
pub const ARRIVAL_DAYS_MAX: i64 = 500;

/// What warmth above the upper threshold does to development.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Cutoff {
    /// It adds nothing more than the upper threshold itself.
    Horizontal,
    /// It slows development down again, as fast as it grew below.
    Intermediate,
    /// It stops development while it lasts.
    Vertical,
}

/// The day's mean above `base`, never negative: method 1 of McMaster & Wilhelm
/// (1997, Agric. For. Meteorol. 87:291-300) without an upper threshold.
pub fn simple_average(min: Celsius, max: Celsius, base: Celsius) -> DegreeDays {
    mean_then_threshold(min, max, base, None)
}

/// Method 1 of McMaster & Wilhelm (1997): average the day first, then hold the
/// mean between the thresholds.
pub fn mean_then_threshold(
    min: Celsius,
    max: Celsius,
    base: Celsius,
    ceiling: Option<Celsius>,
) -> DegreeDays {
    let mean = f64::midpoint(min.0, max.0);
    DegreeDays(held(mean, base, ceiling) - base.0)
}

/// Method 2 of McMaster & Wilhelm (1997): hold minimum and maximum each between
/// the thresholds, then average. In Fahrenheit with 50 and 86 this is the
/// farm extension services' "86/50 modified average".
pub fn threshold_then_mean(
    min: Celsius,
    max: Celsius,
    base: Celsius,
    ceiling: Option<Celsius>,
) -> DegreeDays {
    let low = held(min.0, base, ceiling);
    let high = held(max.0, base, ceiling);
    DegreeDays(f64::midpoint(low, high) - base.0)
}

fn held(value: f64, base: Celsius, ceiling: Option<Celsius>) -> f64 {
    let capped = ceiling.map_or(value, |ceiling| value.min(ceiling.0));
    capped.max(base.0)
}

/// Single sine (Baskerville & Emin 1969, Ecology 50:514-517; table in Zalom et
/// al. 1983, UC leaflet 21373): the day runs as one sine wave between minimum
/// and maximum, and the warmth between the thresholds is the area under it.
/// The intermediate cutoff can take a very hot day below zero; such a day
/// counts as zero.
pub fn single_sine(
    min: Celsius,
    max: Celsius,
    base: Celsius,
    ceiling: Option<Celsius>,
    cutoff: Cutoff,
) -> DegreeDays {
    let wave = Wave {
        mean: f64::midpoint(min.0, max.0),
        swing: (max.0 - min.0).abs() / 2.0,
    };
    let total = wave.area_above(base.0);
    let sum = match ceiling {
        None => total,
        Some(ceiling) if ceiling.0 <= base.0 => 0.0,
        Some(ceiling) => {
            let excess = wave.area_above(ceiling.0);
            match cutoff {
                Cutoff::Horizontal => total - excess,
                Cutoff::Intermediate => total - 2.0 * excess,
                Cutoff::Vertical => {
                    total - excess - (ceiling.0 - base.0) * wave.share_above(ceiling.0)
                }
            }
        }
    };
    DegreeDays(sum.max(0.0))
}

/// A day's temperature as mean plus swing times the sine of time.
struct Wave {
    mean: f64,
    swing: f64,
}

impl Wave {
    /// Mean over the day of the temperature's excess over `level`.
    fn area_above(&self, level: f64) -> f64 {
        let over = self.mean - level;
        if over >= self.swing {
            return over;
        }
        if over <= -self.swing {
            return 0.0;
        }
        let theta = (-over / self.swing).asin();
        (over * (std::f64::consts::FRAC_PI_2 - theta) + self.swing * theta.cos())
            / std::f64::consts::PI
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

/// Warmth of one day in a place: single sine with a horizontal cutoff.
pub(crate) fn of_day(
    climate: &Climate,
    cover: Cover,
    date: NaiveDate,
    base: Celsius,
    ceiling: Option<Celsius>,
) -> f64 {
    let (min, max) = climate.day_under(date, cover);
    single_sine(min, max, base, ceiling, Cutoff::Horizontal).0
}

/// Degree-days above `base` from the start of `from` to the start of `to` (the
/// day `to` itself is not counted), single sine. Zero if `to` is not later.
pub fn accumulate(
    climate: &Climate,
    cover: Cover,
    from: NaiveDate,
    to: NaiveDate,
    base: Celsius,
) -> DegreeDays {
    let days = usize::try_from(days::between(from, to)).unwrap_or(0);
    let sum = from
        .iter_days()
        .take(days)
        .map(|date| of_day(climate, cover, date, base, None))
        .sum();
    DegreeDays(sum)
}

/// The first date by whose start `need` degree-days have passed since the start
/// of `from`: single sine with a horizontal cutoff at `ceiling`. `from` itself
/// if nothing is needed.
///
/// # Errors
/// [`AgronomyError::NotReached`] if that takes more than [`ARRIVAL_DAYS_MAX`] days.
pub fn arrival(
    climate: &Climate,
    cover: Cover,
    from: NaiveDate,
    base: Celsius,
    ceiling: Option<Celsius>,
    need: DegreeDays,
) -> Result<NaiveDate, AgronomyError> {
    sum_until(from, need.0, |date| {
        of_day(climate, cover, date, base, ceiling)
    })
    .ok_or(AgronomyError::NotReached {
        field: "degree_days",
        limit: ARRIVAL_DAYS_MAX as f64,
    })
}

/// The first date by whose start the days' contributions add up to `need`.
pub(crate) fn sum_until(
    from: NaiveDate,
    need: f64,
    mut of_day: impl FnMut(NaiveDate) -> f64,
) -> Option<NaiveDate> {
    let mut sum = 0.0;
    // A hair of tolerance keeps the sum of many equal days from missing by rounding.
    let enough = need - 1e-9;
    for offset in 0..=ARRIVAL_DAYS_MAX {
        let date = days::shifted(from, offset);
        if sum >= enough {
            return Some(date);
        }
        sum += of_day(date);
    }
    None
}
