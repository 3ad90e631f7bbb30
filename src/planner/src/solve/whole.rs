//! Rounding to whole plants: up if there is room, otherwise down.

use super::index::{PLANTS_LEAST, ProgramIndex};
use crate::problem::Problem;

/// Tolerance of room, relative to what is free.
const TOLERANCE: f64 = 1e-9;

/// What is left of each room, by week.
pub(super) struct Rest(Vec<Vec<f64>>);

impl Rest {
    pub fn of(problem: &Problem) -> Self {
        Self(problem.rooms.iter().map(|room| room.free.clone()).collect())
    }

    /// Takes the room for `plants` more of a choice if they fit, and returns whether they do.
    fn take(&mut self, problem: &Problem, choice: usize, plants: f64) -> bool {
        let Some(choice) = problem.choices.get(choice) else {
            return false;
        };
        let fits = choice.takes.iter().all(|take| {
            let weeks = self
                .0
                .get(take.room)
                .and_then(|r| r.get(take.from..take.to));
            weeks
                .into_iter()
                .flatten()
                .all(|free| take.each * plants <= free + TOLERANCE * (1.0 + free.abs()))
        });
        if fits {
            for take in &choice.takes {
                let weeks = self.0.get_mut(take.room);
                for free in weeks
                    .and_then(|room| room.get_mut(take.from..take.to))
                    .into_iter()
                    .flatten()
                {
                    *free = (*free - take.each * plants).max(0.0);
                }
            }
        }
        fits
    }
}

/// Whole plants by choice, without those that are zero.
pub(super) fn whole(index: &ProgramIndex<'_>, plants: &[f64]) -> Vec<(usize, u32)> {
    let problem = index.problem;
    let mut rest = Rest::of(problem);
    let mut found: Vec<(usize, f64, f64)> = Vec::new();
    for (choice, plants) in plants.iter().enumerate() {
        if *plants > PLANTS_LEAST {
            // Slightly above an integer is that integer.
            let down = (plants + PLANTS_LEAST).floor();
            found.push((choice, down, plants - down));
        }
    }
    found.retain_mut(|(choice, down, _)| {
        // An excess by rounding costs at most one plant.
        while *down > 0.0 && !rest.take(problem, *choice, *down) {
            *down -= 1.0;
        }
        true
    });
    found.sort_by(|a, b| b.2.total_cmp(&a.2).then(a.0.cmp(&b.0)));
    for (choice, down, over) in &mut found {
        if *over > PLANTS_LEAST && rest.take(problem, *choice, 1.0) {
            *down += 1.0;
        }
    }
    found.sort_by_key(|(choice, ..)| *choice);
    found
        .into_iter()
        .filter(|(_, plants, _)| *plants >= 1.0)
        .map(|(choice, plants, _)| (choice, plants as u32))
        .collect()
}
