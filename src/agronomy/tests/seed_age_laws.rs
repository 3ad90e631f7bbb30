//! What must hold of ageing seed, whatever its constants and its store.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::AgronomyError;
use agronomy::quantity::{Celsius, Chance};
use agronomy::seed_age::{
    Constants, Storage, days_until, initial_viability, moisture_for, viability_after,
};
use proptest::prelude::*;

fn chance(share: f64) -> Chance {
    Chance::new(share).unwrap()
}

#[test]
fn what_cannot_be_is_refused_by_name() {
    let field = |result: Result<f64, AgronomyError>| result.unwrap_err().field();
    for bad in [f64::NAN, f64::INFINITY, -1.0, 4.9, 25.1] {
        let error = Storage::new(bad, Celsius(5.0)).unwrap_err();
        assert_eq!(error.field(), "moisture_percent", "{bad}");
    }
    for bad in [f64::NAN, f64::INFINITY, -20.1, 90.1] {
        let error = Storage::new(8.0, Celsius(bad)).unwrap_err();
        assert_eq!(error.field(), "temperature", "{bad}");
        assert!(Constants::from_one_temperature(5.0, 3.0, Celsius(bad)).is_err());
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
    let until = |wanted, initial| days_until(wanted, initial, &onion, store);
    assert_eq!(field(until(Chance::NINE_IN_TEN, Chance::EVEN)), "wanted");
    assert_eq!(field(until(Chance::NEVER, Chance::EVEN)), "wanted");
    let moisture =
        |days, celsius| moisture_for(Chance::EVEN, chance(0.95), days, &onion, Celsius(celsius));
    assert_eq!(field(moisture(1e5, 30.0)), "moisture_percent");
    assert_eq!(field(moisture(0.0, 30.0)), "moisture_percent");
    assert_eq!(field(moisture(f64::NAN, 30.0)), "days");
    assert_eq!(field(moisture(100.0, 95.0)), "temperature");
}

proptest! {
    #[test]
    fn seed_only_gets_worse_sooner_the_damper_and_warmer(
        ke in 3.0f64..10.0, cw in 0.5f64..7.0, initial in 0.05f64..0.999,
        moisture in 5.0f64..24.0, celsius in 0.0f64..80.0, days in 0.0f64..4000.0,
    ) {
        let constants = Constants::with_universal_temperature(ke, cw).unwrap();
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

    #[test]
    fn time_and_moisture_are_the_inverse_of_viability(
        ke in 3.0f64..10.0, cw in 0.5f64..7.0, initial in 0.3f64..0.999, kept in 0.1f64..0.99,
        moisture in 5.0f64..25.0, celsius in -20.0f64..60.0,
    ) {
        let constants = Constants::with_universal_temperature(ke, cw).unwrap();
        let storage = Storage::new(moisture, Celsius(celsius)).unwrap();
        let (initial, wanted) = (chance(initial), chance(initial * kept));
        let days = days_until(wanted, initial, &constants, storage).unwrap();
        prop_assume!(days <= 365_000.0);
        let left = viability_after(initial, &constants, storage, days).unwrap();
        prop_assert!((left.get() - wanted.get()).abs() < 1e-9);
        if (5.01..24.99).contains(&moisture) {
            let dried = moisture_for(wanted, initial, days, &constants, Celsius(celsius));
            prop_assert!((dried.unwrap() - moisture).abs() < 1e-6);
        }
    }
}
