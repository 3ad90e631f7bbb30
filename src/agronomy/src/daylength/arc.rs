//! How long the sun is above the horizon in the course of one day.

use super::Horizon;
use super::position::SunThroughDay;
use crate::quantity::Latitude;

/// Minutes from noon to midnight.
const HALF_DAY_MINUTES: f64 = 720.0;
const STEPS_MAX: u32 = 40;
/// Sine of the altitude that the sun covers in a thousandth of a second.
const TOLERANCE: f64 = 5e-8;

/// Minutes of daylight on the day around `mean_noon`, the Julian day of local mean noon: 0 in polar night,
/// 1440 under the midnight sun.
pub(super) fn daylight_minutes(latitude: Latitude, mean_noon: f64, horizon: Horizon) -> f64 {
    let sun = SunThroughDay::around(mean_noon);
    let noon = -sun
        .at(-sun.at(0.0).equation_of_time_minutes)
        .equation_of_time_minutes;
    let (sine, cosine) = latitude.get().to_radians().sin_cos();
    let horizon_sine = horizon.altitude_degrees().to_radians().sin();
    // Altitude above the horizon, as a difference of sines, at a solar time in minutes from noon.
    let altitude = |solar: f64| {
        let declination = sun.at(noon + solar).declination_degrees.to_radians();
        let hour_angle = (solar / 4.0).to_radians();
        sine * declination.sin() + cosine * declination.cos() * hour_angle.cos() - horizon_sine
    };
    let up = |solar: f64| altitude(solar) > 0.0;
    // Sunrise (`side` -1) or sunset (+1), converted to mean time by the equation of time at that moment.
    let edge = |side: f64| {
        let solar = side * falls_to_zero(HALF_DAY_MINUTES, |minutes| altitude(side * minutes));
        solar - sun.at(noon + solar).equation_of_time_minutes
    };
    if !up(0.0) {
        0.0
    } else if up(-HALF_DAY_MINUTES) && up(HALF_DAY_MINUTES) {
        2.0 * HALF_DAY_MINUTES
    } else {
        (edge(1.0) - edge(-1.0)).clamp(0.0, 2.0 * HALF_DAY_MINUTES)
    }
}

/// The root of `function` between 0, where it is positive, and `end`, by the Illinois variant of false
/// position, which never leaves the bracket. `end` if the function stays positive.
fn falls_to_zero(end: f64, function: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut above) = (0.0, function(0.0));
    let (mut high, mut below) = (end, function(end));
    if below >= 0.0 {
        return end;
    }
    let mut raised_low = None;
    for _ in 0..STEPS_MAX {
        let between = (low * below - high * above) / (below - above);
        let value = function(between);
        if value.abs() < TOLERANCE {
            return between;
        }
        // Halving the weight of an end that is kept twice in a row avoids stalling.
        let again = Some(value > 0.0) == raised_low;
        if value > 0.0 {
            (low, above) = (between, value);
            below /= if again { 2.0 } else { 1.0 };
        } else {
            (high, below) = (between, value);
            above /= if again { 2.0 } else { 1.0 };
        }
        raised_low = Some(value > 0.0);
    }
    f64::midpoint(low, high)
}
