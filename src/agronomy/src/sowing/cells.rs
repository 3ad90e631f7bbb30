//! Cells of a tray: seeds in them, seedlings out of them.

use super::search::{self, Guess, Tails};
use super::uncertain::Uncertain;
use super::{SEEDS_MAX, checked_beta};
use crate::counting::Counts;
use crate::error::{AgronomyError, within};
use crate::quantity::Chance;

/// The most seeds in a cell that are reckoned with.
pub const SEEDS_PER_CELL_MAX: u32 = 100;

/// The least parameter of a beta distribution that is averaged over.
const BETA_LEAST: f64 = 0.1;

/// Chance that a cell with so many seeds has at least one seedling, if each seed
/// comes up with chance `rate` on its own: 1 - (1 - rate)^seeds. Never for no seeds.
pub fn cell_occupied(rate: Chance, seeds_per_cell: u32) -> Chance {
    let seeds = f64::from(seeds_per_cell);
    if seeds_per_cell == 0 {
        Chance::NEVER
    } else {
        Chance::clamped(-(seeds * (-rate.get()).ln_1p()).exp_m1())
    }
}

/// Chance that a cell with so many seeds has exactly one seedling and needs
/// neither thinning nor filling. Never for no seeds.
pub fn exactly_one(rate: Chance, seeds_per_cell: u32) -> Chance {
    let Some(others) = seeds_per_cell.checked_sub(1) else {
        return Chance::NEVER;
    };
    let none_of_the_others = rate.complement().get().powf(f64::from(others));
    Chance::clamped(f64::from(seeds_per_cell) * rate.get() * none_of_the_others)
}

/// The number of occupied cells, of so many with chance `occupied` each, that is
/// not exceeded with chance `share` (the smallest number whose cumulative
/// probability reaches it; exact binomial). A share within 1e-12 of certainty is
/// not told apart from one a little further off.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for more than [`SEEDS_MAX`] cells.
pub fn occupied_cells(cells: u32, occupied: Chance, share: Chance) -> Result<u32, AgronomyError> {
    within("cells", f64::from(cells), 0.0, f64::from(SEEDS_MAX))?;
    Ok(Counts::binomial(cells, occupied.get()).quantile(share.get()))
}

/// What is known of the share of seeds that come up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Germination {
    /// The share itself.
    Known(Chance),
    /// Its distribution Beta(`alpha`, `beta`): as if `alpha` seeds had been seen to come up and `beta` to fail.
    Uncertain {
        /// Seeds' worth of evidence for coming up, 0.1 to 1e9.
        alpha: f64,
        /// Seeds' worth of evidence against, 0.1 to 1e9.
        beta: f64,
    },
}

impl Germination {
    fn checked(self) -> Result<Self, AgronomyError> {
        if let Self::Uncertain { alpha, beta } = self {
            checked_beta(alpha, beta, BETA_LEAST)?;
        }
        Ok(self)
    }

    /// The share that comes up on average.
    pub fn mean(self) -> Chance {
        match self {
            Self::Known(rate) => rate,
            Self::Uncertain { alpha, beta } => Chance::clamped(alpha / (alpha + beta)),
        }
    }
}

/// How one cell is sown and what may become of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cell {
    germination: Germination,
    seeds: u32,
    survival: Chance,
}

impl Cell {
    /// A cell sown with so many `seeds`, thinned to one seedling that is still
    /// there and good enough to plant with chance `survival`.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] unless `seeds` lies in
    /// 1..=[`SEEDS_PER_CELL_MAX`] and the parameters of an uncertain germination
    /// in 0.1..=1e9.
    pub fn new(
        germination: Germination,
        seeds: u32,
        survival: Chance,
    ) -> Result<Self, AgronomyError> {
        let most = f64::from(SEEDS_PER_CELL_MAX);
        within("seeds_per_cell", f64::from(seeds), 1.0, most)?;
        Ok(Self {
            germination: germination.checked()?,
            seeds,
            survival,
        })
    }

    /// Chance that it gives a plant, at the germination's average.
    pub fn gives_plant(self) -> Chance {
        let occupied = cell_occupied(self.germination.mean(), self.seeds);
        Chance::clamped(occupied.get() * self.survival.get())
    }

    /// Chance of at least `wanted` plants from `cells` such cells.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] for more than [`SEEDS_MAX`] cells.
    pub fn chance_of_at_least(self, wanted: u32, cells: u32) -> Result<Chance, AgronomyError> {
        within("cells", f64::from(cells), 0.0, f64::from(SEEDS_MAX))?;
        Ok(Chance::clamped(self.tails(wanted, cells).enough))
    }

    /// The smallest number of such cells that give at least `wanted` plants with
    /// at least `chance`.
    ///
    /// # Errors
    /// As [`super::least_sown`].
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

    /// Cells' worth of evidence for the chance that a cell gives a plant: that of
    /// the beta with its mean and, to first order, its variance.
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
