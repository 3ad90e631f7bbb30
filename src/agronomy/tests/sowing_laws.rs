//! Properties of sowing counts.
#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::quantity::Chance;
use agronomy::sowing::{Cell, Germination, SEEDS_MAX, least_sown};
use proptest::prelude::*;

fn chance(share: f64) -> Chance {
    Chance::new(share).unwrap()
}

fn known(rate: Chance, seeds: u32, survival: Chance) -> Cell {
    Cell::new(Germination::Known(rate), seeds, survival).unwrap()
}

#[test]
fn invalid_arguments_are_refused_by_name() {
    let good = chance(0.8);
    for seeds in [0, 101] {
        let error = Cell::new(Germination::Known(good), seeds, good).unwrap_err();
        assert_eq!(error.field(), "seeds_per_cell");
    }
    for (alpha, beta, field) in [
        (0.0, 1.0, "alpha"),
        (f64::NAN, 1.0, "alpha"),
        (8.0, -1.0, "beta"),
        (8.0, f64::INFINITY, "beta"),
    ] {
        let germination = Germination::Uncertain { alpha, beta };
        let error = Cell::new(germination, 1, good).unwrap_err();
        assert_eq!(error.field(), field, "{error}");
        let error = least_sown(10, alpha, beta, good).unwrap_err();
        assert_eq!(error.field(), field, "{error}");
    }
    let cell = known(good, 1, good);
    assert_eq!(
        cell.chance_of_at_least(1, SEEDS_MAX + 1)
            .unwrap_err()
            .field(),
        "cells"
    );
    assert_eq!(
        cell.least_cells(SEEDS_MAX + 1, good).unwrap_err().field(),
        "wanted"
    );
    // Neither certainty nor plants from dead seed can be reached.
    assert_eq!(
        cell.least_cells(10, Chance::CERTAIN).unwrap_err().field(),
        "sown"
    );
    let dead = known(Chance::NEVER, 1, good);
    assert_eq!(dead.least_cells(10, good).unwrap_err().field(), "sown");
}

#[test]
fn dead_seed_gives_no_plants_and_perfect_seed_one_a_cell() {
    assert_eq!(
        known(Chance::NEVER, 5, Chance::CERTAIN).gives_plant(),
        Chance::NEVER
    );
    for seeds in [1, 5] {
        assert_eq!(
            known(Chance::CERTAIN, seeds, Chance::CERTAIN).gives_plant(),
            Chance::CERTAIN
        );
    }
}

/// Almost certain is not certain: without a spare seed, ten of ten already fail once in a billion at a rate
/// of 1 - 1e-10.
#[test]
fn a_probability_close_to_one_is_not_rounded_to_certainty() {
    let cells = |rate, wanted| known(chance(rate), 1, Chance::CERTAIN).least_cells(10, wanted);
    let sown = cells(0.9, chance(1.0 - 1e-14)).unwrap();
    let looser = cells(0.9, chance(1.0 - 1e-12)).unwrap();
    assert!(sown > looser, "{sown} {looser}");
    assert!(cells(0.9, Chance::CERTAIN).is_err());
    assert!(least_sown(10, 9.0, 1.0, Chance::CERTAIN).is_err());
    assert_eq!(cells(1.0 - 1e-10, chance(1.0 - 1e-12)), Ok(11));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn cells_of_uncertain_germination_are_the_fewest_that_suffice(
        wanted in 1u32..150, share in 0.2f64..0.95, weight in 1.0f64..300.0,
        seeds in 1u32..4, survival in 0.5f64..=1.0, safety in 0.3f64..0.95,
    ) {
        let germination = Germination::Uncertain {
            alpha: share * weight,
            beta: (1.0 - share) * weight,
        };
        let cell = Cell::new(germination, seeds, chance(survival)).unwrap();
        let Ok(cells) = cell.least_cells(wanted, chance(safety)) else {
            // The germination may well be close to zero.
            prop_assert!(share * weight < 3.0);
            return Ok(());
        };
        let at = |cells| cell.chance_of_at_least(wanted, cells).unwrap().get();
        prop_assert!(at(cells) >= safety - 1e-11);
        prop_assert!(at(cells - 1) < safety + 1e-11);
        prop_assert!(cell.least_cells(wanted + 1, chance(safety)).map_or(true, |more| more > cells));
    }

    /// The integral over the beta, against the sum over the seedlings that germinate and then survive.
    #[test]
    fn single_seeds_that_must_survive_agree_with_the_sum_over_both_steps(
        wanted in 0u32..40, cells in 1u32..60, alpha in 0.2f64..200.0, beta in 0.2f64..100.0,
        survival in 0.1f64..0.999,
    ) {
        let germination = Germination::Uncertain { alpha, beta };
        let seed = Cell::new(germination, 1, Chance::CERTAIN).unwrap();
        let up = |k| seed.chance_of_at_least(k, cells).unwrap().get();
        let seedling = known(chance(survival), 1, Chance::CERTAIN);
        let survive = |k| seedling.chance_of_at_least(wanted, k).unwrap().get();
        let summed: f64 = (0..=cells).map(|k| (up(k) - up(k + 1)) * survive(k)).sum();
        let cell = Cell::new(germination, 1, chance(survival)).unwrap();
        let found = cell.chance_of_at_least(wanted, cells).unwrap().get();
        prop_assert!((found - summed).abs() < 1e-12, "{found} {summed}");
    }

    #[test]
    fn better_seed_needs_fewer_even_if_the_rate_is_uncertain(
        wanted in 1u32..200, alpha in 2.0f64..80.0, beta in 0.3f64..40.0, safety in 0.1f64..0.9,
    ) {
        let at = |wanted, alpha, beta, safety| {
            least_sown(wanted, alpha, beta, chance(safety)).unwrap_or(u32::MAX)
        };
        let sown = at(wanted, alpha, beta, safety);
        prop_assert!(at(wanted, alpha + 1.0, beta, safety) <= sown);
        prop_assert!(at(wanted, alpha, beta + 1.0, safety) >= sown);
        prop_assert!(at(wanted + 1, alpha, beta, safety) >= sown);
        prop_assert!(at(wanted, alpha, beta, safety + 0.02) >= sown);
    }
}
