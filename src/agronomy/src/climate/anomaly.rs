//! The temperature anomaly of recent days, and what it implies for the days to come.
//!
//! The mean of a season deviates a little more than a degree from the normals and single days about three,
//! with a correlation of 0.7 from day to day; monthly anomalies persist with a correlation of 0.2 to 0.4 in
//! middle latitudes, and normals over past decades lag a changing climate. All from memory of climate
//! statistics, no source. The observed mean is therefore shrunk: by the ratio of the variance of season means
//! to that of the observed mean, and further the longer ahead a day is.

use chrono::NaiveDate;

use crate::days;

/// Standard deviation of a season's mean temperature about its normals, degrees. About one from memory; this
/// figure, the window and the decay below were set so that simulated years up to two degrees off the normals
/// are still followed.
pub(crate) const SEASON_DEVIATION: f64 = 1.15;
/// Standard deviation of a day's mean temperature about its season's, degrees.
pub(crate) const DAY_DEVIATION: f64 = 3.0;
/// Correlation between the deviations of consecutive days.
const DAY_CORRELATION: f64 = 0.7;
/// Factor by which autocorrelation increases the variance of a mean of days: (1 + r) / (1 - r).
pub(crate) const VARIANCE_INFLATION: f64 = (1.0 + DAY_CORRELATION) / (1.0 - DAY_CORRELATION);
/// Measured days earlier than this before the last one are ignored.
pub(super) const WINDOW_DAYS: i64 = 84;
/// Days ahead after which the anomaly has decayed to 1/e.
const DECAY_DAYS: f64 = 120.0;
/// Days ahead after which the anomaly is zero.
const HORIZON_DAYS: i64 = 300;

/// The anomaly estimated from recent measured days.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct TemperatureAnomaly {
    last: NaiveDate,
    /// Degrees by which the next days are expected to be warmer than usual.
    degrees: f64,
    /// Share of the variance of season means that the measured days explain, 0 to 1.
    explained: f64,
}

impl TemperatureAnomaly {
    /// From the deviations of the days measured within the window that ends on `last`; `None` without any.
    pub(super) fn of(last: NaiveDate, deviations: impl Iterator<Item = f64>) -> Option<Self> {
        let (sum, count) = deviations.fold((0.0, 0.0), |(sum, count), deviation| {
            (sum + deviation, count + 1.0)
        });
        if count < 1.0 {
            return None;
        }
        let season = SEASON_DEVIATION * SEASON_DEVIATION;
        let noise = DAY_DEVIATION * DAY_DEVIATION * VARIANCE_INFLATION / count;
        let explained = season / (season + noise);
        Some(Self {
            last,
            degrees: explained * sum / count,
            explained,
        })
    }

    /// Expected anomaly of a day that was not measured, in degrees. A gap between measured days has the full
    /// anomaly.
    pub(super) fn on(&self, date: NaiveDate) -> f64 {
        self.degrees * self.decay(date)
    }

    /// Share of the variance of season means that is explained on a day.
    pub(super) fn explained(&self, date: NaiveDate) -> f64 {
        self.explained * self.decay(date)
    }

    fn decay(&self, date: NaiveDate) -> f64 {
        match days::between(self.last, date) {
            ahead if !(-WINDOW_DAYS..=HORIZON_DAYS).contains(&ahead) => 0.0,
            ahead => (-(ahead.max(0) as f64) / DECAY_DAYS).exp(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(n: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(2027, 4, n).unwrap()
    }

    /// By hand: 28 days leave 9 x 5.667 / 28 = 1.821 of noise beside 1.3225 of the season: 0.4207 of two degrees.
    #[test]
    fn the_anomaly_of_four_warm_weeks_is_shrunk_and_decays() {
        let anomaly = TemperatureAnomaly::of(day(28), std::iter::repeat_n(2.0, 28)).unwrap();
        assert!((anomaly.on(day(29)) - 0.8413 * (-1.0_f64 / 120.0).exp()).abs() < 1e-3);
        let ahead: Vec<f64> = (0..5)
            .map(|month| anomaly.on(days::shifted(day(28), 30 * month)))
            .collect();
        assert!(
            ahead
                .windows(2)
                .all(|pair| pair[0] > pair[1] && pair[1] > 0.0),
            "{ahead:?}"
        );
        assert!((anomaly.on(days::shifted(day(28), 365))).abs() < 1e-12);
    }

    #[test]
    fn more_measured_days_count_more_and_none_give_none() {
        let of = |count| TemperatureAnomaly::of(day(28), std::iter::repeat_n(-3.0, count));
        assert_eq!(of(0), None);
        let (few, many) = (of(3).unwrap(), of(50).unwrap());
        assert!(many.on(day(29)) < few.on(day(29)) && few.on(day(29)) < 0.0);
        assert!(many.explained(day(29)) > few.explained(day(29)));
    }
}
