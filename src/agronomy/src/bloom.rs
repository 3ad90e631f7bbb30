//! When a planting blooms, and how its stems spread over the weeks.

pub mod cutting;
mod development;
mod figures;
mod flush;
mod photoperiod;

use chrono::NaiveDate;

use crate::climate::{Climate, Cover};
use crate::days;
use crate::degree_days::SUM_DAYS_MAX;
use crate::error::AgronomyError;
use crate::quantity::Spread;
use development::Development;
pub use figures::{BloomFigures, DaysRange, Pace, StageKnown};
pub use flush::{FlushShape, weekly_shares};
pub use photoperiod::DayLengthResponse;

/// The date of a planting's first bloom, with its uncertainty for what is known about it.
///
/// Degree-days above the crop's base (single sine) are summed from planting until its thermal time is
/// reached. A crop without a thermal time uses its cool and warm days instead, interpolated by each day's
/// mean temperature. Either is scaled by the line's own factor, and each day counts at the rate that its day
/// length allows ([`DayLengthResponse`]). Bloom is never forecast before planting. Measured days count as
/// measured, later days as in [`Climate::expected_under`].
///
/// The band of a planting follows from the crop's range of days and from the uncertainty of the weather;
/// while the planting date is still a plan, it is wider by the customary allowance for that. Once a bud or
/// colour is seen, the customary bands around the median apply ([`BloomFigures::around`]).
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for invalid figures; [`AgronomyError::NotReached`] if the thermal time is
/// not reached within 500 days.
pub fn first_bloom(
    figures: &BloomFigures,
    planted: NaiveDate,
    climate: &Climate,
    cover: Cover,
    known: StageKnown,
) -> Result<Spread<NaiveDate>, AgronomyError> {
    figures.check()?;
    let development = Development {
        figures,
        planted,
        climate,
        cover,
    };
    let bloom = match known {
        StageKnown::Planted => development.band()?,
        StageKnown::Sown => {
            let bloom = development.band()?;
            let widened = |end: NaiveDate| {
                let days = days::between(bloom.p50, end) as f64;
                days::shifted_by(bloom.p50, days.hypot(figures.plan_days()).copysign(days))
            };
            Spread {
                // The early end of a zero-width band still moves to before the median.
                p10: widened(bloom.p10.min(days::shifted(bloom.p50, -1))),
                p50: bloom.p50,
                p90: widened(bloom.p90),
            }
        }
        StageKnown::VisibleBud | StageKnown::FirstColour => {
            figures.around(development.median()?, known)
        }
    };
    Ok(bloom.map(|date| date.max(planted)))
}

/// The latest planting date for which first bloom is as likely as not by `bloom_by`.
///
/// # Errors
/// As [`first_bloom`]; [`AgronomyError::NotReached`] if even planting 500 days ahead is too late.
pub fn planting_for_bloom(
    figures: &BloomFigures,
    bloom_by: NaiveDate,
    climate: &Climate,
    cover: Cover,
) -> Result<NaiveDate, AgronomyError> {
    figures.check()?;
    // Bisection is valid because later planting never brings bloom forward.
    let in_time = |lead: i64| {
        let development = Development {
            figures,
            planted: days::shifted(bloom_by, -lead),
            climate,
            cover,
        };
        development.median().is_ok_and(|bloom| bloom <= bloom_by)
    };
    let mut enough = SUM_DAYS_MAX;
    if !in_time(enough) {
        return Err(AgronomyError::NotReached {
            field: "planting",
            limit: SUM_DAYS_MAX as f64,
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
