//! Doubles into empty cells: plants for nothing.

use chrono::NaiveDate;

use super::TaskKind;
use super::emergence::Cue;
use crate::forecast::{TrayForecast, TrayStage, Window, shifted};
use crate::state::{Sowing, Standing};
use crate::words::Say;

/// Days after half are up when seed leaves are big enough to be held by. Common practice.
const SEED_LEAVES_DAYS: i64 = 6;
/// Days for which it can be put off: until roots of neighbours have grown into each other. Common practice.
const APART_DAYS: i64 = 12;

/// Plants that the cells with two or more can give to empty ones.
pub fn spare_doubles(standing: &Standing) -> u32 {
    standing.doubles.min(standing.empty())
}

/// Prick out doubles into empties, once no more are expected in those.
pub(super) fn cue(sowing: &Sowing, forecast: &TrayForecast, today: NaiveDate) -> Option<Cue> {
    let gain = spare_doubles(&forecast.standing);
    let half = forecast.half_up?;
    let from = shifted(half, SEED_LEAVES_DAYS);
    let latest = shifted(from, APART_DAYS);
    if gain == 0 || forecast.stage >= TrayStage::Hardening || sowing.potted_on.is_some() {
        return None;
    }
    // What was seen late can still be done late; after that the roots are one.
    let best = from.max(forecast.quiet.unwrap_or(from).min(latest));
    (today <= shifted(latest, APART_DAYS)).then(|| {
        (
            TaskKind::PrickOut,
            Window {
                earliest: from,
                best,
                latest: latest.max(best),
            },
            Say::new("task.prick_out.why")
                .with("doubles", forecast.standing.doubles)
                .with("empty", forecast.standing.empty())
                .with("n", gain),
            None,
        )
    })
}
