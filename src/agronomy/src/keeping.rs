//! How fast cut stems use up their days of keeping, by temperature.
//!
//! What is left of a stem's life falls in a line with what it has respired, and
//! respiration rises by a fixed factor for every ten degrees: threefold from 0
//! to 10 degrees in roses and gypsophila (Celikel & Reid; the same authors 2002,
//! *HortScience* 37:148-150, for sunflower and gerbera). Above 10 degrees the
//! factor is taken as 2.5 (reckoned, not read in a source).
//!
//! Crops that cold injures do not follow this below the temperature that harms
//! them; they have [`tender_store_days`].

use crate::error::{AgronomyError, within};
use crate::quantity::{Celsius, Hours};

/// How many times the respiration of one temperature is that of ten degrees less, up to [`BEND_C`] and above it.
const Q10_COLD: f64 = 3.0;
const Q10_WARM: f64 = 2.5;
/// Where the one factor gives way to the other, C.
const BEND_C: f64 = 10.0;
/// Coldest and warmest air that stems are reckoned in, C.
const COLDEST_C: f64 = -10.0;
const WARMEST_C: f64 = 60.0;
/// The longest that is reckoned at once, hours: ten years.
const HOURS_MAX: f64 = 87_660.0;
/// Up to this a crop that cold injures is held to keep by plain days, C (from memory of practice).
pub const TENDER_WARM_C: f64 = 10.0;

/// Respiration of cut stems at a temperature, as so many times that at 0 degrees.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] outside -10 to 60 degrees or for a value that is
/// no number (`temperature`).
pub fn respiration(at: Celsius) -> Result<f64, AgronomyError> {
    let at = within("temperature", at.0, COLDEST_C, WARMEST_C)?;
    let cold = at.min(BEND_C) / 10.0;
    let warm = (at - BEND_C).max(0.0) / 10.0;
    Ok(Q10_COLD.powf(cold) * Q10_WARM.powf(warm))
}

/// Days of keeping at 0 degrees that `hours` at a temperature use up.
///
/// # Errors
/// As [`respiration`]; [`AgronomyError::OutOfRange`] for hours that are negative,
/// more than ten years' or no number (`hours`).
pub fn cold_days(hours: Hours, at: Celsius) -> Result<f64, AgronomyError> {
    Ok(days(hours)? * respiration(at)?)
}

/// Days of keeping at a crop's own store temperature that `hours` at another use up.
///
/// # Errors
/// As [`cold_days`], for either temperature.
pub fn store_days(hours: Hours, at: Celsius, store: Celsius) -> Result<f64, AgronomyError> {
    Ok(days(hours)? * respiration(at)? / respiration(store)?)
}

/// The same for a crop that cold injures: plain days up to [`TENDER_WARM_C`], since a colder store does not make it keep longer;
/// above it as in [`store_days`], never less than plain days.
///
/// # Errors
/// As [`store_days`].
pub fn tender_store_days(hours: Hours, at: Celsius, store: Celsius) -> Result<f64, AgronomyError> {
    let plain = days(hours)?;
    let respired = store_days(hours, at, store)?;
    Ok(if at.0 > TENDER_WARM_C {
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
    fn what_cannot_be_is_refused_by_name() {
        let field = |error: AgronomyError| error.field();
        for bad in [-10.5, 60.5, f64::NAN, f64::INFINITY] {
            assert_eq!(respiration(Celsius(bad)).map_err(field), Err("temperature"));
            let store = store_days(Hours(1.0), Celsius(2.0), Celsius(bad));
            assert_eq!(store.map_err(field), Err("temperature"));
        }
        for bad in [-0.5, 1e9, f64::NAN] {
            let used = cold_days(Hours(bad), Celsius(2.0));
            assert_eq!(used.map_err(field), Err("hours"));
            let used = tender_store_days(Hours(bad), Celsius(2.0), Celsius(12.0));
            assert_eq!(used.map_err(field), Err("hours"));
        }
    }

    #[test]
    fn cold_does_not_make_a_tender_crop_keep_longer() {
        let day = |at: f64| tender_store_days(Hours(24.0), Celsius(at), Celsius(12.0)).unwrap();
        for at in [0.0, 5.0, 10.0, 11.0] {
            assert!((day(at) - 1.0).abs() < 1e-12, "{at}");
        }
        // 2.5 to the power of (22 - 12) / 10.
        assert!((day(22.0) - 2.5).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn longer_and_warmer_use_up_more_and_times_add_up(
            hours in 0.0f64..500.0, more in 0.0f64..500.0, at in -10.0f64..50.0, warmer in 0.0f64..10.0,
            store in -1.0f64..15.0,
        ) {
            let rules = [
                |hours, at, _| cold_days(Hours(hours), Celsius(at)).unwrap(),
                |hours, at, store| store_days(Hours(hours), Celsius(at), Celsius(store)).unwrap(),
                |hours, at, store| tender_store_days(Hours(hours), Celsius(at), Celsius(store)).unwrap(),
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
