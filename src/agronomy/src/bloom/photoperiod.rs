//! How day length speeds up or delays the development to bloom.
//!
//! Long-day plants bloom sooner the longer the days, short-day plants the shorter; facultative plants also
//! bloom in the wrong day length, only later, obligate plants do not. The linear response of the rate of
//! development to day length is that found for pansies (Adams, Pearson & Hadley 1997, Annals of Botany
//! 80:107, abstract read; volume and page from memory); that it is linear between the day lengths of fastest
//! and slowest development and constant beyond them is common practice.
//!
//! Plants respond to light from the beginning to the end of civil twilight, about an hour more than between
//! sunrise and sunset (common practice, no source).

use crate::error::{AgronomyError, within};
use crate::quantity::Hours;

/// The response of a crop's rate of development to day length.
///
/// A crop's days to bloom apply to the long days of spring and summer, in which nearly all of it is grown: a
/// facultative crop has the rate 1 there, and a short-day crop is faster in short days. An obligate crop has
/// the rate 1 in the right day length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayLengthResponse {
    /// Hours of fastest development.
    quickest: f64,
    /// Hours of slowest development.
    slowest: f64,
    /// How many times longer development takes at the slowest; `None` if it stops.
    slowdown: Option<f64>,
}

impl DayLengthResponse {
    /// A response that is fastest at `quickest` hours of light, including civil twilight, and slowest at
    /// `slowest`, where development takes `slowdown` times as long (1 to 10) or, if `None`, stops. The
    /// quickest hours are the longer ones for a long-day plant and the shorter ones for a short-day plant.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] for hours outside 0 to 24, for hours closer than 0.25 to each other
    /// (`day_length.slowest`), and for a slowdown out of range.
    pub fn new(
        quickest: Hours,
        slowest: Hours,
        slowdown: Option<f64>,
    ) -> Result<Self, AgronomyError> {
        let quickest = within("day_length.quickest", quickest.0, 0.0, 24.0)?;
        let slowest = within("day_length.slowest", slowest.0, 0.0, 24.0)?;
        // Closer together, the response would be a step.
        let apart = (quickest - slowest).abs();
        if apart < 0.25 {
            return Err(AgronomyError::OutOfRange {
                field: "day_length.slowest",
                low: 0.0,
                high: quickest - 0.25,
                got: slowest,
            });
        }
        let slowdown = slowdown
            .map(|times| within("day_length.slowdown", times, 1.0, 10.0))
            .transpose()?;
        Ok(Self {
            quickest,
            slowest,
            slowdown,
        })
    }

    /// Whether longer days speed it up.
    pub fn is_long_day(&self) -> bool {
        self.quickest > self.slowest
    }

    /// Whether it does not bloom in the wrong day length.
    pub fn is_obligate(&self) -> bool {
        self.slowdown.is_none()
    }

    /// The rate of development at a day length, relative to that at which the crop's days to bloom apply. NaN
    /// counts as that day length.
    pub fn rate(&self, light: Hours) -> f64 {
        if light.0.is_nan() {
            return 1.0;
        }
        let share = ((light.0 - self.slowest) / (self.quickest - self.slowest)).clamp(0.0, 1.0);
        let Some(slowdown) = self.slowdown else {
            return share;
        };
        let slow = 1.0 / slowdown;
        let rate = slow + (1.0 - slow) * share;
        if self.is_long_day() {
            rate
        } else {
            rate * slowdown
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn response(quickest: f64, slowest: f64, slowdown: Option<f64>) -> DayLengthResponse {
        DayLengthResponse::new(Hours(quickest), Hours(slowest), slowdown).unwrap()
    }

    fn near(got: f64, wanted: f64) {
        assert!((got - wanted).abs() < 1e-12, "{got} {wanted}");
    }

    #[test]
    fn the_rate_in_long_days_is_one_and_short_days_slow_or_speed_up() {
        let long = response(16.0, 12.0, Some(1.25));
        near(long.rate(Hours(17.0)), 1.0);
        near(long.rate(Hours(10.0)), 0.8);
        near(long.rate(Hours(14.0)), 0.9);
        let short = response(12.0, 16.0, Some(1.25));
        near(short.rate(Hours(16.5)), 1.0);
        near(short.rate(Hours(11.0)), 1.25);
    }

    #[test]
    fn an_obligate_crop_stops_in_the_wrong_day_length() {
        let long = response(14.0, 12.0, None);
        near(long.rate(Hours(11.0)), 0.0);
        near(long.rate(Hours(14.0)), 1.0);
        let short = response(12.0, 14.0, None);
        near(short.rate(Hours(12.0)), 1.0);
        near(short.rate(Hours(15.0)), 0.0);
    }

    #[test]
    fn invalid_arguments_are_refused_by_name() {
        let field = |quickest, slowest, slowdown| {
            DayLengthResponse::new(Hours(quickest), Hours(slowest), slowdown)
                .map_err(|error| error.field())
                .err()
        };
        assert_eq!(field(25.0, 12.0, None), Some("day_length.quickest"));
        assert_eq!(field(14.0, f64::NAN, None), Some("day_length.slowest"));
        assert_eq!(field(14.0, 14.0, None), Some("day_length.slowest"));
        for times in [0.9, 11.0, f64::NAN] {
            assert_eq!(field(14.0, 12.0, Some(times)), Some("day_length.slowdown"));
        }
    }

    proptest! {
        #[test]
        fn longer_days_never_slow_a_long_day_crop_nor_speed_up_a_short_day_one(
            low in 6.0f64..14.0, apart in 0.25f64..8.0, slowdown in prop::option::of(1.0f64..10.0),
            light in 0.0f64..24.0, more in 0.0f64..3.0,
        ) {
            let long = response(low + apart, low, slowdown);
            let short = response(low, low + apart, slowdown);
            let tolerance = 1e-12;
            prop_assert!(long.rate(Hours(light + more)) >= long.rate(Hours(light)) - tolerance);
            prop_assert!(short.rate(Hours(light + more)) <= short.rate(Hours(light)) + tolerance);
            prop_assert!(long.rate(Hours(light)) >= 0.0);
        }
    }
}
