//! The search for the plan of least cost.
//!
//! Choosing sowings that each cost something whatever their size is a fixed-charge problem, too large here to be solved to the end
//! by branching. So: first the linear program in which the start of a sowing is spread over the most plants that could be of use.
//! What it costs is a bound that no plan goes below. Then the same with starts spread over as many plants as the last round chose,
//! several times (dynamic slope scaling: Kim, D. & Pardalos, P. M., Operations Research Letters 24, 1999). Then sowings are taken
//! out and replaced, one by one and by pairs, each time with an exact linear program of the weeks around them, until nothing is
//! gained any more or time is up.

mod ground;
mod local;
mod more;
mod relax;
mod whole;

use core::time::Duration;

use serde::{Deserialize, Serialize};

use crate::problem::{Problem, ProblemError};
use ground::{Ground, PLANTS_LEAST, Plants};
use local::Local;

pub use more::with_more_room;

/// Rounds of spreading starts anew.
const SLOPES: usize = 12;
/// Rounds of it without a gain after which it is left.
const SLOPES_IDLE: usize = 5;
/// Choices beyond which later rounds look only at those that the first one made and their neighbours.
const CHOICES_MANY: usize = 1500;
/// Neighbours of each that are looked at then.
const NEIGHBOURS: usize = 12;
/// Weeks within which they bloom.
const NEIGHBOUR_WEEKS: f64 = 2.5;
/// Seconds between two reports of a better plan.
const REPORT_S: f64 = 0.4;

/// A plan.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Found {
    /// Whole plants by choice, in the order of the choices.
    pub plants: Vec<(usize, u32)>,
    /// Stems missing, by demand and place in its weeks.
    pub missing: Vec<Vec<f64>>,
    /// What it costs, missing stems included.
    pub cost: f64,
    /// What it would cost if plants could be cut in parts, as the program has it.
    pub cost_in_parts: f64,
    /// No plan can cost less than this.
    pub bound: f64,
    /// Why the search ended; none while it goes on.
    pub ended: Option<Ended>,
}

/// Why the search ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Ended {
    /// Nothing was gained any more.
    Settled,
    /// Time was up.
    OutOfTime,
}

