//! Every test of the project, in order, each step timed.

pub mod browsers;
mod steps;
mod tally;

pub use tally::Tally;

use std::time::{Duration, Instant};

use crate::error::Error;

/// How a step ended.
#[derive(Debug)]
enum Outcome {
    /// It ran; these tests passed and failed.
    Ran(Tally),
    /// It could not run at all.
    Stopped(Error),
    /// There was nothing to run here, for this reason.
    Skipped(String),
}

/// A step done.
#[derive(Debug)]
struct Done {
    name: String,
    outcome: Outcome,
    took: Duration,
}

impl Done {
    /// What the step adds to the sum: a step that could not run is a failure,
    /// and so is one that says it failed without naming a test.
    fn tally(&self) -> Tally {
        match &self.outcome {
            Outcome::Ran(tally) => *tally,
            Outcome::Stopped(_) => Tally::FAILED,
            Outcome::Skipped(_) => Tally::default(),
        }
    }

    fn line(&self) -> String {
        let took = format!("{:7.1} s", self.took.as_secs_f64());
        let name = &self.name;
        match &self.outcome {
            Outcome::Ran(tally) if tally.failed > 0 => {
                format!("FAILED  {took}  {name}: {tally}")
            }
            Outcome::Ran(tally) => format!("passed  {took}  {name}: {tally}"),
            Outcome::Stopped(error) => format!("FAILED  {took}  {name}: {error}"),
            Outcome::Skipped(why) => format!("skipped {took}  {name}: {why}"),
        }
    }
}

/// Runs everything and prints a line for each step, then the sum as
/// `N passed, N failed`. True when nothing failed.
pub fn run() -> bool {
    let mut done = Vec::new();
    let mut step = |name: &str, act: &mut dyn FnMut() -> Outcome| {
        println!("\n== {name}");
        let start = Instant::now();
        let outcome = act();
        let step = Done {
            name: name.to_owned(),
            outcome,
            took: start.elapsed(),
        };
        println!("{}", step.line());
        let passed = step.tally().failed == 0;
        done.push(step);
        passed
    };
    steps::all(&mut step);

    println!("\n== all steps");
    let mut sum = Tally::default();
    for step in &done {
        println!("{}", step.line());
        sum += step.tally();
    }
    println!("{sum}");
    sum.failed == 0
}
