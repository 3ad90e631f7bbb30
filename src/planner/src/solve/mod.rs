//! The search for the plan of least cost.
//!
//! Choosing among sowings with fixed costs is a fixed-charge problem, too large here for branch and bound.
//! First, the linear relaxation with fixed costs spread over the largest useful number of plants gives a
//! lower bound. Then it is solved repeatedly with fixed costs spread over the plants of the last iteration
//! (dynamic slope scaling: Kim, D. & Pardalos, P. M., Operations Research Letters 24, 1999). Finally, sowings
//! are removed and replaced one by one and in pairs, each time with an exact linear program of the
//! surrounding weeks, until nothing improves or the time is up.

mod index;
mod local;
mod more;
mod relax;
mod whole;

use core::time::Duration;

use serde::{Deserialize, Serialize};

use crate::problem::{Problem, ProblemError};
use index::{PLANTS_LEAST, Plants, ProgramIndex};
use local::Local;

pub use more::with_more_room;

/// Iterations of slope scaling.
const SLOPES: usize = 12;
/// Iterations without a gain after which it ends.
const SLOPES_IDLE: usize = 5;
/// With more choices than this, later iterations consider only those of the first solution and their
/// neighbours.
const CHOICES_MANY: usize = 1500;
/// Neighbours of each that are considered then.
const NEIGHBOURS: usize = 12;
/// Weeks between neighbours.
const NEIGHBOUR_WEEKS: f64 = 2.5;
/// Seconds between two reports of a better plan.
const REPORT_S: f64 = 0.4;

/// A plan.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Found {
    /// Whole plants by choice, in the order of the choices.
    pub plants: Vec<(usize, u32)>,
    /// Missing stems, by demand and week.
    pub missing: Vec<Vec<f64>>,
    /// Cost, including missing stems.
    pub cost: f64,
    /// Cost of the plan before rounding to whole plants.
    pub cost_in_parts: f64,
    /// Lower bound on the cost of any plan.
    pub bound: f64,
    /// Why the search ended; `None` while it continues.
    pub ended: Option<Ended>,
}

/// Why the search ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Ended {
    /// There was no further gain.
    Settled,
    /// Time was up.
    OutOfTime,
}

impl Found {
    /// The optimality gap relative to the cost; 0 for a plan without cost.
    pub fn gap(&self) -> f64 {
        if self.cost_in_parts > 0.0 {
            ((self.cost_in_parts - self.bound) / self.cost_in_parts).max(0.0)
        } else {
            0.0
        }
    }
}

/// Why there is no plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SolveError {
    /// The problem is invalid.
    Problem(ProblemError),
    /// The linear program failed: out of time, or for numerical reasons.
    GaveUp,
}

impl core::fmt::Display for SolveError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Problem(error) => error.fmt(f),
            Self::GaveUp => write!(f, "no plan was found in time"),
        }
    }
}

impl core::error::Error for SolveError {}

/// Searches for at most `limit_s` seconds by the clock `now_s`, reports each better plan, and returns the
/// last.
///
/// The first plan needs one linear program, which is interrupted only after three times the limit.
///
/// # Errors
/// [`SolveError::Problem`] for an invalid problem; [`SolveError::GaveUp`] if the first program was not
/// solved.
pub fn solve(
    problem: &Problem,
    limit_s: f64,
    now_s: &dyn Fn() -> f64,
    better: &mut dyn FnMut(&Found),
) -> Result<Found, SolveError> {
    problem.check().map_err(SolveError::Problem)?;
    let index = ProgramIndex::of(problem);
    if index.model.columns.is_empty() {
        // Nothing is wanted.
        return Ok(Found {
            missing: vec![Vec::new(); problem.demands.len()],
            ended: Some(Ended::Settled),
            ..Found::default()
        });
    }
    let mut search = Search {
        index: &index,
        until_s: now_s() + limit_s,
        now_s,
        better,
        reported_s: f64::NEG_INFINITY,
        reported_cost: f64::INFINITY,
        bound: 0.0,
        promising: vec![false; problem.choices.len()],
    };
    let first = search.first(limit_s)?;
    let best = search.slopes(first);
    let (best, ended) = search.local(best);
    let mut found = search.found(&best).ok_or(SolveError::GaveUp)?;
    found.ended = Some(ended);
    (search.better)(&found);
    Ok(found)
}

