//! When a planting blooms, and how its stems spread over weeks.

mod figures;
mod flush;
mod photoperiod;

use chrono::NaiveDate;

use crate::climate::{Climate, Cover};
use crate::days;
use crate::degree_days::{ARRIVAL_DAYS_MAX, of_day, sum_until};
use crate::error::AgronomyError;
use crate::quantity::Spread;
pub use figures::{BloomFigures, DaysRange, Pace, StageKnown};
pub use flush::flush;
pub use photoperiod::DayLengthResponse;

/// The date of a planting's first bloom, with its uncertainty by what is known.
///
/// Warmth above the crop's base is summed from planting (single sine) until its
/// thermal time is reached. A crop without a thermal time goes by its cool and
/// warm days, interpolated by each day's mean temperature. Either is scaled by
/// the line's own factor, and each day counts at the rate its length allows
/// ([`DayLengthResponse`]). No bloom is forecast before the planting itself.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for figures that make no sense;
/// [`AgronomyError::NotReached`] if the warmth does not come within 500 days.
pub fn first_bloom(
    figures: &BloomFigures,
    planted: NaiveDate,
    climate: &Climate,
    cover: Cover,
    known: StageKnown,
) -> Result<Spread<NaiveDate>, AgronomyError> {
    figures.check()?;
    let middle = middle_bloom(figures, planted, climate, cover)?;
    let half = figures.half_band_days(known);
    Ok(Spread {
        p10: days::shifted_by(middle, -half).max(planted),
        p50: middle,
        p90: days::shifted_by(middle, half),
    })
}

fn middle_bloom(
    figures: &BloomFigures,
    planted: NaiveDate,
    climate: &Climate,
    cover: Cover,
) -> Result<NaiveDate, AgronomyError> {
    let rate = |date| {
        figures
            .day_length
            .map_or(1.0, |response| response.rate(climate.photoperiod(date)))
    };
    let factor = figures.line_factor;
    let found = match figures.thermal_time {
        Some(need) => sum_until(planted, need.0 * factor, |date| {
            rate(date) * of_day(climate, cover, date, figures.base, figures.ceiling)
        }),
        None => sum_until(planted, factor, |date| {
            let (min, max) = climate.day_under(date, cover);
            rate(date) * figures.daily_share(f64::midpoint(min.0, max.0))
        }),
    };
    found.ok_or(AgronomyError::NotReached {
        field: "first_bloom",
        limit: ARRIVAL_DAYS_MAX as f64,
    })
}

/// The latest date to plant so that first bloom is as likely as not by `bloom_by`.
///
/// # Errors
/// As [`first_bloom`]; [`AgronomyError::NotReached`] if even planting 500 days
/// ahead is too late.
pub fn planting_for_bloom(
    figures: &BloomFigures,
    bloom_by: NaiveDate,
    climate: &Climate,
    cover: Cover,
) -> Result<NaiveDate, AgronomyError> {
    figures.check()?;
    // Planting later never brings bloom forward, so halving finds the last date.
    let in_time = |lead: i64| {
        middle_bloom(figures, days::shifted(bloom_by, -lead), climate, cover)
            .is_ok_and(|bloom| bloom <= bloom_by)
    };
    let mut enough = ARRIVAL_DAYS_MAX;
    if !in_time(enough) {
        return Err(AgronomyError::NotReached {
            field: "planting",
            limit: ARRIVAL_DAYS_MAX as f64,
        });
    }
    let mut short = -1;
    while enough - short > 1 {
        let middle = i64::midpoint(short, enough);
        if in_time(middle) {
            enough = middle;
        } else {
            short = middle;
        }
    }
    Ok(days::shifted(bloom_by, -enough))
}
