//! The effect of more room.

use super::index::ProgramIndex;
use super::relax;
use crate::problem::Problem;

/// Practically unlimited room.
const BOUNDLESS: f64 = 1e9;
/// Plants below this are ignored.
const USE_LEAST: f64 = 1e-6;

/// How much more of a room the best plan would use if it were unlimited, and the stems that would still be
/// missing. An approximation by the relaxation, never too much.
pub fn with_more_room(problem: &Problem, room: usize) -> Option<(f64, f64)> {
    let mut wide = problem.clone();
    let weeks = &mut wide.rooms.get_mut(room)?.free;
    weeks.iter_mut().for_each(|free| *free = BOUNDLESS);
    let index = ProgramIndex::of(&wide);
    let costs = index.open_to().map(|n| {
        let choice = index.choice(n);
        let slope = choice.map_or(0.0, |c| {
            c.cost + c.start / index.most(n).max(super::PLANTS_LEAST)
        });
        (n, slope)
    });
    let values = relax::relaxed(&index.model, costs, None, None)?;
    let mut used = vec![0.0; problem.weeks];
    for (choice, column) in index.model.plants.iter().enumerate() {
        let plants = column.and_then(|column| values.of.get(column)).copied();
        let plants = plants.filter(|plants| *plants > USE_LEAST);
        let (Some(plants), Some(choice)) = (plants, problem.choices.get(choice)) else {
            continue;
        };
        for take in choice.takes.iter().filter(|take| take.room == room) {
            for used in used.get_mut(take.from..take.to).into_iter().flatten() {
                *used += take.each * plants;
            }
        }
    }
    let free = &problem.rooms.get(room)?.free;
    let more = used
        .iter()
        .zip(free)
        .map(|(used, free)| used - free)
        .fold(0.0, f64::max);
    let missing = index.model.missing.iter().flatten();
    let missing = missing.filter_map(|column| values.of.get(*column)).sum();
    Some((more, missing))
}
