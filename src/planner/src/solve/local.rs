//! Local search: one sowing after the other is removed, its stems are replaced by its neighbours or by a new
//! sowing, and the result is kept if it is cheaper.

use super::index::{PLANTS_LEAST, Part, Plants, ProgramIndex};

/// Weeks around a sowing's bloom in which neighbours may change size.
const REACH_WEEKS: f64 = 5.0;
/// Weeks around it in which a new sowing may replace it.
const REPLACE_WEEKS: f64 = 3.0;
/// New sowings that are tried for one that is removed.
const REPLACEMENTS: usize = 40;
/// Iterations of slope scaling for a replacement.
const SLOPES: usize = 3;
/// A gain that is worth another round, relative to the total cost.
const GAIN_LEAST: f64 = 1e-5;
/// A cost that excludes a choice.
const EXCLUDED: f64 = 1e6;

/// A plan being improved.
pub(super) struct Local<'a> {
    index: &'a ProgramIndex<'a>,
    pub plants: Plants,
    activity: Vec<f64>,
    /// Choices used by some relaxed program; tried first.
    promising: Vec<bool>,
    /// Cost per stem by choice, without fixed costs.
    stem_cost: Vec<f64>,
}

impl<'a> Local<'a> {
    pub fn new(index: &'a ProgramIndex<'a>, plants: Plants, promising: Vec<bool>) -> Self {
        let stem_cost = index
            .problem
            .choices
            .iter()
            .map(|choice| choice.cost / choice.gives.iter().sum::<f64>().max(PLANTS_LEAST))
            .collect();
        Self {
            activity: index.activity(&plants),
            index,
            plants,
            promising,
            stem_cost,
        }
    }

    fn of(&self, choice: usize) -> f64 {
        self.plants.get(choice).copied().unwrap_or(0.0)
    }

    /// Sowings in the plan, the cheapest first.
    pub fn made(&self) -> Vec<usize> {
        let made = self.plants.iter().enumerate();
        let mut made: Vec<(f64, usize)> = made
            .filter(|(_, plants)| **plants > PLANTS_LEAST)
            .map(|(choice, plants)| (self.index.cost(choice, *plants), choice))
            .collect();
        made.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        made.into_iter().map(|(_, choice)| choice).collect()
    }

    /// Tries to do better without some neighbouring sowings, the first of which is the focus. Returns the
    /// gain.
    pub fn without(&mut self, out: &[usize]) -> f64 {
        let Some(first) = out.first().copied() else {
            return 0.0;
        };
        let plants = self.of(first);
        if plants <= PLANTS_LEAST {
            return 0.0;
        }
        let index = self.index;
        let mut stay: Vec<usize> = Vec::new();
        let mut new: Vec<usize> = Vec::new();
        for other in index.all_near(first, REACH_WEEKS) {
            if out.contains(&other) {
                continue;
            }
            if self.of(other) > PLANTS_LEAST {
                stay.push(other);
            } else if index.near(first, other, REPLACE_WEEKS) {
                new.push(other);
            }
        }
        let promising = |n: &usize| self.promising.get(*n).copied().unwrap_or(false);
        let cost = |n: &usize| self.stem_cost.get(*n).copied().unwrap_or(EXCLUDED);
        new.sort_by(|a, b| {
            (promising(b).cmp(&promising(a)))
                .then(cost(a).total_cmp(&cost(b)))
                .then(a.cmp(b))
        });
        new.truncate(REPLACEMENTS);
        // The baseline: the current sowings with their sizes optimised.
        let kept: Vec<usize> = stay.iter().chain(out).copied().collect();
        let plain: Vec<f64> = kept.iter().map(|n| self.plain(*n)).collect();
        let Some(as_is) = index.part(&self.plants, &self.activity, &kept, &plain) else {
            return 0.0;
        };
        let before = self.cost_of(&kept, &as_is);
        let free: Vec<usize> = stay.iter().chain(&new).chain(out).copied().collect();
        let mut costs: Vec<f64> = stay
            .iter()
            .map(|n| self.plain(*n))
            .chain(new.iter().map(|n| self.plain(*n) + self.start(*n) / plants))
            .chain(out.iter().map(|_| EXCLUDED))
            .collect();
        let mut best: Option<(Part, f64)> = None;
        for _ in 0..SLOPES {
            let Some(part) = index.part(&self.plants, &self.activity, &free, &costs) else {
                break;
            };
            for ((choice, plants), cost) in free.iter().zip(&part.plants).zip(&mut costs) {
                if *plants > PLANTS_LEAST && *cost < EXCLUDED {
                    *cost = self.plain(*choice) + self.start(*choice) / plants;
                }
            }
            let cost = self.cost_of(&free, &part);
            if best.as_ref().is_none_or(|(_, least)| cost < *least) {
                best = Some((part, cost));
            }
        }
        match best {
            Some((part, cost)) if cost < before => {
                self.take(&free, &part);
                before - cost
            }
            _ => {
                self.take(&kept, &as_is);
                0.0
            }
        }
    }

    fn plain(&self, choice: usize) -> f64 {
        self.index.choice(choice).map_or(EXCLUDED, |c| c.cost)
    }

    fn start(&self, choice: usize) -> f64 {
        self.index.choice(choice).map_or(0.0, |c| c.start)
    }

    fn cost_of(&self, choices: &[usize], part: &Part) -> f64 {
        let made = choices.iter().zip(&part.plants);
        let made: f64 = made
            .map(|(choice, plants)| self.index.cost(*choice, *plants))
            .sum();
        made + part.missing_cost
    }

    fn take(&mut self, choices: &[usize], part: &Part) {
        for (choice, plants) in choices.iter().zip(&part.plants) {
            let plants = if *plants > PLANTS_LEAST { *plants } else { 0.0 };
            if let Some(slot) = self.plants.get_mut(*choice) {
                let change = plants - *slot;
                *slot = plants;
                self.index.add(&mut self.activity, *choice, change);
            }
        }
        // Accumulated rounding errors are cleared by recomputing.
        self.activity = self.index.activity(&self.plants);
    }

    /// Removes each sowing once, and if `pairs` each with its nearest neighbour. Returns the gain; stops when
    /// `go_on` returns false.
    pub fn round(&mut self, pairs: bool, mut go_on: impl FnMut(&Self) -> bool) -> f64 {
        let mut gained = 0.0;
        for choice in self.made() {
            let neighbour = pairs.then(|| self.nearest(choice)).flatten();
            if pairs && neighbour.is_none() {
                continue;
            }
            let out: Vec<usize> = core::iter::once(choice).chain(neighbour).collect();
            gained += self.without(&out);
            if !go_on(self) {
                break;
            }
        }
        gained
    }

    /// The sowing in the plan that blooms nearest to `choice`, for a common demand.
    fn nearest(&self, choice: usize) -> Option<usize> {
        (1..=3).find_map(|weeks| {
            self.index
                .all_near(choice, f64::from(weeks))
                .find(|other| self.of(*other) > PLANTS_LEAST)
        })
    }

    /// Whether a gain is worth another round.
    pub fn is_worth_it(gain: f64, whole: f64) -> bool {
        gain > GAIN_LEAST * whole
    }
}