struct Search<'a> {
    index: &'a ProgramIndex<'a>,
    until_s: f64,
    now_s: &'a dyn Fn() -> f64,
    better: &'a mut dyn FnMut(&Found),
    reported_s: f64,
    reported_cost: f64,
    bound: f64,
    promising: Vec<bool>,
}

/// Plants by choice with their cost.
struct Best {
    plants: Plants,
    cost: f64,
}

impl Search<'_> {
    fn in_time(&self) -> bool {
        (self.now_s)() < self.until_s
    }

    /// The relaxation over all choices: the bound, and the first plan.
    fn first(&mut self, limit_s: f64) -> Result<Best, SolveError> {
        let index = self.index;
        let costs = index.open_to().map(|n| (n, self.slope(n, index.most(n))));
        let limit = Duration::try_from_secs_f64(limit_s * 3.0).ok();
        let values = relax::relaxed(&index.model, costs, None, limit).ok_or(SolveError::GaveUp)?;
        self.bound = values.cost;
        let best = self.best_of(&values);
        self.report(&best);
        Ok(best)
    }

    /// Cost per plant with the fixed cost spread over `plants`.
    fn slope(&self, choice: usize, plants: f64) -> f64 {
        self.index.choice(choice).map_or(0.0, |choice| {
            choice.cost + choice.start / plants.max(PLANTS_LEAST)
        })
    }

    /// Plants of a relaxed solution, and their actual cost.
    fn best_of(&mut self, values: &relax::Values) -> Best {
        let model = &self.index.model;
        let mut plants = vec![0.0; model.plants.len()];
        let mut cost = 0.0;
        for (choice, column) in model.plants.iter().enumerate() {
            let value = column.and_then(|column| values.of.get(column)).copied();
            let value = value.filter(|value| *value > PLANTS_LEAST);
            if let (Some(value), Some(slot)) = (value, plants.get_mut(choice)) {
                *slot = value;
                cost += self.index.cost(choice, value);
                if let Some(promising) = self.promising.get_mut(choice) {
                    *promising = true;
                }
            }
        }
        for column in model.missing.iter().flatten() {
            let price = model.columns.get(*column).map_or(0.0, |c| c.cost);
            cost += price * values.of.get(*column).copied().unwrap_or(0.0);
        }
        Best { plants, cost }
    }

    /// Slope scaling: fixed costs are spread over the plants of the last iteration.
    fn slopes(&mut self, first: Best) -> Best {
        let index = self.index;
        let mut costs: Vec<f64> = (0..index.problem.choices.len())
            .map(|n| self.slope(n, index.most(n)))
            .collect();
        let mut last = first.plants.clone();
        let mut best = first;
        let mut idle = 0;
        let within = self.neighbourhood(&last);
        for _ in 0..SLOPES {
            if idle >= SLOPES_IDLE || !self.in_time() {
                break;
            }
            for (choice, plants) in last.iter().enumerate() {
                if *plants > PLANTS_LEAST {
                    let slope = self.slope(choice, *plants);
                    if let Some(cost) = costs.get_mut(choice) {
                        *cost = slope;
                    }
                }
            }
            // Time may have run out since the check; then the limit is zero, not absent.
            let left_s = self.until_s - (self.now_s)();
            let limit = Some(Duration::try_from_secs_f64(left_s).unwrap_or_default());
            let some = within
                .iter()
                .filter_map(|n| costs.get(*n).map(|cost| (*n, *cost)));
            let Some(values) = relax::relaxed(&index.model, some, None, limit) else {
                break;
            };
            let now = self.best_of(&values);
            last.clone_from(&now.plants);
            if now.cost < best.cost {
                best = now;
                idle = 0;
                self.report(&best);
            } else {
                idle += 1;
            }
        }
        best
    }

    /// The choices that later iterations consider: all, or if there are many, those in the plan with the
    /// cheapest of their neighbours.
    fn neighbourhood(&self, made: &[f64]) -> Vec<usize> {
        let index = self.index;
        if index.open_to().count() <= CHOICES_MANY {
            return index.open_to().collect();
        }
        let stem_cost = |n: usize| {
            index.choice(n).map_or(f64::INFINITY, |choice| {
                choice.cost / choice.gives.iter().sum::<f64>().max(PLANTS_LEAST)
            })
        };
        let mut within = std::collections::BTreeSet::new();
        for (choice, _) in made.iter().enumerate().filter(|(_, n)| **n > 0.0) {
            within.insert(choice);
            let mut near: Vec<usize> = index.all_near(choice, NEIGHBOUR_WEEKS).collect();
            near.sort_by(|a, b| stem_cost(*a).total_cmp(&stem_cost(*b)).then(a.cmp(b)));
            within.extend(near.into_iter().take(NEIGHBOURS));
        }
        within.into_iter().collect()
    }

    /// Local search until there is no gain.
    fn local(&mut self, best: Best) -> (Best, Ended) {
        let Best { plants, mut cost } = best;
        let mut local = Local::new(self.index, plants, self.promising.clone());
        let mut pairs = false;
        let mut idle = 0;
        loop {
            let gained = local.round(pairs, |local| {
                if (self.now_s)() - self.reported_s > REPORT_S {
                    self.report(&Best {
                        plants: local.plants.clone(),
                        cost: f64::NAN,
                    });
                }
                self.in_time()
            });
            cost -= gained;
            let ended = if !self.in_time() {
                Some(Ended::OutOfTime)
            } else if Local::is_worth_it(gained, cost) {
                idle = 0;
                None
            } else {
                idle += 1;
                pairs = !pairs;
                (idle >= 2).then_some(Ended::Settled)
            };
            if let Some(ended) = ended {
                let plants = local.plants;
                return (Best { plants, cost }, ended);
            }
        }
    }

    fn report(&mut self, best: &Best) {
        if let Some(found) = self.found(best) {
            self.reported_s = (self.now_s)();
            if found.cost < self.reported_cost {
                self.reported_cost = found.cost;
                (self.better)(&found);
            }
        }
    }

    /// A plan in whole plants with its missing stems and cost.
    fn found(&self, best: &Best) -> Option<Found> {
        let index = self.index;
        let plants = whole::whole(index, &best.plants);
        let mut sizes = vec![0.0; best.plants.len()];
        for (choice, plants) in &plants {
            if let Some(slot) = sizes.get_mut(*choice) {
                *slot = f64::from(*plants);
            }
        }
        let (missing, lacking) = self.missing(&sizes)?;
        let made: f64 = plants
            .iter()
            .map(|(choice, plants)| index.cost(*choice, f64::from(*plants)))
            .sum();
        let (_, lacking_in_parts) = self.missing(&best.plants)?;
        let made_in_parts: f64 = best
            .plants
            .iter()
            .enumerate()
            .map(|(choice, plants)| index.cost(choice, *plants))
            .sum();
        Some(Found {
            plants,
            missing,
            cost: made + lacking,
            cost_in_parts: made_in_parts + lacking_in_parts,
            bound: self.bound,
            ended: None,
        })
    }

    /// Missing stems by demand and week for the given plants, and their cost.
    fn missing(&self, plants: &[f64]) -> Option<(Vec<Vec<f64>>, f64)> {
        let model = &self.index.model;
        let activity = self.index.activity(plants);
        let values = relax::relaxed(model, core::iter::empty(), Some(&activity), None)?;
        let missing = model
            .missing
            .iter()
            .map(|columns| {
                let of = |column: &usize| values.of.get(*column).copied().unwrap_or(0.0);
                columns.iter().map(of).collect()
            })
            .collect();
        Some((missing, values.cost))
    }
}
