//! A place's weather as it usually is, day by day, outdoors and under cover.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};

use crate::curve::{MONTH_DAYS, daily_from_monthly};
use crate::error::{AgronomyError, within};
use crate::frost::FrostModel;
pub use crate::frost::{FrostDates, MonthDay};
use crate::quantity::{Celsius, Chance, Latitude};

/// Coldest and warmest monthly normal taken for possible.
const NORMAL_RANGE: (f64, f64) = (-60.0, 60.0);

/// What stands between the plants and the sky.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Cover {
    /// Nothing: a bed outdoors.
    Open,
    /// One layer of plastic, unheated, vented on warm days.
    Tunnel,
}

/// Mean daily minimum and maximum of each month, January first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Normals {
    /// Mean daily minimum by month.
    pub tmin: [Celsius; 12],
    /// Mean daily maximum by month.
    pub tmax: [Celsius; 12],
}

impl Normals {
    /// Normals from monthly means in degrees Celsius (-60 to 60), January first.
    ///
    /// # Errors
    /// [`AgronomyError`] for a value out of range or a minimum above its maximum.
    pub fn new(tmin: [Celsius; 12], tmax: [Celsius; 12]) -> Result<Self, AgronomyError> {
        let normals = Self { tmin, tmax };
        normals.check()?;
        Ok(normals)
    }

    fn check(&self) -> Result<(), AgronomyError> {
        for (min, max) in self.tmin.iter().zip(&self.tmax) {
            within("tmin", min.0, NORMAL_RANGE.0, NORMAL_RANGE.1)?;
            within("tmax", max.0, NORMAL_RANGE.0, NORMAL_RANGE.1)?;
            in_order(*min, *max)?;
        }
        Ok(())
    }
}

fn in_order(min: Celsius, max: Celsius) -> Result<(), AgronomyError> {
    if min.0 <= max.0 {
        Ok(())
    } else {
        Err(AgronomyError::OutOfOrder {
            lower_field: "tmin",
            upper_field: "tmax",
            lower: min.0,
            upper: max.0,
        })
    }
}

/// The usual weather of a place, with the days that were measured put in.
#[derive(Debug, Clone, PartialEq)]
pub struct Climate {
    latitude: Latitude,
    normals: Normals,
    /// Minimum and maximum for each day of a common year.
    usual: Vec<(f64, f64)>,
    frost_dates: FrostDates,
    frost: FrostModel,
    observed: BTreeMap<(NaiveDate, Cover), (f64, f64)>,
}

impl Climate {
    /// The climate of a place from its monthly normals and frost dates.
    ///
    /// # Errors
    /// [`AgronomyError`] for normals out of range or out of order, for days that
    /// do not exist, and for one-in-ten frost dates on the wrong side of, or more
    /// than 75 days from, the even ones.
    pub fn new(
        latitude: Latitude,
        normals: Normals,
        frost_dates: FrostDates,
    ) -> Result<Self, AgronomyError> {
        normals.check()?;
        let frost = frost_dates.fitted()?;
        let low = daily_from_monthly(&normals.tmin.map(|value| value.0));
        let high = daily_from_monthly(&normals.tmax.map(|value| value.0));
        // Where a month's minimum all but touches its maximum the curves may cross.
        let usual = low
            .into_iter()
            .zip(high)
            .map(|(min, max)| {
                if min <= max {
                    (min, max)
                } else {
                    let mean = f64::midpoint(min, max);
                    (mean, mean)
                }
            })
            .collect();
        Ok(Self {
            latitude,
            normals,
            usual,
            frost_dates,
            frost,
            observed: BTreeMap::new(),
        })
    }

    /// The place's latitude.
    pub fn latitude(&self) -> Latitude {
        self.latitude
    }

    /// The monthly normals it was made from.
    pub fn normals(&self) -> &Normals {
        &self.normals
    }

    /// The frost dates it was made from.
    pub fn frost_dates(&self) -> &FrostDates {
        &self.frost_dates
    }

    /// The same climate with one day's measured minimum and maximum (-60 to 60
    /// degrees) in the place of the usual ones. A day measured outdoors also
    /// stands behind the tunnel's estimate, unless the tunnel was measured too.
    ///
    /// # Errors
    /// [`AgronomyError`] for values out of range or out of order.
    pub fn with_observed(
        mut self,
        date: NaiveDate,
        cover: Cover,
        min: Celsius,
        max: Celsius,
    ) -> Result<Self, AgronomyError> {
        within("tmin", min.0, NORMAL_RANGE.0, NORMAL_RANGE.1)?;
        within("tmax", max.0, NORMAL_RANGE.0, NORMAL_RANGE.1)?;
        in_order(min, max)?;
        self.observed.insert((date, cover), (min.0, max.0));
        Ok(self)
    }

