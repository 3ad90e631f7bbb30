//! What stands between the plants and the sky, and how much warmer it is below.

use crate::quantity::Celsius;

/// What stands between the plants and the sky.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Cover {
    /// Nothing: a bed outdoors.
    Open,
    /// One layer of plastic, unheated, vented on warm days.
    Tunnel,
}

/// Gain of a closed single-layer tunnel on the daily minimum (Savage 1980).
const TUNNEL_MIN_GAIN: f64 = 1.3;
/// Gain of a closed single-layer tunnel on the daily maximum (Savage 1980).
const TUNNEL_MAX_GAIN: f64 = 4.2;
/// Gain on the maximum with the sides open (common practice).
const TUNNEL_VENTED_GAIN: f64 = 2.7;
/// Inside temperature at which the sides are opened (common practice).
const TUNNEL_VENT_AT: f64 = 25.0;

/// Minimum and maximum in an unheated tunnel, from those outdoors.
pub(super) fn under_plastic(min: Celsius, max: Celsius) -> (Celsius, Celsius) {
    let gain = (TUNNEL_VENT_AT - max.0).clamp(TUNNEL_VENTED_GAIN, TUNNEL_MAX_GAIN);
    (Celsius(min.0 + TUNNEL_MIN_GAIN), Celsius(max.0 + gain))
}
