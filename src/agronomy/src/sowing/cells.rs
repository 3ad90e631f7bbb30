//! Cells of a tray: the seeds sown in them and the plants they give.

use super::search::{self, Guess, Tails};
use super::uncertain::Uncertain;
use super::{SEEDS_MAX, check_beta};
use crate::counting::Counts;
use crate::error::{AgronomyError, within};
use crate::quantity::Chance;

/// The largest number of seeds per cell accepted.
const SEEDS_PER_CELL_MAX: u32 = 100;

/// The smallest parameter of a beta distribution that can be integrated over.
const BETA_MIN: f64 = 0.1;

/// Probability that a cell has at least one seedling if each of its seeds germinates independently:
/// 1 - (1 - rate)^seeds.
fn occupied(rate: Chance, seeds: u32) -> f64 {
    -(f64::from(seeds) * (-rate.get()).ln_1p()).exp_m1()
}

/// What is known about the share of seeds that germinate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Germination {
    /// The share itself.
    Known(Chance),
    /// Its distribution Beta(`alpha`, `beta`): equivalent to having seen `alpha` seeds germinate and `beta` fail.
    Uncertain {
        /// Seeds' worth of evidence of germination, 0.1 to 1e9.
        alpha: f64,
        /// Seeds' worth of evidence of failure, 0.1 to 1e9.
        beta: f64,
    },
}

impl Germination {
    fn check(self) -> Result<(), AgronomyError> {
        match self {
            Self::Known(_) => Ok(()),
            Self::Uncertain { alpha, beta } => check_beta(alpha, beta, BETA_MIN),
        }
    }

    fn mean(self) -> Chance {
        match self {
            Self::Known(rate) => rate,
            Self::Uncertain { alpha, beta } => Chance::clamped(alpha / (alpha + beta)),
        }
    }
}

/// How one cell is sown, and the survival of its seedling.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cell {
    germination: Germination,
    seeds: u32,
    survival: Chance,
}

impl Cell {
    /// A cell sown with `seeds` and thinned to one seedling, which survives to be planted with probability
    /// `survival`.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] unless `seeds` is in 1..=100 and the parameters of an uncertain
    /// germination are in 0.1..=1e9.
    pub fn new(
        germination: Germination,
        seeds: u32,
        survival: Chance,
    ) -> Result<Self, AgronomyError> {
        let most = f64::from(SEEDS_PER_CELL_MAX);
        within("seeds_per_cell", f64::from(seeds), 1.0, most)?;
        germination.check()?;
        Ok(Self {
            germination,
            seeds,
            survival,
        })
    }

    /// Probability that the cell gives a plant, at the mean germination.
    pub fn gives_plant(self) -> Chance {
        let occupied = occupied(self.germination.mean(), self.seeds);
        Chance::clamped(occupied * self.survival.get())
    }

    /// Probability of at least `wanted` plants from `cells` such cells.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] for more than [`SEEDS_MAX`] cells.
    pub fn chance_of_at_least(self, wanted: u32, cells: u32) -> Result<Chance, AgronomyError> {
        within("cells", f64::from(cells), 0.0, f64::from(SEEDS_MAX))?;
        Ok(Chance::clamped(self.tails(wanted, cells).enough))
    }

    /// The smallest number of such cells that gives at least `wanted` plants with probability `chance`.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] for more than [`SEEDS_MAX`] wanted; [`AgronomyError::NotReached`] if no
    /// number up to [`SEEDS_MAX`] suffices, as for a rate of 0, or for certainty with a rate below 1.
    pub fn least_cells(self, wanted: u32, chance: Chance) -> Result<u32, AgronomyError> {
        let guess = Guess::normal(wanted, chance, self.gives_plant().get(), self.weight());
        search::least(wanted, chance, guess, |cells| self.tails(wanted, cells))
    }

    fn tails(self, wanted: u32, cells: u32) -> Tails {
        match self.germination {
            Germination::Known(_) => {
                Tails::of(&Counts::binomial(cells, self.gives_plant().get()), wanted)
            }
            Germination::Uncertain { alpha, beta }
                if self.seeds == 1 && self.survival >= Chance::CERTAIN =>
            {
                Tails::of(&Counts::beta_binomial(cells, alpha, beta), wanted)
            }
            Germination::Uncertain { alpha, beta } => Uncertain {
                alpha,
                beta,
                seeds: f64::from(self.seeds),
                survival: self.survival.get(),
            }
            .tails(wanted, cells),
        }
    }

    /// Cells' worth of evidence for the probability that a cell gives a plant: that of the beta distribution
    /// with its mean and, to first order, its variance.
    fn weight(self) -> f64 {
        let Germination::Uncertain { alpha, beta } = self.germination else {
            return f64::INFINITY;
        };
        let rate = alpha / (alpha + beta);
        let seeds = f64::from(self.seeds);
        let slope = self.survival.get() * seeds * (1.0 - rate).powf(seeds - 1.0);
        let variance = rate * (1.0 - rate) / (alpha + beta + 1.0) * slope * slope;
        let plant = self.gives_plant().get();
        (plant * (1.0 - plant) / variance - 1.0).max(0.0)
    }
}
