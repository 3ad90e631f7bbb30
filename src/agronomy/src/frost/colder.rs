//! The timing of nights colder, or less cold, than frost.
//!
//! Plants are rarely damaged at exactly 0 C. The last spring night below another temperature is as much
//! earlier or later as the usual minimum takes to get from one to the other: if the median date of the last
//! frost has a usual minimum of 5, the last night below -4 comes around the day with a usual minimum of 1.
//! The spread in time is that of frost.
//!
//! Compared with the published dates of a NOAA station (Lebanon, New Hampshire, two periods): for nights
//! below -2.2 and +2.2 C the median dates are within 2 days and the one-in-ten dates that matter for risk
//! within 3. For -4.4, -6.7 and -8.9 C spring dates miss by up to 4 and 6 days; autumn dates are up to 12 and
//! 16 days too late. See `tests/published`. This is one climate; elsewhere it may be less accurate.

use chrono::{Datelike, NaiveDate};

use super::{FrostModel, FrostTiming, MonthDay};
use crate::climate::Normals;
use crate::curve::daily_from_monthly;
use crate::days;
use crate::quantity::Celsius;

/// When nights below a temperature end or begin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ColdNights {
    /// The usual year does not get that cold: too rare for a date.
    Rare,
    /// The distribution of the date, as for frost.
    Dated(FrostTiming),
    /// Even the usual summer gets that cold.
    AllYear,
}

/// The last and the first night below a temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ColdNightDates {
    /// The last one of spring.
    pub last: ColdNights,
    /// The first one of autumn.
    pub first: ColdNights,
}

/// Half a year; beyond it the nights of the other season begin.
const HALF_YEAR_DAYS: i64 = 182;

impl FrostModel {
    /// When nights below `below` end and begin at a site with this frost model and these normals. At 0 C it
    /// is the frost model itself.
    pub fn colder_than(&self, below: Celsius, normals: &Normals) -> ColdNightDates {
        let usual = daily_from_monthly(&normals.tmin.map(|c| c.0));
        ColdNightDates {
            last: moved(&self.last, below, &usual, -1),
            first: moved(&self.first, below, &usual, 1),
        }
    }
}

/// A frost's timing moved to another temperature; `colder` is the direction in time in which nights get
/// colder.
fn moved(frost: &FrostTiming, below: Celsius, usual: &[f64], colder: i64) -> ColdNights {
    let Some(median) = NaiveDate::from_ymd_opt(2001, frost.median.0, frost.median.1) else {
        return ColdNights::Rare;
    };
    let on = |days: i64| {
        let day = days::shifted(median, days).ordinal0() as usize;
        usual.get(day).or(usual.last()).copied().unwrap_or(0.0)
    };
    let wanted = on(0) + below.0;
    let (step, missing) = if below.0 < 0.0 {
        (colder, ColdNights::Rare)
    } else {
        (-colder, ColdNights::AllYear)
    };
    let there = |days: &i64| {
        let min = on(*days);
        if below.0 < 0.0 {
            min <= wanted
        } else {
            min >= wanted
        }
    };
    match (0..=HALF_YEAR_DAYS).map(|n| n * step).find(there) {
        Some(days) => ColdNights::Dated(frost.moved(days)),
        None => missing,
    }
}

impl FrostTiming {
    /// The same distribution around another median.
    fn moved(&self, by: i64) -> Self {
        let median: MonthDay = NaiveDate::from_ymd_opt(2001, self.median.0, self.median.1).map_or(
            self.median,
            |median| {
                let moved = days::shifted(median, by);
                (moved.month(), moved.day())
            },
        );
        Self { median, ..*self }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frost::FrostDates;
    use crate::quantity::Chance;

    /// Minima from -12 in January to 14 in July, frost from 1 October to 15 May; in the south half a year
    /// later.
    fn place(south: bool) -> (FrostModel, Normals) {
        let tmin = std::array::from_fn(|month| {
            let month = (month + if south { 6 } else { 0 }) % 12;
            let phase = (month as f64 - 0.5) / 12.0 * std::f64::consts::TAU;
            Celsius(1.0 - 13.0 * phase.cos())
        });
        let dates = if south {
            FrostDates {
                last_p50: (11, 14),
                last_p10: (11, 28),
                first_p50: (4, 2),
                first_p10: (3, 19),
            }
        } else {
            FrostDates {
                last_p50: (5, 15),
                last_p10: (5, 29),
                first_p50: (10, 1),
                first_p10: (9, 17),
            }
        };
        let normals = Normals::new(tmin, tmin.map(|min| Celsius(min.0 + 12.0))).unwrap();
        (dates.model().unwrap(), normals)
    }

    fn median(nights: ColdNights, year: i32) -> NaiveDate {
        match nights {
            ColdNights::Dated(timing) => timing.date_by(year, Chance::EVEN),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn colder_nights_end_sooner_and_begin_later_in_both_hemispheres() {
        for south in [false, true] {
            let (frost, normals) = place(south);
            let at = |c: f64| frost.colder_than(Celsius(c), &normals);
            assert_eq!(at(0.0).last, ColdNights::Dated(frost.last));
            assert_eq!(at(0.0).first, ColdNights::Dated(frost.first));
            for (colder, warmer) in [(-6.0, -4.0), (-4.0, -1.0), (-1.0, 0.0), (0.0, 2.0)] {
                assert!(median(at(colder).last, 2027) < median(at(warmer).last, 2027));
                assert!(median(at(colder).first, 2027) > median(at(warmer).first, 2027));
            }
        }
    }

    #[test]
    fn temperatures_far_from_the_usual_nights_have_no_date() {
        let (frost, normals) = place(false);
        let at = |c: f64| frost.colder_than(Celsius(c), &normals);
        assert_eq!(
            (at(-40.0).last, at(-40.0).first),
            (ColdNights::Rare, ColdNights::Rare)
        );
        assert_eq!(
            (at(20.0).last, at(20.0).first),
            (ColdNights::AllYear, ColdNights::AllYear)
        );
    }
}
