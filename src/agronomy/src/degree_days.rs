//! Warmth summed above a base temperature.
//!
//! Several published readings of one day's minimum and maximum, and their sum
//! over a season or over measured days. They differ by up to half on a day
//! whose night falls below the base, so a figure is only usable with the
//! reading it was made with: a base and a sum of degree-days belong to a
//! [`Method`].

mod series;
mod sine;

use chrono::NaiveDate;

use crate::climate::{Climate, Cover};
use crate::days;
use crate::error::{AgronomyError, within};
use crate::quantity::{Celsius, DegreeDays};
pub use series::Series;
use sine::Wave;

/// How far [`arrival`] looks ahead, in days.
pub const ARRIVAL_DAYS_MAX: i64 = 500;

/// Temperatures of a day and thresholds taken for possible.
const TEMPERATURE_RANGE: (f64, f64) = (-90.0, 70.0);
/// Most degree-days that are asked for.
const NEED_MAX: f64 = 100_000.0;

/// The temperatures between which warmth counts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thresholds {
    base: f64,
    ceiling: Option<f64>,
}

impl Thresholds {
    /// Warmth counts above `base` and, where there is one, up to `ceiling`; what
    /// lies above that is the [`Method`]'s. Both -90 to 70 degrees.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] for a threshold outside its range;
    /// [`AgronomyError::OutOfOrder`] for a ceiling that does not lie above the base.
    pub fn new(base: Celsius, ceiling: Option<Celsius>) -> Result<Self, AgronomyError> {
        let (low, high) = TEMPERATURE_RANGE;
        let base = within("base", base.0, low, high)?;
        let ceiling = ceiling
            .map(|ceiling| within("ceiling", ceiling.0, low, high))
            .transpose()?;
        match ceiling {
            Some(ceiling) if ceiling <= base => Err(AgronomyError::OutOfOrder {
                lower_field: "base",
                upper_field: "ceiling",
                lower: base,
                upper: ceiling,
            }),
            _ => Ok(Self { base, ceiling }),
        }
    }

    /// Temperature below which nothing counts.
    pub fn base(&self) -> Celsius {
        Celsius(self.base)
    }

    /// Temperature above which more warmth counts no further, if there is one.
    pub fn ceiling(&self) -> Option<Celsius> {
        self.ceiling.map(Celsius)
    }

    fn capped(&self, value: f64) -> f64 {
        self.ceiling.map_or(value, |ceiling| value.min(ceiling))
    }

    fn held(&self, value: f64) -> f64 {
        self.capped(value).max(self.base)
    }
}

/// One day's minimum and maximum.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayRange {
    min: f64,
    max: f64,
}

impl DayRange {
    /// A day's minimum and maximum, both -90 to 70 degrees.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] for a temperature outside its range;
    /// [`AgronomyError::OutOfOrder`] for a minimum above the maximum.
    pub fn new(min: Celsius, max: Celsius) -> Result<Self, AgronomyError> {
        let (low, high) = TEMPERATURE_RANGE;
        let min = within("tmin", min.0, low, high)?;
        let max = within("tmax", max.0, low, high)?;
        if min <= max {
            Ok(Self { min, max })
        } else {
            Err(AgronomyError::OutOfOrder {
                lower_field: "tmin",
                upper_field: "tmax",
                lower: min,
                upper: max,
            })
        }
    }

    /// From a climate, whose days have been checked.
    fn known(min: Celsius, max: Celsius) -> Self {
        Self {
            min: min.0,
            max: max.0,
        }
    }
}

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

/// How a day's minimum and maximum are read. No reading gives less than zero.
///
/// A warmer minimum or maximum never gives fewer degree-days, except by the
/// intermediate and the vertical cutoff, whose point is that too much heat
/// takes development back. A higher base never gives more.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Method {
    /// The day's mean above the base, whatever the ceiling.
    SimpleAverage,
    /// Average the day first, then hold the mean between the thresholds: method
    /// 1 of G. S. McMaster & W. W. Wilhelm 1997, Agric. For. Meteorol. 87:291-300.
    MeanThenThreshold,
    /// Hold minimum and maximum each between the thresholds, then average:
    /// method 2 of McMaster & Wilhelm 1997.
    ThresholdThenMean,
    /// Raise the minimum to the base, cut the maximum to the ceiling, then
    /// average: the wording of the farm extension services' "86/50 modified
    /// average" (thresholds in Fahrenheit). It parts from
    /// [`ThresholdThenMean`](Self::ThresholdThenMean) where the whole day lies
    /// outside the thresholds: after a night above the ceiling it gives more,
    /// and a day below the base, where the wording gives less than zero, is zero.
    ModifiedAverage,
    /// Single sine (G. L. Baskerville & P. Emin 1969, Ecology 50:514-517; table
    /// in Zalom et al. 1983, UC leaflet 21373): the day runs as one sine wave
    /// between minimum and maximum, and the warmth between the thresholds is the
    /// area under it. A very hot day that the intermediate cutoff would take
    /// below zero is zero.
    SingleSine(Cutoff),
}

