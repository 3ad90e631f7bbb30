//! Tasks of beds: pinch, net, look, cut, clear.

use agronomy::iso_week::IsoWeek;
use chrono::NaiveDate;
use culture::Crop;

use super::{Subject, Task, TaskKind};
use crate::almanac::Almanac;
use crate::forecast::{BedForecast, Window, shifted};
use crate::state::Planting;
use crate::words::{Arg, Say};

/// Cut every so many days where the crop says nothing: three times a week, common practice.
const CUT_EVERY_DAYS: i64 = 2;
/// Days before first bloom to look for buds and colour (common practice: three to five weeks, about one).
const BUD_AHEAD_DAYS: i64 = 28;
const COLOUR_AHEAD_DAYS: i64 = 7;

fn text<'a>(crop: &'a Crop, name: &str) -> Option<&'a str> {
    crop.text(name).map(|t| t.text.as_str())
}

/// Tasks of one planting.
pub(super) fn of_planting(
    almanac: &Almanac<'_>,
    planting: &Planting,
    forecast: &BedForecast,
    today: NaiveDate,
    tasks: &mut Vec<Task>,
) {
    let ended = planting.finished.is_some() || planting.standing() == 0 || planting.date > today;
    let Some(crop) = almanac.crop(&planting.variety).filter(|_| !ended) else {
        return;
    };
    let task = |kind, window, why| Task {
        kind,
        subject: Subject::Planting(planting.id.clone()),
        variety: Some(planting.variety.clone()),
        space: almanac.bed(&planting.bed).and_then(|bed| bed.space.clone()),
        bed: Some(planting.bed.clone()),
        window,
        why,
        reasons: forecast.why.clone(),
        number: None,
        caution: None,
    };
    let budding =
        planting.visible_bud.is_some() || planting.first_colour.is_some() || forecast.cutting;
    if let Some(note) = text(crop, "pinch")
        .filter(|note| note.starts_with("yes") && planting.pinched.is_none() && !budding)
    {
        tasks.push(Task {
            number: Some(planting.standing()),
            ..task(
                TaskKind::Pinch,
                Window {
                    earliest: shifted(planting.date, 7),
                    best: shifted(planting.date, 12),
                    latest: shifted(planting.date, 28),
                },
                Say::new("task.pinch.why").with("note", note),
            )
        });
    }
    if let Some(note) =
        text(crop, "support").filter(|note| !note.starts_with("none") && planting.netted.is_none())
    {
        tasks.push(task(
            TaskKind::Net,
            Window {
                earliest: planting.date,
                best: shifted(planting.date, 14),
                latest: shifted(planting.date, 28),
            },
            Say::new("task.net.why").with("note", note),
        ));
    }
    let Some(bloom) = forecast.bloom else { return };
    let band = |say: Say| say.with("from", bloom.p10).with("to", bloom.p90);
    if !budding {
        let best = shifted(bloom.p10, -BUD_AHEAD_DAYS).max(shifted(planting.date, 14));
        tasks.push(task(
            TaskKind::LookForBud,
            Window {
                earliest: shifted(best, -7),
                best,
                latest: shifted(bloom.p50, -7).max(shifted(best, 7)),
            },
            band(Say::new("task.look_for_bud.why")),
        ));
    }
    if planting.first_colour.is_none() && !forecast.cutting {
        let best = shifted(bloom.p10, -COLOUR_AHEAD_DAYS).max(shifted(planting.date, 14));
        tasks.push(task(
            TaskKind::LookForColour,
            Window {
                earliest: shifted(best, -7),
                best,
                latest: bloom.p90.max(shifted(best, 7)),
            },
            band(Say::new("task.look_for_colour.why")),
        ));
    }
    let this_week = IsoWeek::of(today);
    let over = forecast.cutting && forecast.last_week.is_none_or(|last| last < this_week);
    if over {
        let last = planting.cuts.last().map_or(today, |cut| cut.date);
        tasks.push(task(
            TaskKind::Clear,
            Window {
                earliest: last,
                best: shifted(last, 7),
                latest: shifted(last, 21),
            },
            Say::new("task.clear.why")
                .with("date", last)
                .with("n", forecast.cut),
        ));
        return;
    }
    let expected = forecast
        .weeks
        .iter()
        .find(|(week, _)| *week == this_week)
        .map(|(_, stems)| stems.p50.round() as i64);
    let stage = text(crop, "harvest_stage").map(str::to_owned);
    if forecast.cutting {
        let last = planting.cuts.last().map_or(today, |cut| cut.date);
        let best = shifted(last, CUT_EVERY_DAYS);
        tasks.push(Task {
            caution: caution_of(crop),
            ..task(
                TaskKind::Cut,
                Window {
                    earliest: shifted(last, 1),
                    best,
                    latest: shifted(last, 2 * CUT_EVERY_DAYS),
                },
                Say::new("task.cut.why_next")
                    .with("date", last)
                    .with_some("n", expected.map(Arg::Number))
                    .with_some("stage", stage),
            )
        });
    } else if planting.first_colour.is_some() {
        tasks.push(Task {
            caution: caution_of(crop),
            ..task(
                TaskKind::Cut,
                Window {
                    earliest: bloom.p10,
                    best: bloom.p50,
                    latest: bloom.p90,
                },
                band(Say::new("task.cut.why_first")).with_some("stage", stage),
            )
        });
    }
}

/// The usual caution for handling a crop's cut stems: the reference notes a hazard.
fn caution_of(crop: &Crop) -> Option<&'static str> {
    let note = text(crop, "hazards")?;
    (!note.starts_with("none")).then_some("caution.handling")
}
