//! A log-logistic emergence curve fitted to counts.
//!
//! F(t) = d / (1 + (t / e)^-b): d is the final share, e the day by which half of it is up, b the steepness.
//! Counts are interval-censored times with a multinomial likelihood (Ritz, Pipper & Streibig 2013, Europ. J.
//! Agronomy 45:1-6; Onofri, Mesgaran & Ritz 2022, Weed Science 70:259-271). Least squares on cumulative
//! counts gives a different curve, with standard errors many times too small.
//!
//! Without the crop's usual figures the fit is by maximum likelihood, with them by maximum posterior density.
//! Standard errors come from the observed information.

use std::f64::consts::LN_2;

mod estimates;
pub(super) mod likelihood;
mod matrix;
mod newton;
mod stand;

use super::EmergenceFigures;
use super::prior::CurvePrior;
use super::record::{self, Count, Inspection};
use crate::error::{AgronomyError, within};
pub use estimates::Estimate;
use likelihood::{Point, Second, Tray};
use matrix::{Matrix, inverse};
use newton::{Maximum, maximise};

/// A final share still rising beyond this logit (1 - 3e-7) is taken as 1.
const LOGIT_MAX: f64 = 15.0;
/// A steepness or half day with a standard error of its log above this (a factor of seven either way) is not
/// identified.
const LOG_ERROR_MAX: f64 = 2.0;

/// A fitted emergence curve, with the last inspection of each tray.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    curve: Option<Curve>,
    lasts: Vec<Last>,
}

/// A curve and the covariance of its parameters.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Curve {
    point: Point,
    covariance: Matrix,
}

/// What the last inspection of a tray found.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Last {
    day: f64,
    up: f64,
    of: f64,
}

/// Fits one curve to the counts of one or more trays of a sowing, each tray's counts in any order. The crop's
/// usual figures, if given, are the prior.
///
/// A count with a lower share than an earlier one is read as the earlier share: seedlings that died did
/// emerge. Of two counts on one day the higher counts. All cells covered that are empty may still come up.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for no tray or a tray without counts (`counts`), more up than covered
/// (`count.up`), nothing covered (`count.of`), a day outside 0 to [`super::DAYS_MAX`] (`count.day`),
/// seedlings on the day of sowing (`count.up`), and usual figures out of order or range.
pub fn fit(trays: &[&[Count]], usual: Option<&EmergenceFigures>) -> Result<Fit, AgronomyError> {
    if let Some(usual) = usual {
        usual.check()?;
    }
    within("counts", trays.len() as f64, 1.0, 1e6)?;
    let mut data = Vec::with_capacity(trays.len());
    let mut lasts = Vec::with_capacity(trays.len());
    for counts in trays {
        within("counts", counts.len() as f64, 1.0, 1e6)?;
        let inspections = record::inspections(counts)?;
        if let Some(first) = inspections
            .first()
            .filter(|inspection| inspection.day <= 0.0)
        {
            within("count.up", first.share, 0.0, 0.0)?;
        }
        data.push(Tray::new(&inspections));
        lasts.extend(inspections.last().map(Last::of));
    }
    let fitted = match usual.map(CurvePrior::of) {
        Some(prior) => Some(maximise(prior.mode(), |point| {
            let mut sum = total(&data, point);
            sum.add(&prior.log_density(point));
            sum
        })),
        None => maximum_likelihood(&data, &lasts),
    };
    let curve = fitted.and_then(|maximum| {
        let covariance = inverse(&maximum.information)?;
        let identified = |place: usize| covariance[place][place].sqrt() < LOG_ERROR_MAX;
        (identified(1) && identified(2)).then_some(Curve {
            point: maximum.point,
            covariance,
        })
    });
    Ok(Fit { curve, lasts })
}

impl Last {
    fn of(inspection: &Inspection) -> Self {
        let of = f64::from(inspection.of);
        Self {
            day: inspection.day,
            up: inspection.share * of,
            of,
        }
    }
}

fn total(trays: &[Tray], point: Point) -> Second {
    let mut sum = Second::ZERO;
    for tray in trays {
        sum.add(&tray.log_likelihood(point));
    }
    sum
}

/// The maximum of the likelihood, if the counts identify a curve: seedlings must have come up in at least two
/// intervals.
fn maximum_likelihood(trays: &[Tray], lasts: &[Last]) -> Option<Maximum> {
    let mut spans: Vec<(f64, f64)> = trays.iter().flat_map(Tray::came_between).collect();
    spans.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    spans.dedup();
    let (first, last) = (*spans.first()?, *spans.last()?);
    if spans.len() < 2 {
        return None;
    }
    let up: f64 = lasts.iter().map(|last| last.up).sum();
    let of: f64 = lasts.iter().map(|last| last.of).sum();
    let share = (up + 0.5) / (of + 1.0);
    let start = [
        (share / (1.0 - share)).ln(),
        5_f64.ln(),
        // The middle of the rush, on the log scale.
        f64::midpoint(
            if first.0.is_finite() {
                first.0
            } else {
                first.1 - LN_2
            },
            last.1,
        ),
    ];
    let at = |point| total(trays, point);
    let maximum = maximise(start, at);
    Some(if maximum.point[0] > LOGIT_MAX {
        maximise([f64::INFINITY, maximum.point[1], maximum.point[2]], at)
    } else {
        maximum
    })
}

#[cfg(test)]
mod tests;
