//! The season by chance: how surely every target's weeks and every order get their stems.
//!
//! What grows and what is wanted is written down in numbers here ([`ask`]), played many times over by [`planner::chance`], and read
//! back by target, week and order ([`Asked::read`]). The figures are those of the forecast, so that both tell the same story: what the
//! forecast calls the middle is the middle of the seasons played.
//!
//! Stems count once. Orders go first, the earliest date before the others, since they are promised to somebody; then the targets in
//! the order in which the plan serves them.

mod batches;
mod demands;

#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

use agronomy::iso_week::IsoWeek;
use planner::chance::{Case, Estimate, Outcome, PartOutcome};

use crate::fact::Wanted;
use crate::forecast::{Course, Outlook, YIELD_SHARED};
use crate::ids::*;

/// Seasons that are played.
pub const SEASONS: u32 = 10_000;
/// Share of the variance of bloom days that a year's weather has in common for all batches: half, as of yields ([`YIELD_SHARED`]).
/// From memory of practice, where a late spring makes everything late; no source.
const WEATHER_SHARED: f64 = 0.5;
/// The most weeks that are looked at.
const WEEKS_MAX: usize = 110;

/// A season put to chance: the case to play, and what its numbers stand for.
#[derive(Debug, Clone, PartialEq)]
pub struct Asked {
    /// What is played; travels to where it is played.
    pub case: Case,
    /// The week that the case calls week 0.
    pub first: IsoWeek,
    /// Which demand is which.
    wishes: Vec<Wish>,
}

/// What a demand of the case stands for.
#[derive(Debug, Clone, PartialEq)]
enum Wish {
    Order(OrderId, Vec<(Wanted, u32)>),
    Target(TargetId, Vec<IsoWeek>, u32),
}

/// How a target or an order fares by chance.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ByChance {
    /// Each target's weeks from this week on.
    pub targets: BTreeMap<TargetId, Vec<WeekChance>>,
    /// Each open order.
    pub orders: BTreeMap<OrderId, OrderChance>,
    /// Seasons that were played.
    pub seasons: u32,
    /// The seed they were played with.
    pub seed: u64,
}

/// A week of a target by chance.
#[derive(Debug, Clone, PartialEq)]
pub struct WeekChance {
    /// Which week.
    pub week: IsoWeek,
    /// Stems wanted.
    pub wanted: u32,
    /// How it came out.
    pub outcome: PartOutcome,
}

/// An order by chance.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderChance {
    /// The chance (0 to 1) that all its lines can be filled.
    pub filled: Estimate,
    /// Its lines: what is wanted, stems that are neither handed over nor in the cooler, and how that came out.
    pub lines: Vec<(Wanted, u32, PartOutcome)>,
}

/// Puts a season to chance as of a day: what stands, is sown and is accepted, with proposals beside it.
pub fn ask(outlook: &Outlook<'_>, proposed: &[Course], seed: u64) -> Asked {
    let first = IsoWeek::of(outlook.today());
    let grown = batches::of(outlook, proposed);
    let demands = demands::of(outlook, &grown.classes);
    let weeks = demands.weeks.clamp(1, WEEKS_MAX);
    Asked {
        case: Case {
            seed,
            seasons: SEASONS,
            weeks,
            classes: grown.classes.len().max(1),
            weather_shared: WEATHER_SHARED,
            yield_shared: YIELD_SHARED,
            batches: grown.batches,
            demands: demands.demands,
        },
        first,
        wishes: demands.wishes,
    }
}

impl Asked {
    /// Reads by target, week and order what came out.
    pub fn read(&self, outcome: &Outcome) -> ByChance {
        let mut found = ByChance {
            seasons: outcome.seasons,
            seed: outcome.seed,
            ..ByChance::default()
        };
        for (wish, demand) in self.wishes.iter().zip(&outcome.demands) {
            match wish {
                Wish::Target(target, weeks, wanted) => {
                    let weeks = weeks.iter().zip(&demand.parts);
                    let weeks = weeks.map(|(week, outcome)| WeekChance {
                        week: *week,
                        wanted: *wanted,
                        outcome: *outcome,
                    });
                    found.targets.insert(target.clone(), weeks.collect());
                }
                Wish::Order(order, lines) => {
                    let lines = lines.iter().zip(&demand.parts);
                    let lines =
                        lines.map(|((wanted, stems), outcome)| (wanted.clone(), *stems, *outcome));
                    // Of a standing order the next delivery is told.
                    found.orders.entry(order.clone()).or_insert(OrderChance {
                        filled: demand.filled,
                        lines: lines.collect(),
                    });
                }
            }
        }
        found
    }
}
