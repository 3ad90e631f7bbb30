//! A log-logistic emergence curve fitted to counts.
//!
//! F(t) = d / (1 + (t / e)^-b): d the share that comes up in the end, e the day
//! by which half of those are up, b the steepness. Counts are interval-censored
//! times, of which the likelihood is multinomial (Ritz, Pipper & Streibig 2013,
//! Europ. J. Agronomy 45:1-6; Onofri, Mesgaran & Ritz 2022, Weed Science
//! 70:259-271). Least squares on cumulative counts, which looks alike, gives
//! another curve and errors many times too small.
//!
//! Without usual figures of the crop the fit is by maximum likelihood; with
//! them it is the likeliest curve given both. Standard errors come from the
//! observed information.

use std::f64::consts::LN_2;

mod climb;
mod estimates;
pub(super) mod likelihood;
mod matrix;
mod stand;

use super::Usual;
use super::prior::Prior;
use super::record::{self, Count, Looked};
use crate::error::{AgronomyError, within};
use climb::{Top, climb};
pub use estimates::Estimate;
use likelihood::{Point, Second, Tray};
use matrix::{Matrix, inverse};

/// Beyond this logit (1 - 3e-7) a final share still rising is read as 1.
const LOGIT_MAX: f64 = 15.0;
/// A steepness or half day whose log is known no better than this (a factor of
/// seven either way) is not known: the likelihood runs level, or away.
const LOG_ERROR_MAX: f64 = 2.0;

/// A fitted emergence curve, with the counts it was fitted to.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    curve: Option<Curve>,
    trays: Vec<Tray>,
    lasts: Vec<Last>,
    prior: Option<Prior>,
}

/// The curve and the covariance of its parameters.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Curve {
    point: Point,
    covariance: Matrix,
}

/// What the last look at a tray saw.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Last {
    day: f64,
    up: f64,
    of: f64,
}

/// Fits one curve to the counts of one or more trays of one sowing, each tray's
/// counts in any order. With `usual`, the crop's usual figures count as what
/// was believed before.
///
/// A count lower than an earlier one, as share of what it covered, is read as
/// that earlier share: what was up and died has emerged. Of two counts on one
/// day the higher stands. All covered that are not up may still come.
///
/// # Errors
/// [`AgronomyError::OutOfRange`] for no tray or a tray without counts
/// (`counts`), more up than covered (`count.up`), nothing covered (`count.of`),
/// a day that is no number or outside 0 to [`super::DAYS_MAX`] (`count.day`),
/// seedlings on the day of sowing itself (`count.up`), and usual figures out of
/// order or range.
pub fn fit(trays: &[&[Count]], usual: Option<&Usual>) -> Result<Fit, AgronomyError> {
    if let Some(usual) = usual {
        usual.check()?;
    }
    within("counts", trays.len() as f64, 1.0, 1e6)?;
    let mut data = Vec::with_capacity(trays.len());
    let mut lasts = Vec::with_capacity(trays.len());
    for counts in trays {
        within("counts", counts.len() as f64, 1.0, 1e6)?;
        let looks = record::looks(counts)?;
        if let Some(first) = looks.first().filter(|look| look.day <= 0.0) {
            within("count.up", first.share, 0.0, 0.0)?;
        }
        data.push(Tray::new(&looks));
        lasts.extend(looks.last().map(Last::of));
    }
    let prior = usual.map(Prior::of);
    let fitted = match &prior {
        Some(prior) => Some(climb(prior.middle(), |point| {
            let mut sum = total(&data, point);
            sum.add(1.0, &prior.log_density(point));
            sum
        })),
        None => likeliest(&data, &lasts),
    };
    let curve = fitted.and_then(|top| {
        let covariance = inverse(&top.information)?;
        let known = |place: usize| covariance[place][place].sqrt() < LOG_ERROR_MAX;
        (known(1) && known(2)).then_some(Curve {
            point: top.point,
            covariance,
        })
    });
    Ok(Fit {
        curve,
        trays: data,
        lasts,
        prior,
    })
}

impl Last {
    fn of(look: &Looked) -> Self {
        let of = f64::from(look.of);
        Self {
            day: look.day,
            up: look.share * of,
            of,
        }
    }
}

fn total(trays: &[Tray], point: Point) -> Second {
    let mut sum = Second::ZERO;
    for tray in trays {
        sum.add(1.0, &tray.log_likelihood(point));
    }
    sum
}

/// The maximum of the likelihood, where the counts tell a curve at all: not
/// before seedlings were seen to come up in two different spans of time.
fn likeliest(trays: &[Tray], lasts: &[Last]) -> Option<Top> {
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
        // Half the rush was over about midway, on the scale of logs.
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
    let top = climb(start, at);
    Some(if top.point[0] > LOGIT_MAX {
        climb([f64::INFINITY, top.point[1], top.point[2]], at)
    } else {
        top
    })
}

#[cfg(test)]
mod tests;
