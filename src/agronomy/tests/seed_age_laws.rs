//! Properties of seed ageing for any constants and storage.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::AgronomyError;
use agronomy::quantity::{Celsius, Chance};
use agronomy::seed_age::{Constants, Storage, initial_viability, viability_after};
use proptest::prelude::*;

fn chance(share: f64) -> Chance {
    Chance::new(share).unwrap()
}

#[test]
fn invalid_arguments_are_refused_by_name() {
    let field = |result: Result<f64, AgronomyError>| result.unwrap_err().field();
    for bad in [f64::NAN, f64::INFINITY, -1.0, 4.9, 25.1] {
        let error = Storage::new(bad, Celsius(5.0)).unwrap_err();
        assert_eq!(error.field(), "moisture_percent", "{bad}");
    }
    for bad in [f64::NAN, f64::INFINITY, -20.1, 90.1] {
        let error = Storage::new(8.0, Celsius(bad)).unwrap_err();
        assert_eq!(error.field(), "temperature", "{bad}");
    }
    for bad in [f64::NAN, f64::INFINITY, -0.2, 60.0] {
        assert!(Constants::new(bad, 3.0, 0.03, 0.0004).is_err(), "{bad}");
        assert!(Constants::new(7.0, bad, 0.03, 0.0004).is_err(), "{bad}");
        assert!(Constants::new(7.0, 3.0, bad, 0.0004).is_err(), "{bad}");
        assert!(Constants::new(7.0, 3.0, 0.03, bad).is_err(), "{bad}");
    }
    assert_eq!(initial_viability(0, 0).unwrap_err().field(), "tested");
    assert_eq!(initial_viability(9, 8).unwrap_err().field(), "germinated");

    let onion = Constants::new(6.975, 3.47, 0.04, 0.000_428).unwrap();
    let store = Storage::new(8.0, Celsius(5.0)).unwrap();
    let after = |initial, days| viability_after(initial, &onion, store, days).map(Chance::get);
    assert_eq!(field(after(Chance::CERTAIN, 10.0)), "initial");
    assert_eq!(field(after(Chance::NEVER, 10.0)), "initial");
    for bad in [f64::NAN, f64::INFINITY, -1.0] {
        assert_eq!(field(after(Chance::EVEN, bad)), "days");
    }
}

proptest! {
    #[test]
    fn viability_falls_with_time_moisture_and_temperature(
        ke in 3.0f64..10.0, cw in 0.5f64..7.0, initial in 0.05f64..0.999,
        moisture in 5.0f64..24.0, celsius in 0.0f64..80.0, days in 0.0f64..4000.0,
    ) {
        let constants = Constants::new(ke, cw, 0.0329, 0.000_478).unwrap();
        let initial = chance(initial);
        let left = |moisture, celsius, days| {
            let storage = Storage::new(moisture, Celsius(celsius)).unwrap();
            viability_after(initial, &constants, storage, days).unwrap()
        };
        let now = left(moisture, celsius, days);
        prop_assert!(now <= initial);
        prop_assert!(left(moisture, celsius, days + 30.0) <= now);
        prop_assert!(left(moisture + 1.0, celsius, days) <= now);
        prop_assert!(left(moisture, celsius + 5.0, days) <= now);
    }
}
