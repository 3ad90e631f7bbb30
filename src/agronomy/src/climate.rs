//! A place's weather as it usually is, day by day, outdoors and under cover.

mod cover;
mod light_year;
mod normals;
mod observed;

use chrono::NaiveDate;

use crate::error::AgronomyError;
pub use crate::frost::{FrostDates, FrostModel, MonthDay};
use crate::quantity::{Celsius, Chance, Hours, Latitude};
pub use cover::Cover;
use cover::under_plastic;
use light_year::LightYear;
pub use normals::Normals;
use normals::{UsualYear, check_day};
use observed::{Measured, Observed};

/// The usual weather of a place, with the days that were measured put in.
#[derive(Debug, Clone, PartialEq)]
pub struct Climate {
    latitude: Latitude,
    normals: Normals,
    usual: UsualYear,
    light: LightYear,
    frost: FrostModel,
    observed: Observed,
}

impl Climate {
    /// The climate of a place from its monthly normals and two dates for each
    /// frost. Every month of a common year keeps the means it was given.
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
        Self::with_frost(latitude, normals, frost_dates.model()?)
    }

    /// The climate of a place whose frosts are known by more than two dates, or
    /// by mean and deviation.
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
            usual: UsualYear::of(&normals),
            light: LightYear::at(latitude),
            frost,
            observed: Observed::default(),
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

    /// When its frosts may be expected.
    pub fn frost(&self) -> &FrostModel {
        &self.frost
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
        check_day(min, max)?;
        self.observed.put(date, cover, (min.0, max.0));
        Ok(self)
    }

    /// Minimum and maximum outdoors on `date`: measured if known, else usual.
    pub fn day(&self, date: NaiveDate) -> (Celsius, Celsius) {
        self.open_day(date, self.observed.on(date))
    }

    fn open_day(&self, date: NaiveDate, measured: Measured) -> (Celsius, Celsius) {
        let (min, max) = measured.open.unwrap_or_else(|| self.usual.on(date));
        (Celsius(min), Celsius(max))
    }

    /// Minimum and maximum at plant height under `cover` on `date`.
    ///
    /// An unheated single-layer tunnel adds 1.3 degrees to the minimum (Savage
    /// 1980, one site) and 7.5 to the maximum (midway between the 4.2 measured
    /// there and the 10.7 of a closed tunnel in the sun, which has no source).
    /// Once the inside would pass 25 degrees the sides are opened and the gain on
    /// the maximum shrinks, down to 2.7, which leaves the mean 2 degrees above
    /// outdoors (common practice, no source). On single clear nights the gain can
    /// vanish: watch a thermometer at plant height, not this figure.
    pub fn day_under(&self, date: NaiveDate, cover: Cover) -> (Celsius, Celsius) {
        let measured = self.observed.on(date);
        match (cover, measured.tunnel) {
            (Cover::Open, _) => self.open_day(date, measured),
            (Cover::Tunnel, Some((min, max))) => (Celsius(min), Celsius(max)),
            (Cover::Tunnel, None) => {
                let (min, max) = self.open_day(date, measured);
                under_plastic(min, max)
            }
        }
    }

    /// Hours of light that a plant counts on `date`: from the beginning of civil
    /// twilight to its end, the same in every year to about a minute.
    pub fn photoperiod(&self, date: NaiveDate) -> Hours {
        self.light.on(date)
    }

    /// Chance of a spring frost on or after `date`, outdoors. Reckoned for the
    /// last frost nearest in time, so it is near 1 in the winter before it.
    pub fn frost_chance_after(&self, date: NaiveDate) -> Chance {
        self.frost.last.chance_on_or_after(date)
    }

    /// Chance of an autumn frost on or before `date`, outdoors. Reckoned for the
    /// first frost nearest in time, so it stays near 1 through the winter after it.
    pub fn frost_chance_before(&self, date: NaiveDate) -> Chance {
        self.frost.first.chance_on_or_before(date)
    }

    /// The date in `year` after which a spring frost still has `chance`, to the
    /// nearest day; chances are held within 0.001 to 0.999.
    pub fn last_frost_with_chance(&self, year: i32, chance: Chance) -> NaiveDate {
        self.frost.last.date_by(year, chance.complement())
    }

    /// The date in `year` by which the first autumn frost has come with `chance`,
    /// to the nearest day; chances are held within 0.001 to 0.999.
    pub fn first_frost_with_chance(&self, year: i32, chance: Chance) -> NaiveDate {
        self.frost.first.date_by(year, chance)
    }
}
