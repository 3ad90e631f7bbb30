//! A place's weather as it usually is, day by day, outdoors and under cover.

mod cover;
pub(crate) mod lately;
mod light_year;
mod normals;
mod observed;

use chrono::NaiveDate;

use crate::days;
use crate::error::AgronomyError;
pub use crate::frost::{FrostDates, FrostModel, MonthDay};
use crate::quantity::{Celsius, Chance, Hours, Latitude};
pub use cover::Cover;
use cover::under_plastic;
use lately::Lean;
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
    lean_open: Option<Lean>,
    lean_tunnel: Option<Lean>,
}

/// A day's weather as it is to be reckoned with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ExpectedDay {
    /// Minimum.
    pub min: Celsius,
    /// Maximum.
    pub max: Celsius,
    /// Share of the season's straying from the normals that is left open: 0 on a measured day, 1 where nothing was measured.
    pub open: f64,
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
            lean_open: None,
            lean_tunnel: None,
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
        match cover {
            Cover::Open => self.lean_open = self.lean(cover),
            Cover::Tunnel => self.lean_tunnel = self.lean(cover),
        }
        Ok(self)
    }

    fn lean(&self, cover: Cover) -> Option<Lean> {
        let last = self.observed.last(cover)?;
        let of_late = self
            .observed
            .since(days::shifted(last, 1 - lately::WINDOW_DAYS), cover);
        let deviations = of_late.map(|(date, (min, max))| {
            let (usual_min, usual_max) = self.usual_under(date, cover);
            f64::midpoint(min, max) - f64::midpoint(usual_min.0, usual_max.0)
        });
        Lean::of(last, deviations)
    }

    /// What the days noted of late say of those to come under `cover`: a tunnel's own, else those outdoors.
    fn lean_under(&self, cover: Cover) -> Option<Lean> {
        match cover {
            Cover::Open => self.lean_open,
            Cover::Tunnel => self.lean_tunnel.or(self.lean_open),
        }
    }

    /// Degrees by which the days noted of late let a day run warmer than usual under `cover`; below zero if colder, zero where
    /// nothing was noted.
    pub fn leaning(&self, date: NaiveDate, cover: Cover) -> f64 {
        self.lean_under(cover).map_or(0.0, |lean| lean.on(date))
    }

    fn usual_under(&self, date: NaiveDate, cover: Cover) -> (Celsius, Celsius) {
        let (min, max) = self.open_day(date, Measured::default());
        match cover {
            Cover::Open => (min, max),
            Cover::Tunnel => under_plastic(min, max),
        }
    }

    /// A day as it is to be reckoned with under `cover`: as measured, or else as usual and a part of the way by which the days
    /// measured of late ran warmer or colder than usual, the less the further ahead it lies. The same as
    /// [`day_under`](Self::day_under) where nothing was measured.
    pub fn expected_under(&self, date: NaiveDate, cover: Cover) -> ExpectedDay {
        let measured = self.observed.on(date);
        let known = match cover {
            Cover::Open => measured.open.is_some(),
            Cover::Tunnel => measured.tunnel.is_some() || measured.open.is_some(),
        };
        let (min, max) = self.day_under(date, cover);
        match self.lean_under(cover) {
            Some(lean) if !known => {
                let warmer = lean.on(date);
                ExpectedDay {
                    min: Celsius(min.0 + warmer),
                    max: Celsius(max.0 + warmer),
                    open: 1.0 - lean.explained(date),
                }
            }
            _ => ExpectedDay {
                min,
                max,
                open: if known { 0.0 } else { 1.0 },
            },
        }
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
