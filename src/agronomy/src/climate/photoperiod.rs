//! The hours of light of each day of the year, computed once for a site.

use chrono::{Datelike, NaiveDate};

use crate::daylength::{Horizon, day_length};
use crate::quantity::{Hours, Latitude};

/// A leap year in the middle of the two centuries of use.
const YEAR: i32 = 2000;

/// Hours of light, including civil twilight, for each day of a leap year.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct PhotoperiodYear(Vec<f64>);

impl PhotoperiodYear {
    pub(super) fn at(latitude: Latitude) -> Self {
        let days = NaiveDate::from_yo_opt(YEAR, 1)
            .into_iter()
            .flat_map(|first| first.iter_days())
            .take_while(|date| date.year() == YEAR)
            .map(|date| day_length(latitude, date, Horizon::CivilTwilight).0)
            .collect();
        Self(days)
    }

    pub(super) fn on(&self, date: NaiveDate) -> Hours {
        let same = date.with_year(YEAR).unwrap_or(date);
        let hours = self.0.get(same.ordinal0() as usize);
        Hours(hours.copied().unwrap_or(12.0))
    }
}
