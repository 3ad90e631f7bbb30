//! Planning by numbers: the sowings that cover the stems wanted at least cost within the available room, the
//! probability that they do, and their layout in the beds.
//!
//! Weeks, plants, trays and metres are plain numbers here. This crate knows no crop by name, reads no clock
//! or storage, and has no randomness of its own: time and seeds are parameters.

pub mod chance;
pub mod layout;
pub mod model;
pub mod mps;
pub mod problem;
pub mod protocol;
pub mod shortages;
pub mod solve;

use serde::{Deserialize, Serialize};

use problem::Problem;
use shortages::{Shortage, shortages, with_remedies};
use solve::{Found, SolveError, solve};

/// A plan with its shortages.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Answer {
    /// The plan.
    pub found: Found,
    /// Its shortages.
    pub shortages: Vec<Shortage>,
}

impl Answer {
    /// A plan that may still improve, with its shortages so far.
    pub fn so_far(problem: &Problem, found: Found) -> Self {
        Self {
            shortages: shortages(problem, &found),
            found,
        }
    }
}

/// Searches as [`solve`] does and adds the shortages of the final plan.
///
/// # Errors
/// As [`solve`].
pub fn answer(
    problem: &Problem,
    limit_s: f64,
    now_s: &dyn Fn() -> f64,
    better: &mut dyn FnMut(&Found),
) -> Result<Answer, SolveError> {
    let found = solve(problem, limit_s, now_s, better)?;
    let shortages = with_remedies(problem, shortages(problem, &found));
    Ok(Answer { found, shortages })
}
