//! A site's usual weather, day by day, outdoors and under cover, with measured days in its place.

pub(crate) mod anomaly;
mod cover;
mod normals;
mod observed;
mod photoperiod;

use chrono::NaiveDate;

use crate::days;
use crate::error::AgronomyError;
pub use crate::frost::{FrostDates, FrostModel, MonthDay};
use crate::quantity::{Celsius, Chance, Hours, Latitude};
use anomaly::TemperatureAnomaly;
pub use cover::Cover;
use cover::in_tunnel;
pub use normals::Normals;
use normals::{DailyNormals, check_day};
use observed::{Measured, Observed};
use photoperiod::PhotoperiodYear;

/// The usual weather of a site, with measured days in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Climate {
    latitude: Latitude,
    normals: Normals,
    daily: DailyNormals,
    photoperiod: PhotoperiodYear,
    frost: FrostModel,
    observed: Observed,
    anomaly_open: Option<TemperatureAnomaly>,
    anomaly_tunnel: Option<TemperatureAnomaly>,
}

/// The weather expected on a day.
pub(crate) struct ExpectedDay {
    /// Minimum.
    pub(crate) min: Celsius,
    /// Maximum.
    pub(crate) max: Celsius,
    /// Share of the variance of the season's anomaly that is still uncertain: 0 on a measured day, 1 if
    /// nothing was measured.
    pub(crate) uncertain: f64,
}

impl Climate {
    /// The climate of a site from its monthly normals and two dates for each frost. The days of each month
    /// average to its normal.
    ///
    /// # Errors
    /// [`AgronomyError`] for normals out of range or out of order, for days that do not exist, and for
    /// one-in-ten frost dates on the wrong side of the median dates or more than 75 days away from them.
    pub fn new(
        latitude: Latitude,
        normals: Normals,
        frost_dates: FrostDates,
    ) -> Result<Self, AgronomyError> {
        Self::with_frost(latitude, normals, frost_dates.model()?)
    }

    /// The climate of a site whose frosts are known by more than two dates.
    ///
    /// # Errors
    /// [`AgronomyError`] for normals out of range or out of order.
    pub fn with_frost(
        latitude: Latitude,
        normals: Normals,
        frost: FrostModel,
    ) -> Result<Self, AgronomyError> {
        normals.check()?;
        Ok(Self {
            latitude,
            normals,
            daily: DailyNormals::of(&normals),
            photoperiod: PhotoperiodYear::at(latitude),
            frost,
            observed: Observed::default(),
            anomaly_open: None,
            anomaly_tunnel: None,
        })
    }

    /// The site's latitude.
    pub fn latitude(&self) -> Latitude {
        self.latitude
    }

    /// The site's monthly normals.
    pub fn normals(&self) -> &Normals {
        &self.normals
    }

    /// The timing of the site's frosts.
    pub fn frost(&self) -> &FrostModel {
        &self.frost
    }

