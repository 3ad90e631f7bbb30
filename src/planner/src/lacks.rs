//! What a plan lacks, which room is in the way, and how much more of it would mend it.

use serde::{Deserialize, Serialize};

use crate::problem::{Choice, Problem};
use crate::solve::{Found, with_more_room};

/// Stems missing in a week that are not told: rounding.
const STEMS_LEAST: f64 = 0.5;
/// Rooms for which it is worked out how much more would mend what is missing.
const MENDS_MAX: usize = 4;
/// A room is in the way if it stops at least this share of the sowings that could fill a gap.
const IN_THE_WAY: f64 = 0.5;
/// Weeks with at least this share of a sowing's best are full ones.
const FULL_SHARE: f64 = 0.5;

/// Weeks running in which a demand is not met.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Lack {
    /// Which demand.
    pub demand: usize,
    /// First and last week.
    pub weeks: (usize, usize),
    /// Stems missing in all.
    pub stems: f64,
    /// Whether any sowing could still fill one of these weeks, room left aside.
    pub could: bool,
    /// Rooms that are in the way, the worst first. None although sowings could be made: then they cost more than the stems count.
    pub full: Vec<Full>,
}

/// A room that is in the way.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
pub struct Full {
    /// Which room.
    pub room: usize,
    /// First and last week in which it is full.
    pub weeks: (usize, usize),
    /// About how much more of it all that is missing would take; none where that was not worked out.
    pub more: Option<f64>,
    /// About how many stems would still be missing with it, over all demands.
    pub still_missing: Option<f64>,
}

/// All that a plan lacks, without what would mend it: see [`mended`].
pub fn lacks(problem: &Problem, found: &Found) -> Vec<Lack> {
    let rest = rest(problem, found);
    let mut lacks = Vec::new();
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
            lacks.push(Lack {
                demand,
                weeks,
                stems: run.iter().map(|(_, stems)| stems).sum(),
                could: !could.is_empty(),
                full: full(&rest, &could),
            });
        }
    }
    lacks
}

/// What is left of each room by week.
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

/// Sowings whose full weeks fall into a span in which a demand lacks stems; first and last stems fill no week.
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
            stems.is_some_and(|stems| *stems > 0.0 && *stems >= FULL_SHARE * best)
        })
    };
    let choices = problem.choices.iter();
    choices
        .filter(|choice| answers(choice.class) && gives(choice))
        .collect()
}

/// Rooms that leave no space for one more plant of at least half of the sowings.
fn full(rest: &[Vec<f64>], could: &[&Choice]) -> Vec<Full> {
    let mut found: Vec<(usize, Full)> = Vec::new();
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
            && stopped as f64 >= IN_THE_WAY * could.len() as f64
        {
            let full = Full {
                room,
                weeks,
                more: None,
                still_missing: None,
            };
            found.push((stopped, full));
        }
    }
    found.sort_by(|a, b| b.0.cmp(&a.0).then(a.1.room.cmp(&b.1.room)));
    found.into_iter().map(|(_, full)| full).collect()
}

/// Works out for the rooms that are most in the way how much more of each would do: a linear program for each room.
pub fn mended(problem: &Problem, mut lacks: Vec<Lack>) -> Vec<Lack> {
    let mut rooms: Vec<usize> = Vec::new();
    for full in lacks.iter().filter_map(|lack| lack.full.first()) {
        if !rooms.contains(&full.room) {
            rooms.push(full.room);
        }
    }
    rooms.truncate(MENDS_MAX);
    for room in rooms {
        let Some((more, missing)) = with_more_room(problem, room) else {
            continue;
        };
        for full in lacks.iter_mut().flat_map(|lack| &mut lack.full) {
            if full.room == room {
                full.more = Some(more);
                full.still_missing = Some(missing);
            }
        }
    }
    lacks
}