    /// Minimum and maximum outdoors on `date`: measured if known, else usual.
    pub fn day(&self, date: NaiveDate) -> (Celsius, Celsius) {
        let (min, max) = self
            .observed
            .get(&(date, Cover::Open))
            .copied()
            .unwrap_or_else(|| self.usual_on(date));
        (Celsius(min), Celsius(max))
    }

    /// Minimum and maximum at plant height under `cover` on `date`.
    ///
    /// An unheated single-layer tunnel adds 1.3 degrees to the minimum and 4.2
    /// to the maximum (Savage 1980, one site). Once the inside would pass 25
    /// degrees the sides are opened and the gain on the maximum shrinks, down
    /// to 2.7, which leaves the mean 2 degrees above outdoors (common practice,
    /// no source). On single clear nights the gain can vanish: watch a
    /// thermometer at plant height, not this figure.
    pub fn day_under(&self, date: NaiveDate, cover: Cover) -> (Celsius, Celsius) {
        let (min, max) = self.day(date);
        match cover {
            Cover::Open => (min, max),
            Cover::Tunnel => self.observed.get(&(date, Cover::Tunnel)).map_or_else(
                || under_plastic(min, max),
                |measured| (Celsius(measured.0), Celsius(measured.1)),
            ),
        }
    }

    fn usual_on(&self, date: NaiveDate) -> (f64, f64) {
        let month = date.month0() as usize;
        let day = date.day0() as usize;
        let start: usize = MONTH_DAYS.iter().take(month).sum();
        let at = |index: usize| {
            self.usual
                .get(index % self.usual.len().max(1))
                .copied()
                .unwrap_or((0.0, 0.0))
        };
        if MONTH_DAYS.get(month).is_some_and(|days| day >= *days) {
            // 29 February lies between its neighbours.
            let (before, after) = (at(start + day - 1), at(start + day));
            return (
                f64::midpoint(before.0, after.0),
                f64::midpoint(before.1, after.1),
            );
        }
        at(start + day)
    }

    /// Chance of a spring frost on or after `date`, outdoors. Reckoned for the
    /// last frost nearest in time, so it is near 1 in the winter before it.
    pub fn frost_chance_after(&self, date: NaiveDate) -> Chance {
        self.frost.chance_after(date)
    }

    /// Chance of an autumn frost on or before `date`, outdoors. Reckoned for the
    /// first frost nearest in time, so it stays near 1 through the winter after it.
    pub fn frost_chance_before(&self, date: NaiveDate) -> Chance {
        self.frost.chance_before(date)
    }

    /// The date in `year` after which a spring frost still has `chance`, to the
    /// nearest day; chances are held within 0.001 to 0.999.
    pub fn last_frost_with_chance(&self, year: i32, chance: Chance) -> NaiveDate {
        self.frost.last_with_chance(year, chance)
    }

    /// The date in `year` by which the first autumn frost has come with `chance`,
    /// to the nearest day; chances are held within 0.001 to 0.999.
    pub fn first_frost_with_chance(&self, year: i32, chance: Chance) -> NaiveDate {
        self.frost.first_with_chance(year, chance)
    }
}

/// Gain of a closed single-layer tunnel on the daily minimum (Savage 1980).
const TUNNEL_MIN_GAIN: f64 = 1.3;
/// Gain of a closed single-layer tunnel on the daily maximum (Savage 1980).
const TUNNEL_MAX_GAIN: f64 = 4.2;
/// Gain on the maximum with the sides open (common practice).
const TUNNEL_VENTED_GAIN: f64 = 2.7;
/// Inside temperature at which the sides are opened (common practice).
const TUNNEL_VENT_AT: f64 = 25.0;

fn under_plastic(min: Celsius, max: Celsius) -> (Celsius, Celsius) {
    let gain = (TUNNEL_VENT_AT - max.0).clamp(TUNNEL_VENTED_GAIN, TUNNEL_MAX_GAIN);
    (Celsius(min.0 + TUNNEL_MIN_GAIN), Celsius(max.0 + gain))
}
