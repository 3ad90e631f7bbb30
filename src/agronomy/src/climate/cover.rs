//! What covers the plants, and how much it warms them.

use crate::quantity::{Celsius, TemperatureDifference};

/// What covers the plants.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Cover {
    /// Nothing: a bed outdoors.
    Open,
    /// One layer of plastic, unheated, vented on warm days.
    Tunnel,
}

impl Cover {
    /// How much higher the night's minimum usually is than outdoors.
    pub const fn night_gain(self) -> TemperatureDifference {
        match self {
            Self::Open => TemperatureDifference(0.0),
            Self::Tunnel => NIGHT_GAIN,
        }
    }
}

/// Gain of a closed single-layer tunnel on the daily minimum (Savage 1980).
const NIGHT_GAIN: TemperatureDifference = TemperatureDifference(1.3);
/// Gain of a closed single-layer tunnel on the daily maximum: midway between one study (4.2, Savage 1980) and
/// the customary figure for a closed tunnel in the sun, a mean 6 degrees above outdoors (10.7; no source).
/// Published dates of first bloom in spring tunnels imply more than the study's figure.
const DAY_GAIN: f64 = 7.5;
/// Gain on the maximum with the sides open, which leaves the mean 2 degrees above outdoors (common practice).
const VENTED_GAIN: f64 = 2.7;
/// Inside temperature at which the sides are opened (common practice).
const VENT_AT: f64 = 25.0;

/// Minimum and maximum in an unheated tunnel, from those outdoors.
pub(super) fn in_tunnel(min: Celsius, max: Celsius) -> (Celsius, Celsius) {
    let gain = (VENT_AT - max.0).clamp(VENTED_GAIN, DAY_GAIN);
    (min + NIGHT_GAIN, Celsius(max.0 + gain))
}
