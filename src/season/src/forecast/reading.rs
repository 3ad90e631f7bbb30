//! What a sowing's counts say of how its seed comes up: how soon, how evenly.

use agronomy::emergence::fit::Estimate;
use agronomy::emergence::indices::Record;
use agronomy::quantity::{Chance, Z90};
use chrono::NaiveDate;

use super::statistics::fitted;
use super::tray::{counts_of, usual_for};
use crate::almanac::Almanac;
use crate::state::Sowing;
use crate::why::Reason;
use crate::words::{Arg, Say};

/// How a sowing comes up, by its counts to a day: half day and evenness from the fitted curve, mean time from the counts as they
/// are. Empty until seedlings were counted.
pub fn reading(almanac: &Almanac<'_>, sowing: &Sowing, today: NaiveDate) -> Vec<Reason> {
    let counts = counts_of(sowing, today);
    if counts.iter().all(|count| count.up == 0) {
        return Vec::new();
    }
    let mut said = Vec::new();
    let usual = almanac
        .crop(&sowing.variety)
        .and_then(|crop| usual_for(almanac, crop, sowing))
        .map(|expected| expected.usual);
    if let Some(usual) = usual
        && let Some(fitted) = fitted(almanac, sowing, today)
    {
        let share = fitted.final_share();
        let (low, high) = span(share);
        said.push(Reason::forecast(
            Say::new("reading.share")
                .with("n", Arg::Share(share.value))
                .with("low", Arg::Share(low))
                .with("high", Arg::Share(high.min(1.0)))
                .with("usual", Arg::Share(usual.germination)),
        ));
        if let Some(half) = fitted.half_day() {
            let (low, high) = span(half);
            said.push(Reason::forecast(
                Say::new("reading.half")
                    .with("n", Arg::Decimal(half.value, 1))
                    .with("low", Arg::Decimal(low, 1))
                    .with("high", Arg::Decimal(high, 1))
                    .with("usual", Arg::Decimal(usual.half_day, 0)),
            ));
        }
        let by = |share| fitted.day_of_emerged(share).map(|day| day.value);
        if let (Some(first), Some(last)) = (by(Chance::ONE_IN_TEN), by(Chance::NINE_IN_TEN)) {
            said.push(Reason::forecast(
                Say::new("reading.spread").with("n", Arg::Decimal(last - first, 1)),
            ));
        }
    }
    // Counts of samples of different size have no plain mean.
    if let Ok(record) = Record::new(&counts)
        && let (Some(mean), Some(first), Some(last)) =
            (record.mean_time(), record.first_day(), record.last_day())
        && first < last
    {
        said.push(Reason::measured(
            Say::new("reading.mean")
                .with("n", Arg::Decimal(mean, 1))
                .with("first", Arg::Decimal(first, 0))
                .with("last", Arg::Decimal(last, 0)),
        ));
    }
    said
}

/// Ten to ninety in 100 of a normal about an estimate, never before sowing.
fn span(estimate: Estimate) -> (f64, f64) {
    let reach = estimate.standard_error.unwrap_or(0.0) * Z90;
    ((estimate.value - reach).max(0.0), estimate.value + reach)
}
