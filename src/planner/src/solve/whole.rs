//! Whole plants: up to the next whole one where there is room for it, else down.

use super::ground::{Ground, PLANTS_LEAST};
use crate::problem::Problem;

/// Room that counts as none, as a share of what is free: rounding of sums.
const HAIR: f64 = 1e-9;

/// What is left free of each room, by week.
pub(super) struct Rest(Vec<Vec<f64>>);

impl Rest {
    pub fn of(problem: &Problem) -> Self {
        Self(problem.rooms.iter().map(|room| room.free.clone()).collect())
    }

    /// Whether so many more plants of a choice fit; takes their room if they do.
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
                .all(|free| take.each * plants <= free + HAIR * (1.0 + free.abs()))
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

/// Whole plants by choice, none where there are none.
pub(super) fn whole(ground: &Ground<'_>, plants: &[f64]) -> Vec<(usize, u32)> {
    let problem = ground.problem;
    let mut rest = Rest::of(problem);
    let mut found: Vec<(usize, f64, f64)> = Vec::new();
    for (choice, plants) in plants.iter().enumerate() {
        if *plants > PLANTS_LEAST {
            // A hair over a whole number is that number.
            let down = (plants + PLANTS_LEAST).floor();
            found.push((choice, down, plants - down));
        }
    }
    found.retain_mut(|(choice, down, _)| {
        // Sums that are over by rounding cost a plant at most.
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
