//! Sunrise, sunset and hours of daylight by place and date.
//!
//! The equations are those of NOAA's solar calculator (after J. Meeus,
//! *Astronomical Algorithms*). Held against two independent ephemerides, moments
//! and day lengths agree within a minute up to 60 degrees of latitude and within
//! four up to 66, for 1900 to 2100; nearer the poles, where the sun skims the
//! horizon, within ten. Dates beyond are allowed: see [`solar_position`] for how
//! they are reckoned. Refraction is the conventional 34 minutes of arc, the solar
//! radius 16, so sunrise is the moment the centre stands 0.833 degrees below the
//! horizon. Hills, height and weather are left out.

mod arc;
mod position;

use chrono::{DateTime, Datelike, NaiveDate, NaiveTime, TimeDelta, Utc};

use crate::days;
use crate::error::{AgronomyError, within};
use crate::quantity::{Hours, Latitude, Longitude};
use arc::{Arc, HALF_DAY_MINUTES, Light};
use position::julian_day_at_midnight;
pub use position::{SolarPosition, solar_position};

/// What counts as sunrise and sunset.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Horizon {
    /// The sun's centre crosses the geometric horizon, without refraction.
    Centre,
    /// The sun's upper edge becomes visible, with refraction: what almanacs print.
    UpperLimb,
    /// The sun's centre stands 6 degrees below the horizon: the ends of civil
    /// twilight, between which there is light enough for plants to count as day.
    CivilTwilight,
}

impl Horizon {
    /// Height of the sun's centre at its rise and set, in degrees.
    fn altitude_degrees(self) -> f64 {
        match self {
            Self::Centre => 0.0,
            Self::UpperLimb => -0.833,
            Self::CivilTwilight => -6.0,
        }
    }
}

/// The sun's day at a place. With [`Horizon::CivilTwilight`], rise and set are
/// dawn and dusk.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SunDay {
    /// The sun rises and sets. On the one day at either end of the midnight sun
    /// when it is up at only one of the two midnights, the rise or set that
    /// does not come is put at that midnight.
    RisesAndSets {
        /// When it rises.
        sunrise: DateTime<Utc>,
        /// When it stands highest.
        solar_noon: DateTime<Utc>,
        /// When it sets.
        sunset: DateTime<Utc>,
    },
    /// The sun stays below the horizon, even at noon.
    PolarNight {
        /// When it stands highest.
        solar_noon: DateTime<Utc>,
    },
    /// The sun stays above the horizon from midnight to midnight.
    PolarDay {
        /// When it stands highest.
        solar_noon: DateTime<Utc>,
    },
}

impl SunDay {
    /// When the sun stands highest.
    pub fn solar_noon(self) -> DateTime<Utc> {
        match self {
            Self::RisesAndSets { solar_noon, .. }
            | Self::PolarNight { solar_noon }
            | Self::PolarDay { solar_noon } => solar_noon,
        }
    }
}

/// Sunrise, solar noon and sunset as moments in UTC, of the day whose noon by
/// local mean time falls on `date`. Far from Greenwich sunrise or sunset so may
/// belong to the day before or after by the UTC calendar.
pub fn sun_day(
    latitude: Latitude,
    longitude: Longitude,
    date: NaiveDate,
    horizon: Horizon,
) -> SunDay {
    // The earth turns 15 degrees an hour; noon comes sooner in the east.
    let mean_noon_minutes = HALF_DAY_MINUTES - longitude.get() * 4.0;
    let moment = |minutes: f64| at_minutes(date, mean_noon_minutes + minutes);
    let noon = julian_day_at_midnight(date) + mean_noon_minutes / (2.0 * HALF_DAY_MINUTES);
    let arc = Arc::of(latitude, noon, horizon);
    let solar_noon = moment(arc.noon);
    match arc.light {
        Light::None => SunDay::PolarNight { solar_noon },
        Light::Whole => SunDay::PolarDay { solar_noon },
        Light::Between(rise, set) => SunDay::RisesAndSets {
            sunrise: moment(rise),
            solar_noon,
            sunset: moment(set),
        },
    }
}

/// Day length at `latitude` on `date`, from 0 (polar night) to 24 hours
/// (midnight sun), as it is at longitude 0. Halfway round the earth it has moved
/// on by half a day's gain: a minute and a half at 45 degrees, three at 60.
pub fn day_length(latitude: Latitude, date: NaiveDate, horizon: Horizon) -> Hours {
    let noon = julian_day_at_midnight(date) + 0.5;
    Hours(match Arc::of(latitude, noon, horizon).light {
        Light::None => 0.0,
        Light::Whole => 24.0,
        Light::Between(rise, set) => ((set - rise) / 60.0).clamp(0.0, 24.0),
    })
}

/// The dates in `year` on which day length comes to lie on the other side of
/// `threshold` (0 to 24 hours) than on the day before, in order. Empty where it
/// never does. A day that reaches the threshold counts as above.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for a threshold that no day can have, or a year
/// outside the calendar (some 262 thousand years either way).
pub fn crossings(
    latitude: Latitude,
    year: i32,
    threshold: Hours,
    horizon: Horizon,
) -> Result<Vec<NaiveDate>, AgronomyError> {
    within("threshold", threshold.0, 0.0, 24.0)?;
    let first = NaiveDate::from_ymd_opt(year, 1, 1).ok_or(AgronomyError::OutOfRange {
        field: "year",
        low: f64::from(NaiveDate::MIN.year()),
        high: f64::from(NaiveDate::MAX.year()),
        got: f64::from(year),
    })?;
    let long = |date| day_length(latitude, date, horizon) >= threshold;
    let mut was_long = long(days::shifted(first, -1));
    Ok(first
        .iter_days()
        .take_while(|date| date.year() == year)
        .filter(|date| {
            let is_long = long(*date);
            let crossed = is_long != was_long;
            was_long = is_long;
            crossed
        })
        .collect())
}

/// The moment so many minutes after 00:00 UTC of `date`; held at the calendar's ends.
fn at_minutes(date: NaiveDate, minutes: f64) -> DateTime<Utc> {
    let midnight = date.and_time(NaiveTime::MIN).and_utc();
    let end = if minutes < 0.0 {
        DateTime::<Utc>::MIN_UTC
    } else {
        DateTime::<Utc>::MAX_UTC
    };
    // The cast saturates; a day has few milliseconds.
    TimeDelta::try_milliseconds((minutes * 60_000.0).round() as i64)
        .and_then(|span| midnight.checked_add_signed(span))
        .unwrap_or(end)
}
