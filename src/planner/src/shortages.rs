//! The shortages of a plan, the rooms that cause them, and how much more room would be needed.

use serde::{Deserialize, Serialize};

use crate::problem::{Choice, Problem};
use crate::solve::{Found, with_more_room};

/// Missing stems below this are rounding.
const STEMS_LEAST: f64 = 0.5;
/// Number of bottlenecks for which the additional room is computed.
const REMEDIES_MAX: usize = 4;
/// A room is a bottleneck if it blocks at least this share of the sowings that could fill a gap.
const BLOCKED_SHARE: f64 = 0.5;
/// A sowing's main weeks have at least this share of its best week.
const MAIN_SHARE: f64 = 0.5;

/// Consecutive weeks in which a demand is not met.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Shortage {
    /// Index of the demand.
    pub demand: usize,
    /// First and last week.
    pub weeks: (usize, usize),
    /// Total number of missing stems.
    pub stems: f64,
    /// Whether any sowing could still fill one of these weeks, ignoring room.
    pub could: bool,
    /// Rooms that prevent it, the worst first. Empty although a sowing could: then it costs more than the
    /// stems are worth.
    pub bottlenecks: Vec<Bottleneck>,
}

/// A room that prevents a shortage from being filled.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
pub struct Bottleneck {
    /// Index of the room.
    pub room: usize,
    /// First and last week in which it is bottlenecks.
    pub weeks: (usize, usize),
    /// Approximately how much more of it would be needed; `None` if not computed.
    pub more: Option<f64>,
    /// Approximately how many stems of all demands would still be missing with it.
    pub still_missing: Option<f64>,
}

/// The shortages of a plan, without the room needed to fill them: see [`with_remedies`].
pub fn shortages(problem: &Problem, found: &Found) -> Vec<Shortage> {
    let rest = rest(problem, found);
    let mut shortages = Vec::new();
    for (demand, missing) in found.missing.iter().enumerate() {
        let Some(wanted) = problem.demands.get(demand).map(|d| &d.wanted) else {
            continue;
        };
        let short: Vec<(usize, f64)> = wanted
            .iter()
            .zip(missing)
            .filter(|(_, missing)| **missing > STEMS_LEAST)
            .map(|((week, _), missing)| (*week, *missing))
            .collect();
        for run in short.chunk_by(|a, b| a.0 + 1 == b.0) {
            let (Some(first), Some(last)) = (run.first(), run.last()) else {
                continue;
            };
            let weeks = (first.0, last.0);
            let could = choices_for(problem, demand, weeks);
            shortages.push(Shortage {
                demand,
                weeks,
                stems: run.iter().map(|(_, stems)| stems).sum(),
                could: !could.is_empty(),
                bottlenecks: bottlenecks(&rest, &could),
            });
        }
    }
    shortages
}

/// What is left of each room, by week.
fn rest(problem: &Problem, found: &Found) -> Vec<Vec<f64>> {
    let mut rest: Vec<Vec<f64>> = problem.rooms.iter().map(|r| r.free.clone()).collect();
    for (choice, plants) in &found.plants {
        let takes = problem.choices.get(*choice).map(|choice| &choice.takes);
        for take in takes.into_iter().flatten() {
            let weeks = rest.get_mut(take.room);
            for free in weeks
                .and_then(|room| room.get_mut(take.from..take.to))
                .into_iter()
                .flatten()
            {
                *free -= take.each * f64::from(*plants);
            }
        }
    }
    rest
}

/// Sowings whose main weeks are in the given weeks of a demand.
fn choices_for(problem: &Problem, demand: usize, weeks: (usize, usize)) -> Vec<&Choice> {
    let answers = |class: usize| {
        let class = problem.classes.get(class);
        class.is_some_and(|class| class.answers.contains(&demand))
    };
    let gives = |choice: &Choice| {
        let best = choice.gives.iter().copied().fold(0.0, f64::max);
        (weeks.0..=weeks.1).any(|week| {
            let place = week.checked_sub(choice.first);
            let stems = place.and_then(|place| choice.gives.get(place));
            stems.is_some_and(|stems| *stems > 0.0 && *stems >= MAIN_SHARE * best)
        })
    };
    let choices = problem.choices.iter();
    choices
        .filter(|choice| answers(choice.class) && gives(choice))
        .collect()
}

/// Rooms without space for one more plant of at least half of the sowings.
fn bottlenecks(rest: &[Vec<f64>], could: &[&Choice]) -> Vec<Bottleneck> {
    let mut found: Vec<(usize, Bottleneck)> = Vec::new();
    for room in 0..rest.len() {
        let mut stopped = 0;
        let mut weeks: Option<(usize, usize)> = None;
        for choice in could {
            let mut stops = false;
            for take in choice.takes.iter().filter(|take| take.room == room) {
                for week in take.from..take.to {
                    let free = rest.get(room).and_then(|weeks| weeks.get(week));
                    if free.is_some_and(|free| *free < take.each) {
                        stops = true;
                        weeks =
                            Some(weeks.map_or((week, week), |(a, b)| (a.min(week), b.max(week))));
                    }
                }
            }
            stopped += usize::from(stops);
        }
        if let Some(weeks) = weeks
            && stopped as f64 >= BLOCKED_SHARE * could.len() as f64
        {
            let bottlenecks = Bottleneck {
                room,
                weeks,
                more: None,
                still_missing: None,
            };
            found.push((stopped, bottlenecks));
        }
    }
    found.sort_by(|a, b| b.0.cmp(&a.0).then(a.1.room.cmp(&b.1.room)));
    found
        .into_iter()
        .map(|(_, bottlenecks)| bottlenecks)
        .collect()
}

/// Computes for the worst bottlenecks how much more room would help: one linear program per room.
pub fn with_remedies(problem: &Problem, mut shortages: Vec<Shortage>) -> Vec<Shortage> {
    let mut rooms: Vec<usize> = Vec::new();
    for bottlenecks in shortages
        .iter()
        .filter_map(|shortage| shortage.bottlenecks.first())
    {
        if !rooms.contains(&bottlenecks.room) {
            rooms.push(bottlenecks.room);
        }
    }
    rooms.truncate(REMEDIES_MAX);
    for room in rooms {
        let Some((more, missing)) = with_more_room(problem, room) else {
            continue;
        };
        for bottlenecks in shortages
            .iter_mut()
            .flat_map(|shortage| &mut shortage.bottlenecks)
        {
            if bottlenecks.room == room {
                bottlenecks.more = Some(more);
                bottlenecks.still_missing = Some(missing);
            }
        }
    }
    shortages
}
