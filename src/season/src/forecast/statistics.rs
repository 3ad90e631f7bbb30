//! A sowing's counts as the statistics of germination, for those who want them.

use agronomy::emergence::fit::{Estimate, Fit, fit};
use agronomy::emergence::indices::Record;
use agronomy::proportion::wilson;
use agronomy::quantity::Chance;
use chrono::NaiveDate;

use super::tray::{counts_of, usual_for};
use crate::almanac::Almanac;
use crate::state::Sowing;
use crate::why::Reason;
use crate::words::{Arg, Say};

/// The confidence of intervals.
const CONFIDENCE: f64 = 0.95;

/// The curve through a sowing's counts to a day, with what is usual as the prior. `None` until seedlings were counted, and for crops
/// without figures.
pub fn fitted(almanac: &Almanac<'_>, sowing: &Sowing, today: NaiveDate) -> Option<Fit> {
    let counts = counts_of(sowing, today);
    if counts.iter().all(|count| count.up == 0) {
        return None;
    }
    let usual = usual_for(almanac, almanac.crop(&sowing.variety)?, sowing)?.usual;
    fit(&[&counts], Some(&usual)).ok()
}

/// Final share with its interval, T50, mean time, steepness, speed, synchrony and uncertainty. Empty until seedlings were counted.
pub fn statistics(almanac: &Almanac<'_>, sowing: &Sowing, today: NaiveDate) -> Vec<Reason> {
    let counts = counts_of(sowing, today);
    let mut said = Vec::new();
    let Some(last) = counts.last().filter(|count| count.up > 0) else {
        return said;
    };
    let confidence = Chance::new(CONFIDENCE).ok();
    if let Some(range) = confidence.and_then(|c| wilson(last.up, last.of, c).ok()) {
        said.push(Reason::measured(
            Say::new("stat.share")
                .with("n", Arg::FineShare(f64::from(last.up) / f64::from(last.of)))
                .with("low", Arg::Share(range.low.get()))
                .with("high", Arg::Share(range.high.get()))
                .with("of", last.of),
        ));
    }
    if let Some(fitted) = fitted(almanac, sowing, today) {
        let estimate = |key, found: Estimate, arg: fn(f64) -> Arg| {
            Reason::forecast(
                Say::new(key)
                    .with("n", arg(found.value))
                    .with_some("error", found.standard_error.map(arg)),
            )
        };
        said.push(estimate("stat.final", fitted.final_share(), Arg::FineShare));
        said.extend(
            fitted
                .half_day()
                .map(|found| estimate("stat.t50", found, |x| Arg::Decimal(x, 2))),
        );
        said.extend(
            fitted
                .steepness()
                .map(|found| estimate("stat.steepness", found, |x| Arg::Decimal(x, 1))),
        );
    }
    // Counts of samples of different size have no plain figures.
    if let Ok(record) = Record::new(&counts) {
        let mut plain = |key, value: Option<f64>, decimals| {
            said.extend(value.map(|value| {
                Reason::measured(Say::new(key).with("n", Arg::Decimal(value, decimals)))
            }));
        };
        plain("stat.t50_counted", record.half_day(), 2);
        plain("stat.mean_time", record.mean_time(), 2);
        plain("stat.speed", record.speed(), 2);
        plain("stat.synchrony", record.synchrony(), 2);
        plain("stat.uncertainty", record.uncertainty(), 2);
    }
    said
}