impl Method {
    /// Degree-days of one day.
    pub fn of_day(self, day: DayRange, thresholds: Thresholds) -> DegreeDays {
        let DayRange { min, max } = day;
        let base = thresholds.base;
        let sum = match self {
            Self::SimpleAverage => f64::midpoint(min, max) - base,
            Self::MeanThenThreshold => thresholds.held(f64::midpoint(min, max)) - base,
            Self::ThresholdThenMean => {
                f64::midpoint(thresholds.held(min), thresholds.held(max)) - base
            }
            Self::ModifiedAverage => f64::midpoint(min.max(base), thresholds.capped(max)) - base,
            Self::SingleSine(cutoff) => {
                Wave::of(min, max).between(base, thresholds.ceiling, cutoff)
            }
        };
        DegreeDays(sum.max(0.0))
    }
}

/// Warmth of one day in a place: single sine with a horizontal cutoff. A minimum
/// above its maximum is read the other way round; a ceiling that does not lie
/// above the base leaves nothing. With it what one degree more would add.
pub(crate) fn of_expected_day(
    (min, max): (Celsius, Celsius),
    base: Celsius,
    ceiling: Option<Celsius>,
) -> (f64, f64) {
    let wave = Wave::of(min.0, max.0);
    let ceiling = ceiling.map(|ceiling| ceiling.0);
    let warmth = wave.between(base.0, ceiling, Cutoff::Horizontal).max(0.0);
    (warmth, wave.share_between(base.0, ceiling))
}

/// Degree-days from the start of `from` to the start of `to` (the day `to`
/// itself is not counted) at plant height under `cover`: measured days where
/// there are any, usual ones elsewhere. Zero if `to` is not later.
pub fn accumulate(
    climate: &Climate,
    cover: Cover,
    from: NaiveDate,
    to: NaiveDate,
    method: Method,
    thresholds: Thresholds,
) -> DegreeDays {
    let days = usize::try_from(days::between(from, to)).unwrap_or(0);
    let sum = from
        .iter_days()
        .take(days)
        .map(|date| climate_day(climate, cover, date, method, thresholds))
        .sum();
    DegreeDays(sum)
}

/// The first date by whose start `need` degree-days (0 to 100,000) have passed
/// since the start of `from`, under `cover`. `from` itself if nothing is needed.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for a need that is none;
/// [`AgronomyError::NotReached`] if it takes more than [`ARRIVAL_DAYS_MAX`] days.
pub fn arrival(
    climate: &Climate,
    cover: Cover,
    from: NaiveDate,
    method: Method,
    thresholds: Thresholds,
    need: DegreeDays,
) -> Result<NaiveDate, AgronomyError> {
    let need = check_need(need)?;
    sum_until(from, need, |date| {
        climate_day(climate, cover, date, method, thresholds)
    })
    .ok_or(AgronomyError::NotReached {
        field: "degree_days",
        limit: ARRIVAL_DAYS_MAX as f64,
    })
}

fn climate_day(
    climate: &Climate,
    cover: Cover,
    date: NaiveDate,
    method: Method,
    thresholds: Thresholds,
) -> f64 {
    let (min, max) = climate.day_under(date, cover);
    method.of_day(DayRange::known(min, max), thresholds).0
}

fn check_need(need: DegreeDays) -> Result<f64, AgronomyError> {
    within("degree_days", need.0, 0.0, NEED_MAX)
}

/// A hair of tolerance keeps the sum of many equal days from missing by rounding.
pub(crate) const HAIR: f64 = 1e-9;

/// The first date by whose start the days' contributions add up to `need`.
pub(crate) fn sum_until(
    from: NaiveDate,
    need: f64,
    mut of_day: impl FnMut(NaiveDate) -> f64,
) -> Option<NaiveDate> {
    let mut sum = 0.0;
    for offset in 0..=ARRIVAL_DAYS_MAX {
        let date = days::shifted(from, offset);
        if sum >= need - HAIR {
            return Some(date);
        }
        sum += of_day(date);
    }
    None
}