impl Found {
    /// How far above the bound it may be at most, as a share of its cost; 0 for a plan that costs nothing.
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
    /// The problem makes no sense.
    Problem(ProblemError),
    /// The linear program was given up: out of time, or for numerical reasons.
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

/// Searches for at most `limit_s` seconds by the clock `now_s`, tells each better plan, and returns the last.
///
/// The first plan comes after one linear program, which is never cut short before thrice the limit.
///
/// # Errors
/// [`SolveError::Problem`] for a problem that makes no sense; [`SolveError::GaveUp`] if not even the first program was solved.
pub fn solve(
    problem: &Problem,
    limit_s: f64,
    now_s: &dyn Fn() -> f64,
    better: &mut dyn FnMut(&Found),
) -> Result<Found, SolveError> {
    problem.check().map_err(SolveError::Problem)?;
    let ground = Ground::of(problem);
    if ground.model.columns.is_empty() {
        // Nothing is wanted.
        return Ok(Found {
            missing: vec![Vec::new(); problem.demands.len()],
            ended: Some(Ended::Settled),
            ..Found::default()
        });
    }
    let mut search = Search {
        ground: &ground,
        until_s: now_s() + limit_s,
        now_s,
        better,
        told_s: f64::NEG_INFINITY,
        told_cost: f64::INFINITY,
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
    ground: &'a Ground<'a>,
    until_s: f64,
    now_s: &'a dyn Fn() -> f64,
    better: &'a mut dyn FnMut(&Found),
    told_s: f64,
    told_cost: f64,
    bound: f64,
    promising: Vec<bool>,
}

/// Plants by choice with what they cost.
struct Best {
    plants: Plants,
    cost: f64,
}

impl Search<'_> {
    fn in_time(&self) -> bool {
        (self.now_s)() < self.until_s
    }

    /// The relaxed program over all choices: the bound, and the first plan.
    fn first(&mut self, limit_s: f64) -> Result<Best, SolveError> {
        let ground = self.ground;
        let costs = ground.open_to().map(|n| (n, self.slope(n, ground.most(n))));
        let limit = Duration::try_from_secs_f64(limit_s * 3.0).ok();
        let values = relax::relaxed(&ground.model, costs, None, limit).ok_or(SolveError::GaveUp)?;
        self.bound = values.cost;
        let best = self.best_of(&values);
        self.tell(&best);
        Ok(best)
    }

    /// Cost of a plant when the start is spread over so many.
    fn slope(&self, choice: usize, plants: f64) -> f64 {
        self.ground.choice(choice).map_or(0.0, |choice| {
            choice.cost + choice.start / plants.max(PLANTS_LEAST)
        })
    }

    /// Plants of a relaxed solution, and what they really cost.
    fn best_of(&mut self, values: &relax::Values) -> Best {
        let model = &self.ground.model;
        let mut plants = vec![0.0; model.plants.len()];
        let mut cost = 0.0;
        for (choice, column) in model.plants.iter().enumerate() {
            let value = column.and_then(|column| values.of.get(column)).copied();
            let value = value.filter(|value| *value > PLANTS_LEAST);
            if let (Some(value), Some(slot)) = (value, plants.get_mut(choice)) {
                *slot = value;
                cost += self.ground.cost(choice, value);
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

    /// Starts spread anew over the plants of the last round.
    fn slopes(&mut self, first: Best) -> Best {
        let ground = self.ground;
        let mut costs: Vec<f64> = (0..ground.problem.choices.len())
            .map(|n| self.slope(n, ground.most(n)))
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
            // Time may have run out since it was asked for: then there is none left, not all of it.
            let left_s = self.until_s - (self.now_s)();
            let limit = Some(Duration::try_from_secs_f64(left_s).unwrap_or_default());
            let some = within
                .iter()
                .filter_map(|n| costs.get(*n).map(|cost| (*n, *cost)));
            let Some(values) = relax::relaxed(&ground.model, some, None, limit) else {
                break;
            };
            let now = self.best_of(&values);
            last.clone_from(&now.plants);
            if now.cost < best.cost {
                best = now;
                idle = 0;
                self.tell(&best);
            } else {
                idle += 1;
            }
        }
        best
    }

    /// The choices that later rounds look at: all, or of many those that were made with the cheapest of their neighbours.
    fn neighbourhood(&self, made: &[f64]) -> Vec<usize> {
        let ground = self.ground;
        if ground.open_to().count() <= CHOICES_MANY {
            return ground.open_to().collect();
        }
        let stem_cost = |n: usize| {
            ground.choice(n).map_or(f64::INFINITY, |choice| {
                choice.cost / choice.gives.iter().sum::<f64>().max(PLANTS_LEAST)
            })
        };
        let mut within = std::collections::BTreeSet::new();
        for (choice, _) in made.iter().enumerate().filter(|(_, n)| **n > 0.0) {
            within.insert(choice);
            let mut near: Vec<usize> = ground.all_near(choice, NEIGHBOUR_WEEKS).collect();
            near.sort_by(|a, b| stem_cost(*a).total_cmp(&stem_cost(*b)).then(a.cmp(b)));
            within.extend(near.into_iter().take(NEIGHBOURS));
        }
        within.into_iter().collect()
    }

    /// Sowings taken out and replaced until nothing is gained.
    fn local(&mut self, best: Best) -> (Best, Ended) {
        let Best { plants, mut cost } = best;
        let mut local = Local::new(self.ground, plants, self.promising.clone());
        let mut pairs = false;
        let mut idle = 0;
        loop {
            let gained = local.round(pairs, |local| {
                if (self.now_s)() - self.told_s > REPORT_S {
                    self.tell(&Best {
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

    fn tell(&mut self, best: &Best) {
        if let Some(found) = self.found(best) {
            self.told_s = (self.now_s)();
            if found.cost < self.told_cost {
                self.told_cost = found.cost;
                (self.better)(&found);
            }
        }
    }

    /// A plan in whole plants with what it lacks and costs.
    fn found(&self, best: &Best) -> Option<Found> {
        let ground = self.ground;
        let plants = whole::whole(ground, &best.plants);
        let mut sizes = vec![0.0; best.plants.len()];
        for (choice, plants) in &plants {
            if let Some(slot) = sizes.get_mut(*choice) {
                *slot = f64::from(*plants);
            }
        }
        let (missing, lacking) = self.missing(&sizes)?;
        let made: f64 = plants
            .iter()
            .map(|(choice, plants)| ground.cost(*choice, f64::from(*plants)))
            .sum();
        let (_, lacking_in_parts) = self.missing(&best.plants)?;
        let made_in_parts: f64 = best
            .plants
            .iter()
            .enumerate()
            .map(|(choice, plants)| ground.cost(choice, *plants))
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

    /// Stems missing by demand and week with so many plants, and what they cost.
    fn missing(&self, plants: &[f64]) -> Option<(Vec<Vec<f64>>, f64)> {
        let model = &self.ground.model;
        let activity = self.ground.activity(plants);
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
