//! How many to sow: seeds, cells and trays for the plants that are wanted.
//!
//! Every chance here is that of the exact distribution: binomial for a known
//! rate, beta-binomial for an uncertain one, the average of the binomial over the
//! beta where losses or several seeds in a cell come in between. Normal
//! approximations only say where a search begins.

mod cells;
mod chain;
mod need;
mod search;
mod uncertain;

pub use cells::{
    Cell, Germination, SEEDS_PER_CELL_MAX, cell_occupied, exactly_one, occupied_cells,
};
pub use chain::{Chain, Derivation, Met, Stage, Step};
pub use need::{Need, Wanted};

use crate::counting::Counts;
use crate::error::{AgronomyError, within};
use crate::quantity::Chance;
pub use crate::seed_age::Longevity;
use search::{Guess, Tails};

/// The most plants that can be asked for, and seeds that can be proposed.
pub const SEEDS_MAX: u32 = 1_000_000;

/// The least parameter of a beta distribution that is summed exactly.
const BETA_LEAST: f64 = 1e-6;

/// Chance that at least `wanted` of `sown` seeds make it, each with chance `rate`
/// on its own (binomial).
pub fn chance_of_at_least(wanted: u32, sown: u32, rate: Chance) -> Chance {
    Chance::clamped(Counts::binomial(sown, rate.get()).at_least(wanted))
}

/// The smallest number to sow so that at least `wanted` make it with at least
/// `chance`, each with chance `rate` on its own (exact binomial).
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for more than [`SEEDS_MAX`] wanted;
/// [`AgronomyError::NotReached`] if no number up to [`SEEDS_MAX`] is enough, as
/// with a rate of 0 or a certainty of 1 that only a rate of 1 can give.
pub fn least_sown(wanted: u32, rate: Chance, chance: Chance) -> Result<u32, AgronomyError> {
    let guess = Guess::normal(wanted, chance, rate.get(), f64::INFINITY);
    search::least(wanted, chance, guess, |sown| {
        Tails::of(&Counts::binomial(sown, rate.get()), wanted)
    })
}

/// Chance that at least `wanted` of `sown` make it when the common rate is only
/// known as Beta(`alpha`, `beta`): beta-binomial.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] unless `alpha` and `beta` lie in 1e-6..=1e9, and
/// for more than [`SEEDS_MAX`] sown.
pub fn chance_of_at_least_uncertain(
    wanted: u32,
    sown: u32,
    alpha: f64,
    beta: f64,
) -> Result<Chance, AgronomyError> {
    let (alpha, beta) = checked_beta(alpha, beta, BETA_LEAST)?;
    within("sown", f64::from(sown), 0.0, f64::from(SEEDS_MAX))?;
    Ok(Chance::clamped(
        Counts::beta_binomial(sown, alpha, beta).at_least(wanted),
    ))
}

/// Like [`least_sown`], with a rate only known as Beta(`alpha`, `beta`), such as
/// a packet's rate updated by a lot's own record (exact beta-binomial). It asks
/// for more seed than the plain rate would, the less is known.
///
/// # Errors
/// As [`least_sown`], and [`AgronomyError::OutOfRange`] unless `alpha` and `beta`
/// lie in 1e-6..=1e9.
pub fn least_sown_uncertain(
    wanted: u32,
    alpha: f64,
    beta: f64,
    chance: Chance,
) -> Result<u32, AgronomyError> {
    let (alpha, beta) = checked_beta(alpha, beta, BETA_LEAST)?;
    let weight = alpha + beta;
    let guess = Guess::normal(wanted, chance, alpha / weight, weight);
    search::least(wanted, chance, guess, |sown| {
        Tails::of(&Counts::beta_binomial(sown, alpha, beta), wanted)
    })
}

/// Both of a beta's parameters, if they are such that sums over it can be had.
fn checked_beta(alpha: f64, beta: f64, low: f64) -> Result<(f64, f64), AgronomyError> {
    Ok((
        within("alpha", alpha, low, 1e9)?,
        within("beta", beta, low, 1e9)?,
    ))
}

/// Whole trays that hold `cells`; zero if a tray has no cells.
pub fn trays_for(cells: u32, cells_per_tray: u32) -> u32 {
    if cells_per_tray == 0 {
        0
    } else {
        cells.div_ceil(cells_per_tray)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn impossible_wishes_are_refused_not_looped_over() {
        let sure = Chance::CERTAIN;
        let rate = Chance::new(0.9).unwrap();
        assert!(least_sown(10, Chance::NEVER, Chance::EVEN).is_err());
        assert!(least_sown(SEEDS_MAX + 1, rate, Chance::EVEN).is_err());
        assert_eq!(least_sown(10, sure, sure), Ok(10));
        assert!(least_sown_uncertain(10, 0.0, 1.0, Chance::EVEN).is_err());
        assert!(least_sown_uncertain(10, f64::NAN, 1.0, Chance::EVEN).is_err());
        assert!(chance_of_at_least_uncertain(10, u32::MAX, 8.0, 2.0).is_err());
    }

    #[test]
    fn a_hundred_thousand_plants_are_within_reach() {
        let rate = Chance::new(0.8).unwrap();
        let sown = least_sown(100_000, rate, Chance::NINE_IN_TEN).unwrap();
        // Mean 0.8 n, deviation sqrt(0.16 n): a normal approximation puts it near 125,230.
        assert!((125_150..125_310).contains(&sown), "{sown}");
    }

    #[test]
    fn trays_are_whole() {
        assert_eq!(trays_for(0, 128), 0);
        assert_eq!(trays_for(1, 128), 1);
        assert_eq!(trays_for(128, 128), 1);
        assert_eq!(trays_for(129, 128), 2);
        assert_eq!(trays_for(10, 0), 0);
    }

    proptest! {
        #[test]
        fn sowing_more_is_asked_for_more_plants_or_more_safety(
            wanted in 0u32..400, rate in 0.05f64..1.0, chance in 0.05f64..0.99,
        ) {
            let at = |wanted, rate, chance| {
                least_sown(wanted, Chance::new(rate).unwrap(), Chance::new(chance).unwrap()).unwrap()
            };
            let sown = at(wanted, rate, chance);
            prop_assert!(sown >= wanted);
            prop_assert!(at(wanted + 1, rate, chance) > sown);
            prop_assert!(at(wanted, rate, (chance + 0.005).min(1.0)) >= sown);
            prop_assert!(at(wanted, (rate + 0.01).min(1.0), chance) <= sown);
        }

        #[test]
        fn it_is_the_smallest_number_that_serves(
            wanted in 1u32..300, alpha in 0.3f64..60.0, beta in 0.3f64..20.0, chance in 0.05f64..0.9,
        ) {
            let chance = Chance::new(chance).unwrap();
            if let Ok(sown) = least_sown_uncertain(wanted, alpha, beta, chance) {
                let at = |sown| chance_of_at_least_uncertain(wanted, sown, alpha, beta).unwrap();
                prop_assert!(at(sown) >= chance);
                prop_assert!(at(sown - 1) < chance);
            }
        }
    }
}
