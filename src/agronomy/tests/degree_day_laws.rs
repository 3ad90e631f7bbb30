//! Properties of degree-days for any day.

use agronomy::degree_days::single_sine;
use agronomy::quantity::Celsius;
use proptest::prelude::*;

fn degree_days(min: f64, max: f64, base: f64, ceiling: Option<f64>) -> f64 {
    single_sine(
        Celsius(min),
        Celsius(max),
        Celsius(base),
        ceiling.map(Celsius),
    )
    .0
}

#[test]
fn the_order_of_minimum_and_maximum_does_not_matter() {
    assert!((degree_days(20.0, 10.0, 5.0, None) - 10.0).abs() < 1e-12);
    assert!((degree_days(10.0, 20.0, 5.0, None) - 10.0).abs() < 1e-12);
}

#[test]
fn a_ceiling_at_or_below_the_base_gives_zero() {
    for ceiling in [10.0, 4.0] {
        assert!(degree_days(10.0, 20.0, 10.0, Some(ceiling)).abs() < 1e-12);
    }
}

proptest! {
    #[test]
    fn degree_days_are_never_negative_and_grow_with_warmth(
        min in -30.0f64..34.0, swing in 0.0f64..25.0, more_min in 0.0f64..10.0, more_max in 0.0f64..10.0,
        base in -5.0f64..20.0, room in 0.5f64..25.0, capped: bool,
    ) {
        let ceiling = capped.then_some(base + room);
        let max = min + swing;
        let cool = degree_days(min, max, base, ceiling);
        prop_assert!(cool >= 0.0);
        prop_assert!(!capped || cool <= room + 1e-9);
        let higher_night = (min + more_min).min(max);
        prop_assert!(degree_days(higher_night, max, base, ceiling) + 1e-9 >= cool);
        prop_assert!(degree_days(min, max + more_max, base, ceiling) + 1e-9 >= cool);
    }

    #[test]
    fn thresholds_shift_the_sum_in_the_right_direction(
        min in -20.0f64..30.0, swing in 0.0f64..25.0, base in -5.0f64..20.0, room in 1.0f64..20.0,
        shift in 0.0f64..0.9, along in -15.0f64..15.0,
    ) {
        let of = |base: f64, ceiling: f64| degree_days(min, min + swing, base, Some(ceiling));
        let plain = of(base, base + room);
        // A higher base never gives more, a higher ceiling never less.
        prop_assert!(of(base + shift * room, base + room) <= plain + 1e-9);
        prop_assert!(of(base, base + room + shift) + 1e-9 >= plain);
        // Shifting temperatures and thresholds together changes nothing.
        let shifted =
            degree_days(min + along, min + swing + along, base + along, Some(base + room + along));
        prop_assert!((shifted - plain).abs() < 1e-9);
        // The horizontal cutoff is the area above the base less the area above the ceiling.
        let above = |level| degree_days(min, min + swing, level, None);
        prop_assert!((above(base) - above(base + room) - plain).abs() < 1e-9);
    }
}
