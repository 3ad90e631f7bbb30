//! What the page and the planner's thread say to each other, as JSON.

use serde::{Deserialize, Serialize};

use crate::Answer;
use crate::chance::{Case, Outcome};
use crate::problem::Problem;
use crate::solve::Found;

/// What the page asks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Ask {
    /// To search for a plan, for at most so many seconds.
    Plan {
        /// What is to be planned.
        problem: Problem,
        /// Seconds.
        limit_s: f64,
    },
    /// To play a season by chance.
    Play(Case),
}

/// What the planner tells.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Tell {
    /// It is there and can be asked.
    Ready,
    /// A plan that is better than the last.
    Better(Found),
    /// The plan, with what it lacks: the end of an asking to plan.
    Planned(Answer),
    /// So many seasons are played.
    Played(u32),
    /// All seasons are played: what came out.
    Chance(Outcome),
    /// It could not be done: why, for those who look into it.
    Failed(String),
}
