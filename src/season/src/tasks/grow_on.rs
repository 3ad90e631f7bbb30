//! Between the last seedling and hardening off: feed, bigger cells, and what can't wait.

use chrono::NaiveDate;
use culture::Crop;

use super::TaskKind;
use super::emergence::Cue;
use crate::forecast::{TRUE_LEAVES_DAYS, TrayForecast, TrayStage, Window, shifted};
use crate::state::Sowing;
use crate::tray_hold::good_until;
use crate::words::Say;

/// Days from one feed to the next. Common practice: weekly and weak, by the label.
const FEED_EVERY_DAYS: i64 = 7;
/// Days that bigger cells put off the end of the time in the tray. Common practice: 128 to 72 buys two to three weeks.
const BIGGER_CELLS_DAYS: i64 = 17;
/// So long before the plants spoil it is said. From memory of practice: a week to find a bed and a mild day.
const NOTICE_DAYS: i64 = 7;

/// Feed every week from the first true leaves on, until hardening off.
pub(super) fn feed(sowing: &Sowing, forecast: &TrayForecast) -> Option<Cue> {
    let leaves = shifted(forecast.half_up?, TRUE_LEAVES_DAYS);
    if forecast.stage != TrayStage::Growing || forecast.standing.emerged == 0 {
        return None;
    }
    let best = sowing
        .fed
        .map_or(leaves, |fed| shifted(fed, FEED_EVERY_DAYS).max(leaves));
    Some((
        TaskKind::Feed,
        Window {
            earliest: shifted(best, -2),
            best,
            latest: shifted(best, 5),
        },
        Say::new("task.feed.why")
            .with("date", leaves)
            .with_some("fed", sowing.fed),
        Some("caution.feed"),
    ))
}

/// The last day on which plants are good in the cells that they stand in, and whether they spoil after it.
pub fn good_in_cells_until(crop: &Crop, sowing: &Sowing) -> Option<(NaiveDate, bool)> {
    let (until, spoils) = good_until(crop, sowing.date)?;
    let more = if sowing.potted_on.is_some() && !spoils {
        BIGGER_CELLS_DAYS
    } else {
        0
    };
    Some((shifted(until, more), spoils))
}

/// Bigger cells, or out: where planting comes after the plants' longest time in their cells.
pub(super) fn hold(
    crop: &Crop,
    sowing: &Sowing,
    forecast: &TrayForecast,
    today: NaiveDate,
) -> Option<Cue> {
    let (until, spoils) = good_in_cells_until(crop, sowing)?;
    let plant = forecast.plant?.best.max(today);
    if plant <= until || forecast.stage < TrayStage::Growing {
        return None;
    }
    let (kind, key) = if spoils {
        (TaskKind::CannotWait, "task.cannot_wait.why")
    } else if sowing.potted_on.is_none() && forecast.stage == TrayStage::Growing {
        (TaskKind::PotOn, "task.pot_on.why")
    } else {
        return None;
    };
    let best = shifted(until, -NOTICE_DAYS);
    Some((
        kind,
        Window {
            earliest: shifted(best, -NOTICE_DAYS),
            best,
            latest: until,
        },
        Say::new(key)
            .with("until", until)
            .with("plant", plant)
            .with("n", (plant - until).num_days()),
        None,
    ))
}
