//! What to look for: the first bud and the first colour, which narrow the forecast more than any weather.

use agronomy::quantity::Spread;
use chrono::NaiveDate;

use super::super::{Task, TaskKind};
use super::Bed;
use crate::forecast::{Window, shifted};
use crate::words::Say;

/// Days before first bloom to look for buds and colour (common practice: three to five weeks, about one).
const BUD_AHEAD_DAYS: i64 = 28;
const COLOUR_AHEAD_DAYS: i64 = 7;
/// Before so many days in the bed there is nothing to see. Common practice.
const SETTLED_DAYS: i64 = 14;

/// The best day so long before the first bloom, with its sentence.
fn ahead(
    bed: &Bed<'_>,
    bloom: Spread<NaiveDate>,
    days: i64,
    key: &'static str,
) -> (NaiveDate, Say) {
    let settled = shifted(bed.planting.date, SETTLED_DAYS);
    let say = Say::new(key).with("from", bloom.p10).with("to", bloom.p90);
    (shifted(bloom.p10, -days).max(settled), say)
}

pub(super) fn bud(bed: &Bed<'_>, bloom: Spread<NaiveDate>) -> Option<Task> {
    let (best, why) = ahead(bed, bloom, BUD_AHEAD_DAYS, "task.look_for_bud.why");
    let window = Window {
        earliest: shifted(best, -7),
        best,
        latest: shifted(bloom.p50, -7).max(shifted(best, 7)),
    };
    (!bed.is_budding()).then(|| bed.task(TaskKind::LookForBud, window, why))
}

pub(super) fn colour(bed: &Bed<'_>, bloom: Spread<NaiveDate>) -> Option<Task> {
    let (best, why) = ahead(bed, bloom, COLOUR_AHEAD_DAYS, "task.look_for_colour.why");
    let window = Window {
        earliest: shifted(best, -7),
        best,
        latest: bloom.p90.max(shifted(best, 7)),
    };
    (!bed.is_colouring()).then(|| bed.task(TaskKind::LookForColour, window, why))
}
