//! How far the weather of late ran off the usual, and what that says of the days to come.
//!
//! A season's mean strays a little more than a degree from the normals, single days about three, each day like the one before by
//! 0.7; months lean the way the month before did, with a correlation of 0.2 to 0.4 in the middle latitudes, and normals of
//! thirty years past trail a climate that moves. All from memory of climate statistics, no source. The mean of what was noted is
//! therefore believed in part: as much as a season that strays by a degree explains it beside days that stray by three, and less
//! the further ahead a day lies.

use chrono::NaiveDate;

use crate::days;

/// Standard deviation of a season's mean temperature about its normals, degrees. About one from memory; this figure, the window and the
/// fading below were set so that simulated years up to two degrees off the normals are still followed.
pub(crate) const SEASON_DEVIATION: f64 = 1.15;
/// Standard deviation of a day's mean temperature about its season's, degrees.
pub(crate) const DAY_DEVIATION: f64 = 3.0;
/// How much one day's deviation is like the day's before.
const LIKE_THE_DAY_BEFORE: f64 = 0.7;
/// How many days like each other count as one that stands alone: (1 + r) / (1 - r).
pub(crate) const DAYS_ALIKE: f64 = (1.0 + LIKE_THE_DAY_BEFORE) / (1.0 - LIKE_THE_DAY_BEFORE);
/// Noted days further back than this before the last one say nothing.
pub(super) const WINDOW_DAYS: i64 = 84;
/// Days ahead after which a lean has faded to 37 in 100.
const FADES_DAYS: f64 = 120.0;
/// Days ahead after which nothing is left of it.
const FORGOTTEN_DAYS: i64 = 300;

/// What the days noted of late say.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Lean {
    last: NaiveDate,
    /// Degrees by which the next days are expected to run warmer than usual.
    degrees: f64,
    /// Share of the season's own straying that the noted days explain, 0 to 1.
    explained: f64,
}

impl Lean {
    /// From the deviations of the days noted within the window that ends on `last`; `None` where none were.
    pub(super) fn of(last: NaiveDate, deviations: impl Iterator<Item = f64>) -> Option<Self> {
        let (sum, count) = deviations.fold((0.0, 0.0), |(sum, count), deviation| {
            (sum + deviation, count + 1.0)
        });
        if count < 1.0 {
            return None;
        }
        let season = SEASON_DEVIATION * SEASON_DEVIATION;
        let noise = DAY_DEVIATION * DAY_DEVIATION * DAYS_ALIKE / count;
        let explained = season / (season + noise);
        Some(Self {
            last,
            degrees: explained * sum / count,
            explained,
        })
    }

    /// Degrees by which a day that was not noted is expected to be warmer than usual. A gap between noted days leans like them.
    pub(super) fn on(&self, date: NaiveDate) -> f64 {
        self.degrees * self.left(date)
    }

    /// Share of the season's straying that is explained on a day.
    pub(super) fn explained(&self, date: NaiveDate) -> f64 {
        self.explained * self.left(date)
    }

    fn left(&self, date: NaiveDate) -> f64 {
        match days::between(self.last, date) {
            ahead if !(-WINDOW_DAYS..=FORGOTTEN_DAYS).contains(&ahead) => 0.0,
            ahead => (-(ahead.max(0) as f64) / FADES_DAYS).exp(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(n: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(2027, 4, n).unwrap()
    }

    /// By hand: 28 days leave 9 x 5.667 / 28 = 1.821 of noise beside 1.3225 of the season, so 0.4207 of two degrees is believed.
    #[test]
    fn four_warm_weeks_are_believed_in_part_and_fade() {
        let lean = Lean::of(day(28), std::iter::repeat_n(2.0, 28)).unwrap();
        assert!((lean.on(day(29)) - 0.8413 * (-1.0_f64 / 120.0).exp()).abs() < 1e-3);
        let ahead: Vec<f64> = (0..5)
            .map(|month| lean.on(days::shifted(day(28), 30 * month)))
            .collect();
        assert!(
            ahead
                .windows(2)
                .all(|pair| pair[0] > pair[1] && pair[1] > 0.0),
            "{ahead:?}"
        );
        assert!((lean.on(days::shifted(day(28), 365))).abs() < 1e-12);
    }

    #[test]
    fn more_days_noted_weigh_more_and_none_weigh_nothing() {
        let of = |count| Lean::of(day(28), std::iter::repeat_n(-3.0, count));
        assert_eq!(of(0), None);
        let (few, many) = (of(3).unwrap(), of(50).unwrap());
        assert!(many.on(day(29)) < few.on(day(29)) && few.on(day(29)) < 0.0);
        assert!(many.explained(day(29)) > few.explained(day(29)));
    }
}
