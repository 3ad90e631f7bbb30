//! Properties of light from any lamp.
#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::AgronomyError;
use agronomy::light::{daily_light, hours_to_reach};
use agronomy::quantity::{DailyLight, Hours, Ppfd};
use proptest::prelude::*;

fn field<T>(result: Result<T, AgronomyError>) -> Option<&'static str> {
    result.err().map(|error| error.field())
}

#[test]
fn impossible_light_is_refused_by_name() {
    for bad in [f64::NAN, f64::INFINITY, -1.0] {
        assert_eq!(field(daily_light(Ppfd(bad), Hours(16.0))), Some("ppfd"));
        assert_eq!(field(daily_light(Ppfd(100.0), Hours(bad))), Some("hours"));
        assert_eq!(
            field(hours_to_reach(DailyLight(bad), Ppfd(100.0))),
            Some("daily_light")
        );
        assert_eq!(
            field(hours_to_reach(DailyLight(10.0), Ppfd(bad))),
            Some("ppfd")
        );
    }
    assert_eq!(field(daily_light(Ppfd(100.0), Hours(24.1))), Some("hours"));
    // 100 micromoles around the clock give 8.64 mol.
    assert_eq!(
        hours_to_reach(DailyLight(8.65), Ppfd(100.0)),
        Err(AgronomyError::NotReached {
            field: "daily_light",
            limit: 24.0,
        })
    );
    assert_eq!(
        hours_to_reach(DailyLight(8.64), Ppfd(100.0)),
        Ok(Hours(24.0))
    );
    assert_eq!(
        field(hours_to_reach(DailyLight(1.0), Ppfd(0.0))),
        Some("daily_light")
    );
    assert_eq!(hours_to_reach(DailyLight(0.0), Ppfd(0.0)), Ok(Hours(0.0)));
}

proptest! {
    #[test]
    fn hours_are_the_inverse_of_the_daily_light(ppfd in 0.1f64..1700.0, hours in 0.1f64..23.999) {
        let light = daily_light(Ppfd(ppfd), Hours(hours)).unwrap();
        prop_assert!((hours_to_reach(light, Ppfd(ppfd)).unwrap().0 - hours).abs() < 1e-9);
    }
}
