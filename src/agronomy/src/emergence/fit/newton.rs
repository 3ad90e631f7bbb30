//! Maximisation of a log-likelihood by Newton's method with damping.

use super::likelihood::{Point, Second};
use super::matrix::{Matrix, solved};

const STEPS_MAX: usize = 200;
/// The longest step in a logit or a log.
const STEP_MAX: f64 = 1.5;
/// The search ends when the predicted increase is smaller than this.
const TOLERANCE: f64 = 1e-13;

/// The maximum, with its observed information.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Maximum {
    pub(super) point: Point,
    pub(super) value: f64,
    /// Observed information: minus the matrix of second derivatives. A fixed parameter has a 1 on the
    /// diagonal and zeros elsewhere.
    pub(super) information: Matrix,
}

/// Maximises from `start`, keeping the first parameter fixed if it is infinite.
pub(super) fn maximise(start: Point, function: impl Fn(Point) -> Second) -> Maximum {
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
        let predicted: f64 = step.iter().zip(here.slope).map(|(s, g)| s * g).sum();
        if predicted < TOLERANCE {
            break;
        }
        let longest = step.iter().fold(0.0_f64, |most, s| most.max(s.abs()));
        let scale = (STEP_MAX / longest).min(1.0);
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
    Maximum {
        point,
        value: here.value,
        information: here.curvature.map(|row| row.map(|entry| -entry)),
    }
}

fn stronger(damping: f64) -> f64 {
    (damping * 10.0).max(1e-3)
}
