//! The season by chance: how surely every demand gets its stems, and what to expect of each class in each week.
//!
//! A [`Case`] holds what grows and what is wanted, a [`Run`] plays its seasons with a seed, an [`Outcome`] tells how often each demand
//! fell short. [`expected`] gives the mean stems without playing, in closed form or by quadrature; the tests hold the one against the
//! other.
//!
//! What differs between seasons: the germination rate of each batch (beta) and which of its seeds come up (binomial); losses
//! (binomial); bloom earlier or later, partly for all batches alike (two halves of a normal round the middle); the yield (log-normal),
//! partly for all alike; the day of the frost that ends the crops, which comes for all of them at once.

mod case;
mod expect;
mod grow;
mod outcome;
mod plants;
mod run;
mod spread;
mod tally;
mod weeks;

#[cfg(test)]
mod tests;

pub use case::{Batch, Case, CaseError, Demand, Draw, Part, Plants};
pub use expect::expected;
pub use outcome::{DemandOutcome, Estimate, Outcome, PartOutcome};
pub use run::Run;
pub use spread::Spread;
