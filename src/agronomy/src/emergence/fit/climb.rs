//! The highest point of a log-likelihood, by Newton's method with damping.

use super::likelihood::{Point, Second};
use super::matrix::{Matrix, solved};

const STEPS_MAX: usize = 200;
/// No step changes a logit or a log by more than this.
const STRIDE_MAX: f64 = 1.5;
/// A rise promised to be smaller than this ends the climb.
const ENOUGH: f64 = 1e-13;

/// The top, with the slope's matrix of second derivatives turned positive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Top {
    pub(super) point: Point,
    pub(super) value: f64,
    /// Observed information: minus the curvature. Parameters held fast stand
    /// apart from the others, with a 1.
    pub(super) information: Matrix,
}

/// Climbs from `start`, with the first parameter held fast where it is infinite.
pub(super) fn climb(start: Point, function: impl Fn(Point) -> Second) -> Top {
    let free = start.map(f64::is_finite);
    let at = |point: Point| {
        let mut here = function(point);
        for (place, _) in free.iter().enumerate().filter(|(_, free)| !**free) {
            here.slope[place] = 0.0;
            for row in &mut here.curvature {
                row[place] = 0.0;
            }
            here.curvature[place] = [0.0; 3];
            here.curvature[place][place] = -1.0;
        }
        here
    };
    let mut point = start;
    let mut here = at(point);
    let mut damping = 0.0;
    for _ in 0..STEPS_MAX {
        let mut system = here.curvature.map(|row| row.map(|entry| -entry));
        for (place, row) in system.iter_mut().enumerate() {
            row[place] += damping * row[place].abs().max(1e-3);
        }
        let Some(step) = solved(&system, here.slope) else {
            damping = stronger(damping);
            continue;
        };
        let promised: f64 = step.iter().zip(here.slope).map(|(s, g)| s * g).sum();
        if promised < ENOUGH {
            break;
        }
        let longest = step.iter().fold(0.0_f64, |most, s| most.max(s.abs()));
        let scale = (STRIDE_MAX / longest).min(1.0);
        let mut next = point;
        for (slot, part) in next.iter_mut().zip(step) {
            *slot += scale * part;
        }
        let there = at(next);
        if there.value >= here.value {
            (point, here) = (next, there);
            damping = if damping < 1e-6 { 0.0 } else { damping / 10.0 };
        } else {
            damping = stronger(damping);
            if damping > 1e12 {
                break;
            }
        }
    }
    Top {
        point,
        value: here.value,
        information: here.curvature.map(|row| row.map(|entry| -entry)),
    }
}

fn stronger(damping: f64) -> f64 {
    (damping * 10.0).max(1e-3)
}
