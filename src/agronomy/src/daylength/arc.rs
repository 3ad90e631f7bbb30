//! When the sun comes up and goes down in the course of one day.

use super::Horizon;
use super::position::SunThroughDay;
use crate::quantity::Latitude;

/// Minutes from noon to midnight.
pub(super) const HALF_DAY_MINUTES: f64 = 720.0;
/// Steps after which a sunrise is known as well as it can be.
const STEPS_MAX: u32 = 40;
/// Sine of a height that the sun covers in a thousandth of a second.
const CLOSE_ENOUGH: f64 = 5e-8;

/// One day's course of the sun, in minutes from local mean noon.
pub(super) struct Arc {
    pub(super) noon: f64,
    pub(super) light: Light,
}

pub(super) enum Light {
    None,
    Whole,
    Between(f64, f64),
}

impl Arc {
    /// Around the Julian day of local mean noon.
    pub(super) fn of(latitude: Latitude, mean_noon: f64, horizon: Horizon) -> Self {
        let sun = SunThroughDay::around(mean_noon);
        let noon = -sun
            .at(-sun.at(0.0).equation_of_time_minutes)
            .equation_of_time_minutes;
        let (sine, cosine) = latitude.get().to_radians().sin_cos();
        let horizon_sine = horizon.altitude_degrees().to_radians().sin();
        // How high the sun stands over the horizon, as a difference of sines, at a
        // time of its own clock: minutes from noon.
        let height = |solar: f64| {
            let declination = sun.at(noon + solar).declination_degrees.to_radians();
            let hour_angle = (solar / 4.0).to_radians();
            sine * declination.sin() + cosine * declination.cos() * hour_angle.cos() - horizon_sine
        };
        let up = |solar: f64| height(solar) > 0.0;
        // Where between noon and midnight it comes up (`side` -1) or goes down
        // (+1); back to mean time by the equation of time at that moment.
        let edge = |side: f64| {
            let solar = side * falls_to_zero(HALF_DAY_MINUTES, |minutes| height(side * minutes));
            solar - sun.at(noon + solar).equation_of_time_minutes
        };
        let light = if !up(0.0) {
            Light::None
        } else if up(-HALF_DAY_MINUTES) && up(HALF_DAY_MINUTES) {
            Light::Whole
        } else {
            Light::Between(edge(-1.0), edge(1.0))
        };
        Self { noon, light }
    }
}

/// Where a function falls to zero between 0, where it lies above, and `end`: by
/// false position (the Illinois variant, which never leaves the bracket). `end`
/// if it stays above.
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
        if value.abs() < CLOSE_ENOUGH {
            return between;
        }
        // Halving the weight of an end that stays twice keeps it from sticking.
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
