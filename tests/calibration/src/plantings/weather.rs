//! A season's weather at one of three places.
//!
//! Normals of the places are rounded, from memory: an inland valley at 44 N, a lowland near the sea at 53 N,
//! a mountain basin at 42 N. A season's mean deviates from the normals by 1.2 degrees and its days by three
//! more, with a day-to-day autocorrelation of 0.7 (from memory of climate statistics, no source); half a
//! day's range between minimum and maximum deviates by two.

use agronomy::climate::{Climate, Cover, FrostDates, Normals};
use agronomy::quantity::{Celsius, Latitude};
use chrono::NaiveDate;
use rand_xoshiro::Xoshiro256PlusPlus;

use super::{later, normal};

/// Standard deviation of a season's mean, of a day about it, and the autocorrelation of days.
const SEASON: f64 = 1.2;
const DAY: f64 = 3.0;
const LIKE: f64 = 0.7;
/// Standard deviation of half a day's range.
const SPAN: f64 = 1.0;

/// Latitude, minima and maxima by month.
type Place = (f64, [f64; 12], [f64; 12]);

/// Days before planting from which temperatures are recorded, where they are.
pub const NOTED_BEFORE: i64 = 84;
/// Days of weather drawn from then on.
const DAYS: i64 = 420;

const PLACES: [Place; 3] = [
    (
        44.0,
        [-11., -10., -4., 1., 7., 12., 15., 14., 9., 3., -2., -8.],
        [0., 2., 7., 14., 21., 26., 28., 27., 23., 15., 8., 2.],
    ),
    (
        52.8,
        [1.4, 1.4, 2.6, 4.2, 6.9, 9.8, 12., 11.9, 9.8, 7.2, 4., 1.7],
        [
            7., 7.8, 10.3, 13.2, 16.3, 19.2, 21.8, 21.5, 18.6, 14.5, 10.2, 7.3,
        ],
    ),
    (
        41.8,
        [
            -8.3, -6.1, -1.1, 2.2, 6.7, 11.1, 15.6, 15., 10., 3.9, -2.2, -7.2,
        ],
        [
            0., 3.3, 10., 14.4, 20., 26.1, 31.7, 31.1, 25., 17.2, 8.3, 1.1,
        ],
    ),
];

/// Number of places.
pub const PLACES_OF: usize = PLACES.len();

/// The usual climate of a place.
///
/// # Panics
/// If there is no such place.
pub fn usual(place: usize) -> Climate {
    let (latitude, tmin, tmax) = PLACES[place];
    let frost = FrostDates {
        last_p50: (5, 10),
        last_p10: (5, 25),
        first_p50: (10, 5),
        first_p10: (9, 20),
    };
    let normals = Normals::new(tmin.map(Celsius), tmax.map(Celsius)).expect("normals");
    Climate::new(Latitude::new(latitude).expect("a latitude"), normals, frost).expect("a climate")
}

/// Actual days of one season, starting [`NOTED_BEFORE`] days before planting.
#[derive(Debug, Clone)]
pub struct Weather(Vec<(NaiveDate, Celsius, Celsius)>);

impl Weather {
    /// Drawn around the normals of a place, shifted by a number of degrees.
    pub fn drawn(
        climate: &Climate,
        planted: NaiveDate,
        moved: f64,
        rng: &mut Xoshiro256PlusPlus,
    ) -> Self {
        let season = moved + SEASON * normal(rng);
        let mut noise = DAY * normal(rng);
        let days = (-NOTED_BEFORE..DAYS).map(|n| {
            noise = LIKE * noise + DAY * (1.0 - LIKE * LIKE).sqrt() * normal(rng);
            let date = later(planted, n);
            let (min, max) = climate.day(date);
            let half = ((max.0 - min.0) / 2.0 + SPAN * normal(rng)).max(0.5);
            let mean = f64::midpoint(min.0, max.0) + season + noise;
            (date, Celsius(mean - half), Celsius(mean + half))
        });
        Self(days.collect())
    }

    /// The climate with the days before a date recorded, as a grower with an outdoor thermometer would.
    ///
    /// # Panics
    /// If a day is invalid.
    pub fn noted_before(&self, usual: &Climate, date: NaiveDate) -> Climate {
        let days = self.0.iter().take_while(|(day, ..)| *day < date);
        days.fold(usual.clone(), |climate, (day, min, max)| {
            climate
                .with_observed(*day, Cover::Open, *min, *max)
                .expect("a day that can be")
        })
    }

    /// The climate with every actual day.
    pub fn all(&self, usual: &Climate) -> Climate {
        self.noted_before(usual, NaiveDate::MAX)
    }
}
