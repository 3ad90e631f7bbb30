//! Monte Carlo simulation of a season: the probability that each demand is met, and the stems of each class
//! in each week.
//!
//! A [`Case`] is the input, a [`Run`] simulates its seasons from a seed, an [`Outcome`] has the probability
//! of a shortage for each demand. [`expected`] gives the mean stems in closed form or by quadrature; the
//! tests compare both.
//!
//! These vary between seasons: the germination rate of each batch (beta) and the number of seedlings
//! (binomial); losses (binomial); the day of bloom, partly shared by all batches (two halves of a normal
//! around the median); the yield (log-normal), partly shared; and the day of the frost that ends the crops,
//! which is the same for all of them.

mod case;
mod expect;
mod grow;
mod histogram;
mod outcome;
mod plants;
mod run;
mod spread;
mod weeks;

#[cfg(test)]
mod tests;

pub use case::{Batch, Case, CaseError, Demand, Draw, Part, Plants};
pub use expect::expected;
pub use outcome::{DemandOutcome, Estimate, Outcome, PartOutcome};
pub use run::Run;
pub use spread::Spread;