    /// The same climate with one day's measured minimum and maximum (-60 to 60 degrees). A day measured
    /// outdoors also applies to the tunnel, through the tunnel's gains, unless the tunnel was measured too.
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
        check_day(min, max)?;
        self.observed.insert(date, cover, (min.0, max.0));
        match cover {
            Cover::Open => self.anomaly_open = self.anomaly(cover),
            Cover::Tunnel => self.anomaly_tunnel = self.anomaly(cover),
        }
        Ok(self)
    }

    fn anomaly(&self, cover: Cover) -> Option<TemperatureAnomaly> {
        let last = self.observed.last(cover)?;
        let recent = self
            .observed
            .since(days::shifted(last, 1 - anomaly::WINDOW_DAYS), cover);
        let deviations = recent.map(|(date, (min, max))| {
            let (usual_min, usual_max) = self.usual_under(date, cover);
            f64::midpoint(min, max) - f64::midpoint(usual_min.0, usual_max.0)
        });
        TemperatureAnomaly::of(last, deviations)
    }

    /// The anomaly that applies under `cover`: a tunnel's own if it was measured, else that outdoors.
    fn anomaly_under(&self, cover: Cover) -> Option<TemperatureAnomaly> {
        match cover {
            Cover::Open => self.anomaly_open,
            Cover::Tunnel => self.anomaly_tunnel.or(self.anomaly_open),
        }
    }

    /// Degrees by which a day under `cover` is expected to be warmer than usual because recent measured days
    /// were; negative if colder, zero without measurements.
    pub fn expected_anomaly(&self, date: NaiveDate, cover: Cover) -> f64 {
        self.anomaly_under(cover)
            .map_or(0.0, |anomaly| anomaly.on(date))
    }

    fn usual_under(&self, date: NaiveDate, cover: Cover) -> (Celsius, Celsius) {
        let (min, max) = self.open_day(date, Measured::default());
        match cover {
            Cover::Open => (min, max),
            Cover::Tunnel => in_tunnel(min, max),
        }
    }

    /// A day as expected under `cover`: as measured, or else as usual plus a part of the anomaly of recent
    /// measured days, which decays with time. Equals [`day_under`](Self::day_under) without measurements.
    pub(crate) fn expected_under(&self, date: NaiveDate, cover: Cover) -> ExpectedDay {
        let measured = self.observed.on(date);
        let known = match cover {
            Cover::Open => measured.open.is_some(),
            Cover::Tunnel => measured.tunnel.is_some() || measured.open.is_some(),
        };
        let (min, max) = self.day_under(date, cover);
        match self.anomaly_under(cover) {
            Some(anomaly) if !known => {
                let warmer = anomaly.on(date);
                ExpectedDay {
                    min: Celsius(min.0 + warmer),
                    max: Celsius(max.0 + warmer),
                    uncertain: 1.0 - anomaly.explained(date),
                }
            }
            _ => ExpectedDay {
                min,
                max,
                uncertain: if known { 0.0 } else { 1.0 },
            },
        }
    }

    /// Minimum and maximum outdoors on `date`: measured if available, else usual.
    pub fn day(&self, date: NaiveDate) -> (Celsius, Celsius) {
        self.open_day(date, self.observed.on(date))
    }

    fn open_day(&self, date: NaiveDate, measured: Measured) -> (Celsius, Celsius) {
        let (min, max) = measured.open.unwrap_or_else(|| self.daily.on(date));
        (Celsius(min), Celsius(max))
    }

    /// Minimum and maximum at plant height under `cover` on `date`.
    ///
    /// An unheated single-layer tunnel adds 1.3 degrees to the minimum (Savage 1980, one site) and 7.5 to the
    /// maximum (midway between the 4.2 measured there and 10.7 for a closed tunnel in the sun, which has no
    /// source). Once the inside would pass 25 degrees the sides are opened and the gain of the maximum
    /// shrinks to 2.7 at the least, which leaves the mean 2 degrees above outdoors (common practice, no
    /// source). The gain may vanish on single clear nights: a thermometer at plant height is more reliable
    /// than this figure.
    pub fn day_under(&self, date: NaiveDate, cover: Cover) -> (Celsius, Celsius) {
        let measured = self.observed.on(date);
        match (cover, measured.tunnel) {
            (Cover::Open, _) => self.open_day(date, measured),
            (Cover::Tunnel, Some((min, max))) => (Celsius(min), Celsius(max)),
            (Cover::Tunnel, None) => {
                let (min, max) = self.open_day(date, measured);
                in_tunnel(min, max)
            }
        }
    }

    /// Hours of light that plants respond to on `date`: from the beginning to the end of civil twilight.
    /// Equal in every year to about a minute.
    pub fn photoperiod(&self, date: NaiveDate) -> Hours {
        self.photoperiod.on(date)
    }

    /// Probability of a spring frost on or after `date`, outdoors. It refers to the last frost nearest in
    /// time, so it is close to 1 in the winter before.
    pub fn frost_chance_after(&self, date: NaiveDate) -> Chance {
        self.frost.last.chance_on_or_after(date)
    }

    /// Probability of an autumn frost on or before `date`, outdoors. It refers to the first frost nearest in
    /// time, so it stays close to 1 through the winter after.
    pub fn frost_chance_before(&self, date: NaiveDate) -> Chance {
        self.frost.first.chance_on_or_before(date)
    }

    /// The date in `year` after which a spring frost still has probability `chance`, to the nearest day;
    /// `chance` is clamped to 0.001 to 0.999.
    pub fn last_frost_with_chance(&self, year: i32, chance: Chance) -> NaiveDate {
        self.frost.last.date_by(year, chance.complement())
    }

    /// The date in `year` by which the first autumn frost has come with probability `chance`, to the nearest
    /// day; `chance` is clamped to 0.001 to 0.999.
    pub fn first_frost_with_chance(&self, year: i32, chance: Chance) -> NaiveDate {
        self.frost.first.date_by(year, chance)
    }
}
