//! The messages between the page and the planner's thread, as JSON.

use serde::{Deserialize, Serialize};

use crate::Answer;
use crate::chance::{Case, Outcome};
use crate::problem::Problem;
use crate::solve::Found;

/// A request of the page.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Request {
    /// Search for a plan, for at most `limit_s` seconds.
    Plan {
        /// The problem.
        problem: Problem,
        /// Time limit in seconds.
        limit_s: f64,
    },
    /// Simulate a season.
    Play(Case),
}

/// A response of the thread.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Response {
    /// The thread is ready for requests.
    Ready,
    /// A better plan than the last one.
    Better(Found),
    /// The final plan with its shortages; ends a request to plan.
    Planned(Answer),
    /// Number of seasons simulated so far.
    Played(u32),
    /// The result of the simulation; ends a request to simulate.
    Chance(Outcome),
    /// The request failed, with the reason for developers.
    Failed(String),
}
