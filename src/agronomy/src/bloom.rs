//! When a planting blooms, and how its stems spread over weeks.

pub mod cutting;
mod figures;
mod flush;
mod photoperiod;
mod way;

use chrono::NaiveDate;

use crate::climate::{Climate, Cover};
use crate::days;
use crate::degree_days::ARRIVAL_DAYS_MAX;
use crate::error::AgronomyError;
use crate::quantity::Spread;
pub use figures::{BloomFigures, DaysRange, Pace, StageKnown};
pub use flush::{FlushShape, flush};
pub use photoperiod::DayLengthResponse;
use way::Way;

/// The date of a planting's first bloom, with its uncertainty by what is known.
///
/// Warmth above the crop's base is summed from planting (single sine) until its
/// thermal time is reached. A crop without a thermal time goes by its cool and
/// warm days, interpolated by each day's mean temperature. Either is scaled by
/// the line's own factor, and each day counts at the rate its length allows
/// ([`DayLengthResponse`]). No bloom is forecast before the planting itself.
/// Days that were measured count as measured, days to come as
/// [`Climate::expected_under`] has them.
///
/// The band of a planting is as wide as the crop's own low and high days
/// and the weather left open make it; while the planting date is still a plan,
/// wider by what the trade allows for that. Once a bud or colour is seen, the
/// trade's bands of days stand around the middle ([`BloomFigures::around`]).
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
    let way = Way {
        figures,
        planted,
        climate,
        cover,
    };
    let bloom = match known {
        StageKnown::Planted => way.band()?,
        StageKnown::Sown => {
            let bloom = way.band()?;
            let further = |end: NaiveDate| {
                let days = days::between(bloom.p50, end) as f64;
                days::shifted_by(bloom.p50, days.hypot(figures.plan_days()).copysign(days))
            };
            Spread {
                // The earlier end of a band without width still lies before its middle.
                p10: further(bloom.p10.min(days::shifted(bloom.p50, -1))),
                p50: bloom.p50,
                p90: further(bloom.p90),
            }
        }
        StageKnown::VisibleBud | StageKnown::FirstColour => figures.around(way.middle()?, known),
    };
    Ok(bloom.map(|date| date.max(planted)))
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
        let way = Way {
            figures,
            planted: days::shifted(bloom_by, -lead),
            climate,
            cover,
        };
        way.middle().is_ok_and(|bloom| bloom <= bloom_by)
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
