//! How many cells to sow for the plants wanted.
//!
//! Every probability is exact: binomial for a known germination rate, beta-binomial for an uncertain one, and
//! the binomial averaged over the beta if seedlings may be lost or cells hold several seeds. A normal
//! approximation only supplies the start of the search.

mod cells;
mod search;
mod uncertain;

pub use cells::{Cell, Germination};

use crate::counting::Counts;
use crate::error::{AgronomyError, within};
use crate::quantity::Chance;
use search::{Guess, Tails};

/// The largest number of plants, cells or seeds accepted.
pub const SEEDS_MAX: u32 = 1_000_000;

/// The smallest parameter of a beta distribution accepted by [`least_sown`].
const BETA_MIN: f64 = 1e-6;

/// The smallest number to sow so that at least `wanted` germinate with probability `chance`, for a rate known
/// only as Beta(`alpha`, `beta`), such as a packet's rate updated by the lot's own record.
///
/// The less is known, the more seed it asks for. Exact (beta-binomial).
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for more than [`SEEDS_MAX`] wanted or parameters outside 1e-6..=1e9;
/// [`AgronomyError::NotReached`] if no number up to [`SEEDS_MAX`] suffices.
pub fn least_sown(
    wanted: u32,
    alpha: f64,
    beta: f64,
    chance: Chance,
) -> Result<u32, AgronomyError> {
    check_beta(alpha, beta, BETA_MIN)?;
    let weight = alpha + beta;
    let guess = Guess::normal(wanted, chance, alpha / weight, weight);
    search::least(wanted, chance, guess, |sown| {
        Tails::of(&Counts::beta_binomial(sown, alpha, beta), wanted)
    })
}

fn check_beta(alpha: f64, beta: f64, low: f64) -> Result<(), AgronomyError> {
    within("alpha", alpha, low, 1e9)?;
    within("beta", beta, low, 1e9)?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn known(rate: Chance) -> Cell {
        Cell::new(Germination::Known(rate), 1, Chance::CERTAIN).unwrap()
    }

    fn uncertain(alpha: f64, beta: f64) -> Cell {
        Cell::new(Germination::Uncertain { alpha, beta }, 1, Chance::CERTAIN).unwrap()
    }

    #[test]
    fn impossible_targets_are_refused_without_an_endless_search() {
        let rate = Chance::new(0.9).unwrap();
        assert!(known(Chance::NEVER).least_cells(10, Chance::EVEN).is_err());
        assert!(
            known(rate)
                .least_cells(SEEDS_MAX + 1, Chance::EVEN)
                .is_err()
        );
        let sure = known(Chance::CERTAIN).least_cells(10, Chance::CERTAIN);
        assert_eq!(sure, Ok(10));
        assert!(least_sown(10, 0.0, 1.0, Chance::EVEN).is_err());
        assert!(least_sown(10, f64::NAN, 1.0, Chance::EVEN).is_err());
        assert!(
            uncertain(8.0, 2.0)
                .chance_of_at_least(10, u32::MAX)
                .is_err()
        );
    }

    #[test]
    fn a_hundred_thousand_plants_are_supported() {
        let rate = Chance::new(0.8).unwrap();
        let sown = known(rate)
            .least_cells(100_000, Chance::NINE_IN_TEN)
            .unwrap();
        // Mean 0.8 n, deviation sqrt(0.16 n): a normal approximation gives about 125,230.
        assert!((125_150..125_310).contains(&sown), "{sown}");
    }

    proptest! {
        #[test]
        fn more_plants_or_a_higher_chance_need_more_seed(
            wanted in 0u32..400, rate in 0.05f64..1.0, chance in 0.05f64..0.99,
        ) {
            let at = |wanted, rate, chance| {
                known(Chance::new(rate).unwrap()).least_cells(wanted, Chance::new(chance).unwrap()).unwrap()
            };
            let sown = at(wanted, rate, chance);
            prop_assert!(sown >= wanted);
            prop_assert!(at(wanted + 1, rate, chance) > sown);
            prop_assert!(at(wanted, rate, (chance + 0.005).min(1.0)) >= sown);
            prop_assert!(at(wanted, (rate + 0.01).min(1.0), chance) <= sown);
        }

        #[test]
        fn it_is_the_smallest_number_that_suffices(
            wanted in 1u32..300, alpha in 0.3f64..60.0, beta in 0.3f64..20.0, chance in 0.05f64..0.9,
        ) {
            let chance = Chance::new(chance).unwrap();
            if let Ok(sown) = least_sown(wanted, alpha, beta, chance) {
                let at = |sown| uncertain(alpha, beta).chance_of_at_least(wanted, sown).unwrap();
                prop_assert!(at(sown) >= chance);
                prop_assert!(at(sown - 1) < chance);
            }
        }
    }
}
