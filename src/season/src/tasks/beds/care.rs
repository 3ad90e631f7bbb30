//! What plants in a bed are given: pinch, net, disbud, feed.

use super::super::{Task, TaskKind};
use super::Bed;
use crate::forecast::{Window, shifted};
use crate::words::{Arg, Say};

/// Pinched once rooted in, 7 to 14 days after planting. Common practice.
const PINCH_DAYS: (i64, i64, i64) = (7, 12, 28);
/// Net before plants reach 20 cm. Common practice.
const NET_DAYS: (i64, i64) = (14, 28);
/// Side buds are rubbed out while small as peas: about a week after the first is seen, and of little use three weeks on. Common
/// practice.
const DISBUD_DAYS: (i64, i64) = (7, 21);
/// Crops that are cut over and over are fed two to three weeks after planting and then every three weeks, until the first colour.
/// Common practice.
const FEED_FIRST_DAYS: i64 = 17;
const FEED_EVERY_DAYS: i64 = 21;
/// Days after which a feed that was due is left out.
const FEED_LATE_DAYS: i64 = 7;
/// Cut over and over: more than one flush, or cut for five weeks and longer. From memory of practice.
const LONG_CUT_DAYS: f64 = 35.0;
/// With less light in a day than this, hours with twilight, plants hardly grow and are not fed. From memory of practice.
const GROWING_HOURS: f64 = 11.0;

pub(super) fn pinch(bed: &Bed<'_>) -> Option<Task> {
    let note = bed.text("pinch").filter(|note| note.starts_with("yes"))?;
    if bed.planting.pinched.is_some() || bed.is_budding() {
        return None;
    }
    let set = bed.set_on();
    let window = Window {
        earliest: shifted(set, PINCH_DAYS.0),
        best: shifted(set, PINCH_DAYS.1),
        latest: shifted(set, PINCH_DAYS.2),
    };
    let why = Say::new("task.pinch.why").with("note", Arg::Note(note.to_owned()));
    Some(Task {
        number: Some(bed.planting.standing()),
        ..bed.task(TaskKind::Pinch, window, why)
    })
}

pub(super) fn net(bed: &Bed<'_>) -> Option<Task> {
    let note = bed
        .text("support")
        .filter(|note| !note.starts_with("none"))?;
    if bed.planting.netted.is_some() {
        return None;
    }
    let set = bed.set_on();
    let window = Window {
        earliest: bed.planting.date,
        best: shifted(set, NET_DAYS.0),
        latest: shifted(set, NET_DAYS.1),
    };
    Some(bed.task(
        TaskKind::Net,
        window,
        Say::new("task.net.why").with("note", Arg::Note(note.to_owned())),
    ))
}

/// From the first bud on, once.
pub(super) fn disbud(bed: &Bed<'_>) -> Option<Task> {
    let note = bed.text("disbud")?;
    let seen = bed.planting.visible_bud?;
    if bed.planting.disbudded.is_some() || bed.forecast.cutting {
        return None;
    }
    let window = Window {
        earliest: seen,
        best: shifted(seen, DISBUD_DAYS.0),
        latest: shifted(seen, DISBUD_DAYS.1),
    };
    Some(bed.task(
        TaskKind::Disbud,
        window,
        Say::new("task.disbud.why").with("note", Arg::Note(note.to_owned())),
    ))
}

pub(super) fn feed(bed: &Bed<'_>) -> Option<Task> {
    let flushes = bed
        .crop
        .figure("flushes")
        .map_or(1.0, |range| range.spread().2);
    let cut_for = bed.crop.typical("harvest_window_days").unwrap_or(0.0);
    if flushes <= 1.0 && cut_for < LONG_CUT_DAYS || bed.is_colouring() {
        return None;
    }
    let first = shifted(bed.set_on(), FEED_FIRST_DAYS);
    let fed = bed.planting.fed;
    let best = fed.map_or(first, |fed| shifted(fed, FEED_EVERY_DAYS).max(first));
    // A feed that was left out, or not noted, is not made up for: the next one comes in its turn.
    let missed = (bed.today - best).num_days() - FEED_LATE_DAYS;
    let turns = (missed.max(0) + FEED_EVERY_DAYS - 1) / FEED_EVERY_DAYS;
    let best = shifted(best, turns * FEED_EVERY_DAYS);
    let growing = bed.almanac.climate().map_or(true, |climate| {
        climate.photoperiod(best.max(bed.today)).0 >= GROWING_HOURS
    });
    let window = Window {
        earliest: shifted(best, -3),
        best,
        latest: shifted(best, FEED_LATE_DAYS),
    };
    let why = Say::new("task.feed_bed.why").with_some("fed", fed);
    growing.then(|| Task {
        caution: Some("caution.feed"),
        ..bed.task(TaskKind::FeedBed, window, why)
    })
}
