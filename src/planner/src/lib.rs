//! Planning by numbers: which sowings cover the stems wanted at least cost inside the room there is, how surely they do, and where
//! they lie in the beds.
//!
//! Weeks, plants, trays and metres come in as plain numbers and go out as such. This room never knows a crop by name, never reads a
//! clock or storage, and has no randomness of its own: time and seeds are parameters.

pub mod chance;
pub mod lacks;
pub mod layout;
pub mod model;
pub mod mps;
pub mod post;
pub mod problem;
pub mod solve;

use serde::{Deserialize, Serialize};

use lacks::{Lack, lacks, mended};
use problem::Problem;
use solve::{Found, SolveError, solve};

/// A plan with what it lacks.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Answer {
    /// The plan.
    pub found: Found,
    /// What it lacks.
    pub lacks: Vec<Lack>,
}

impl Answer {
    /// A plan that may still get better, with what it lacks so far.
    pub fn so_far(problem: &Problem, found: Found) -> Self {
        Self {
            lacks: lacks(problem, &found),
            found,
        }
    }
}

/// Searches as [`solve`] does, and says what the last plan lacks.
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
    let lacks = mended(problem, lacks(problem, &found));
    Ok(Answer { found, lacks })
}
