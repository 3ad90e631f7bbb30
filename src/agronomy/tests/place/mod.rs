//! Invented sites for the property tests.

#![allow(
    dead_code,
    clippy::unwrap_used,
    reason = "each test file uses a part, and a check that cannot be set up must stop"
)]

use agronomy::climate::{Climate, FrostDates, Normals};
use agronomy::quantity::{Celsius, Latitude};
use chrono::NaiveDate;

pub fn date(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).unwrap()
}

pub const TMIN: [f64; 12] = [-10., -9., -4., 1., 7., 12., 14., 13., 9., 3., -2., -7.];
pub const TMAX: [f64; 12] = [-1., 1., 6., 14., 21., 25., 28., 27., 23., 15., 8., 2.];

pub const FROST: FrostDates = FrostDates {
    last_p50: (5, 15),
    last_p10: (5, 28),
    first_p50: (10, 1),
    first_p10: (9, 18),
};

/// An invented site at 44 N, last frost about 15 May, first about 1 October.
pub fn northern() -> Climate {
    place(44.0, TMIN, TMAX, FROST)
}

pub fn place(latitude: f64, tmin: [f64; 12], tmax: [f64; 12], frost: FrostDates) -> Climate {
    Climate::new(
        Latitude::new(latitude).unwrap(),
        Normals::new(tmin.map(Celsius), tmax.map(Celsius)).unwrap(),
        frost,
    )
    .unwrap()
}
