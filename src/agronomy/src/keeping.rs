//! How fast cut stems use up their storage life, by temperature.
//!
//! The remaining life of a stem falls linearly with its respiration, and respiration rises by a fixed factor
//! (Q10) for every ten degrees: threefold from 0 to 10 degrees in roses and gypsophila (Celikel & Reid; the
//! same authors 2002, *HortScience* 37:148-150, for sunflower and gerbera). Above 10 degrees the factor is
//! 2.5 (derived, not from a source).
//!
//! Chilling-sensitive crops deviate from this below their damage temperature; use
//! [`chilling_sensitive_days_used`] for them.

use crate::error::{AgronomyError, within};
use crate::quantity::{Celsius, Hours};

/// Q10 of respiration up to [`BEND_C`] and above it.
const Q10_COLD: f64 = 3.0;
const Q10_WARM: f64 = 2.5;
/// Temperature at which Q10 changes, C.
const BEND_C: f64 = 10.0;
/// Range of air temperatures accepted, C.
const COLDEST_C: f64 = -10.0;
const WARMEST_C: f64 = 60.0;
/// The longest duration accepted, hours: ten years.
const HOURS_MAX: f64 = 87_660.0;
/// Up to this temperature a chilling-sensitive crop ages by calendar days, C (from memory of practice).
const CHILLING_SENSITIVE_WARM_C: f64 = 10.0;

/// Respiration of cut stems relative to that at 0 degrees.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] outside -10 to 60 degrees or for NaN (`temperature`).
pub fn respiration(at: Celsius) -> Result<f64, AgronomyError> {
    let at = within("temperature", at.0, COLDEST_C, WARMEST_C)?;
    let cold = at.min(BEND_C) / 10.0;
    let warm = (at - BEND_C).max(0.0) / 10.0;
    Ok(Q10_COLD.powf(cold) * Q10_WARM.powf(warm))
}

/// Days of storage life at `store` temperature that `hours` at another temperature use up.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for a temperature outside -10 to 60 degrees (`temperature`), and for hours
/// that are negative, longer than ten years or NaN (`hours`).
pub fn storage_days_used(hours: Hours, at: Celsius, store: Celsius) -> Result<f64, AgronomyError> {
    Ok(days(hours)? * respiration(at)? / respiration(store)?)
}

/// The same for a chilling-sensitive crop: calendar days up to 10 degrees, since a colder store does not make
/// it last longer; above, as [`storage_days_used`], but never less than calendar days.
///
/// # Errors
/// As [`storage_days_used`].
pub fn chilling_sensitive_days_used(
    hours: Hours,
    at: Celsius,
    store: Celsius,
) -> Result<f64, AgronomyError> {
    let plain = days(hours)?;
    let respired = storage_days_used(hours, at, store)?;
    Ok(if at.0 > CHILLING_SENSITIVE_WARM_C {
        respired.max(plain)
    } else {
        plain
    })
}

fn days(hours: Hours) -> Result<f64, AgronomyError> {
    within("hours", hours.0, 0.0, HOURS_MAX).map(|hours| hours / 24.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn invalid_arguments_are_refused_by_name() {
        let field = |error: AgronomyError| error.field();
        for bad in [-10.5, 60.5, f64::NAN, f64::INFINITY] {
            assert_eq!(respiration(Celsius(bad)).map_err(field), Err("temperature"));
            let store = storage_days_used(Hours(1.0), Celsius(2.0), Celsius(bad));
            assert_eq!(store.map_err(field), Err("temperature"));
        }
        for bad in [-0.5, 1e9, f64::NAN] {
            let used = storage_days_used(Hours(bad), Celsius(2.0), Celsius(2.0));
            assert_eq!(used.map_err(field), Err("hours"));
            let used = chilling_sensitive_days_used(Hours(bad), Celsius(2.0), Celsius(12.0));
            assert_eq!(used.map_err(field), Err("hours"));
        }
    }

    #[test]
    fn cold_does_not_make_a_chilling_sensitive_crop_last_longer() {
        let day = |at: f64| {
            chilling_sensitive_days_used(Hours(24.0), Celsius(at), Celsius(12.0)).unwrap()
        };
        for at in [0.0, 5.0, 10.0, 11.0] {
            assert!((day(at) - 1.0).abs() < 1e-12, "{at}");
        }
        // 2.5 to the power of (22 - 12) / 10.
        assert!((day(22.0) - 2.5).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn longer_and_warmer_storage_uses_up_more_and_durations_add_up(
            hours in 0.0f64..500.0, more in 0.0f64..500.0, at in -10.0f64..50.0, warmer in 0.0f64..10.0,
            store in -1.0f64..15.0,
        ) {
            let rules = [
                |hours, at, store| storage_days_used(Hours(hours), Celsius(at), Celsius(store)).unwrap(),
                |hours, at, store| chilling_sensitive_days_used(Hours(hours), Celsius(at), Celsius(store)).unwrap(),
            ];
            for used in rules {
                let some = used(hours, at, store);
                prop_assert!(some >= 0.0);
                prop_assert!(used(hours, at + warmer, store) >= some * (1.0 - 1e-12));
                let both = used(hours + more, at, store);
                prop_assert!(both >= some);
                let parts = some + used(more, at, store);
                prop_assert!((both - parts).abs() <= 1e-9 * (1.0 + both));
            }
        }
    }
}
