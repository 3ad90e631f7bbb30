//! How day length hastens or holds back the way to bloom.
//!
//! Long-day plants come to bloom the sooner the longer the days, short-day
//! plants the other way round; facultative ones bloom all the same in the wrong
//! days, only later; obligate ones do not. That the rate of development runs in
//! a straight line with day length is the form found for pansies (Adams, Pearson
//! & Hadley 1997, Annals of Botany 80:107, abstract read; volume and page from
//! memory); that it does so between the day length that hastens most and the one
//! that holds back most, and stands still beyond them, is common practice.
//!
//! A plant counts the light from the beginning of civil twilight to its end, an
//! hour or so more than the sun is up (common practice, no source).

use crate::error::{AgronomyError, within};
use crate::quantity::Hours;

/// How a crop's rate of development follows day length.
///
/// A crop's days to bloom are told for the long days of spring and summer, in
/// which nearly all of it is grown: there a facultative crop's rate is 1, and a
/// short-day one is hastened by short days. A crop that does not bloom in the
/// wrong days has its rate of 1 in the right ones.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayLengthResponse {
    /// Hours at which development is quickest.
    quickest: f64,
    /// Hours at which it is slowest.
    slowest: f64,
    /// How many times as long the way takes at the slowest; `None` for ever.
    slowdown: Option<f64>,
}

impl DayLengthResponse {
    /// A response that is quickest at `quickest` hours of light, civil twilight
    /// included, and slowest at `slowest`; where it takes `slowdown` times as
    /// long (1 to 10), or for `None` does not bloom at all. The quickest hours
    /// are the longer ones for a long-day plant, the shorter ones for a short-day
    /// plant.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] for hours outside 0 to 24, hours of which
    /// one is the other (`day_length.slowest`), and a slowdown out of range.
    pub fn new(
        quickest: Hours,
        slowest: Hours,
        slowdown: Option<f64>,
    ) -> Result<Self, AgronomyError> {
        let quickest = within("day_length.quickest", quickest.0, 0.0, 24.0)?;
        let slowest = within("day_length.slowest", slowest.0, 0.0, 24.0)?;
        // Closer than this the straight line between them is a cliff.
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

    /// Whether longer days hasten it.
    pub fn is_long_day(&self) -> bool {
        self.quickest > self.slowest
    }

    /// Whether it does not bloom at all in the wrong days.
    pub fn is_obligate(&self) -> bool {
        self.slowdown.is_none()
    }

    /// Hours at which development is quickest.
    pub fn quickest(&self) -> Hours {
        Hours(self.quickest)
    }

    /// Hours at which development is slowest.
    pub fn slowest(&self) -> Hours {
        Hours(self.slowest)
    }

    /// The rate of development at a day length, 1 where the crop's days to bloom
    /// are told for. Hours that are no number count as those.
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
    fn long_days_are_the_measure_and_short_days_slow_or_hasten() {
        let long = response(16.0, 12.0, Some(1.25));
        near(long.rate(Hours(17.0)), 1.0);
        near(long.rate(Hours(10.0)), 0.8);
        near(long.rate(Hours(14.0)), 0.9);
        let short = response(12.0, 16.0, Some(1.25));
        near(short.rate(Hours(16.5)), 1.0);
        near(short.rate(Hours(11.0)), 1.25);
    }

    #[test]
    fn an_obligate_crop_stands_still_in_the_wrong_days() {
        let long = response(14.0, 12.0, None);
        near(long.rate(Hours(11.0)), 0.0);
        near(long.rate(Hours(14.0)), 1.0);
        let short = response(12.0, 14.0, None);
        near(short.rate(Hours(12.0)), 1.0);
        near(short.rate(Hours(15.0)), 0.0);
    }

    #[test]
    fn what_cannot_be_is_named() {
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
        fn a_longer_day_never_slows_a_long_day_crop_nor_hastens_a_short_day_one(
            low in 6.0f64..14.0, apart in 0.25f64..8.0, slowdown in prop::option::of(1.0f64..10.0),
            light in 0.0f64..24.0, more in 0.0f64..3.0,
        ) {
            let long = response(low + apart, low, slowdown);
            let short = response(low, low + apart, slowdown);
            let hair = 1e-12;
            prop_assert!(long.rate(Hours(light + more)) >= long.rate(Hours(light)) - hair);
            prop_assert!(short.rate(Hours(light + more)) <= short.rate(Hours(light)) + hair);
            prop_assert!(long.rate(Hours(light)) >= 0.0);
        }
    }
}
