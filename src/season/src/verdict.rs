//! What to do with a tray now, in one or two sentences with their reasons.

use chrono::NaiveDate;

use crate::forecast::{QUIET_DAYS, QUIET_SHARE, TrayForecast, TrayStage};
use crate::state::{Count, Sowing};
use crate::tasks::{Subject, Task, TaskKind};
use crate::why::Reason;
use crate::words::{Arg, Say};

/// Tasks of a tray that are told with its verdict, the pressing ones first.
const ALSO: [TaskKind; 5] = [
    TaskKind::MindHeat,
    TaskKind::SowAgain,
    TaskKind::CannotWait,
    TaskKind::PotOn,
    TaskKind::PrickOut,
];

/// The verdict on a tray.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// What was seen.
    pub seen: Say,
    /// What to expect, where there is something to expect.
    pub expect: Option<Say>,
    /// What to do or wait for.
    pub advice: Say,
    /// What else matters now: a shortfall, doubles to spare, a temperature, a tray that can't wait.
    pub also: Vec<Say>,
    /// The chain behind it.
    pub why: Vec<Reason>,
}

/// The verdict on a sowing from its forecast and the tasks that were derived for it.
pub fn verdict(
    sowing: &Sowing,
    forecast: &TrayForecast,
    tasks: &[Task],
    today: NaiveDate,
) -> Verdict {
    let own: Vec<&Task> = tasks
        .iter()
        .filter(|task| task.subject == Subject::Sowing(sowing.id.clone()))
        .collect();
    let of_kind = |kind| own.iter().find(|task| task.kind == kind).copied();
    let counted = sowing.last_count();
    let seen = match (counted, forecast.standing.up) {
        (Some(count), Some(up)) => Say::new(seen_key(count, forecast))
            .with("day", forecast.day)
            .with("up", up)
            .with_some("here", count.of.map(|_| count.up))
            .with_some("looked", count.of)
            .with_some("counted", Some(count.date).filter(|date| *date != today))
            .with("of", forecast.standing.cells)
            .with_some(
                "lost",
                Some(forecast.standing.lost).filter(|lost| *lost > 0),
            )
            .with_some(
                "planted",
                Some(forecast.standing.transplanted).filter(|n| *n > 0),
            ),
        _ => Say::new("verdict.not_counted")
            .with("day", forecast.day)
            .with("of", forecast.standing.cells)
            .with_some(
                "lost",
                Some(forecast.standing.lost).filter(|lost| *lost > 0),
            ),
    };
    let waiting = forecast.stage <= TrayStage::Emerging;
    let also = ALSO
        .into_iter()
        .filter_map(of_kind)
        .map(|task| task.why.clone())
        .collect();
    let expect = forecast
        .final_up
        .filter(|_| waiting)
        .map(|up| Say::new("verdict.expect").with_spread(up));
    let mut why = Vec::new();
    if let (Some(half), true) = (forecast.half_up, waiting) {
        why.push(Reason::forecast(
            Say::new("verdict.why_half").with("date", half),
        ));
    }
    let advice = if forecast.stage == TrayStage::Ended {
        Say::new("verdict.ended")
    } else if forecast.spare {
        Say::new("verdict.spare").with("n", forecast.standing.up.unwrap_or(0))
    } else if of_kind(TaskKind::DigSeeds).is_some() {
        Say::new("verdict.dig")
    } else if waiting {
        emerging(
            forecast,
            of_kind(TaskKind::LiftDome),
            of_kind(TaskKind::MatOff),
            today,
        )
    } else if let Some(plant) = forecast.plant {
        why.extend(forecast.why_plant.iter().cloned());
        let key = if today > plant.latest {
            "verdict.plant_late"
        } else if today >= plant.best {
            "verdict.plant_now"
        } else if forecast.stage == TrayStage::Hardening {
            "verdict.hardening"
        } else {
            "verdict.growing"
        };
        Say::new(key)
            .with("n", Arg::Number(forecast.plants.p50.round() as i64))
            .with("date", plant.best)
            .with("until", plant.latest)
            .with_some("harden", forecast.harden.filter(|date| *date > today))
    } else {
        Say::new("verdict.no_figures")
    };
    if let (Some(expected), true) = (&forecast.expected, waiting) {
        why.extend(expected.why.iter().cloned());
    }
    why.extend(forecast.why_plants.iter().cloned());
    Verdict {
        seen,
        expect,
        advice,
        also,
        why,
    }
}

/// A number up that stands for more cells than were looked at says so.
fn seen_key(count: &Count, forecast: &TrayForecast) -> &'static str {
    if !forecast.standing.is_estimate() {
        "verdict.seen"
    } else if count.about || count.of.is_none() {
        "verdict.seen_about"
    } else {
        "verdict.seen_sample"
    }
}

/// Dome and mat each have their own cue; what both wait for is told once.
fn emerging(
    forecast: &TrayForecast,
    dome: Option<&Task>,
    mat: Option<&Task>,
    today: NaiveDate,
) -> Say {
    let due = |task: &&Task| task.window.best <= today;
    let waits = |task: Option<&Task>| task.filter(|task| !due(task)).map(|task| task.window.best);
    let now = |task: Option<&Task>| task.is_some_and(|task| due(&task));
    let (dome_waits, mat_waits) = (waits(dome), waits(mat));
    let until = |key, date: NaiveDate| {
        Say::new(key)
            .with("date", date)
            .with("n", to_come(forecast, today, date))
            .with_some("few", few_after(forecast, date))
    };
    match (now(dome), now(mat)) {
        (true, true) => Say::new("verdict.both_off"),
        (true, false) => match mat_waits {
            Some(date) => until("verdict.dome_off_mat_on", date),
            None => Say::new("verdict.dome_off"),
        },
        (false, true) => match dome_waits {
            Some(date) => until("verdict.mat_off_dome_on", date),
            None => Say::new("verdict.mat_off"),
        },
        (false, false) => match (dome_waits, mat_waits) {
            (Some(dome), Some(mat)) if dome == mat => until("verdict.both_on", mat),
            (Some(dome), Some(mat)) => until("verdict.both_on_apart", dome.max(mat))
                .with("dome", dome)
                .with("mat", mat),
            (None, Some(mat)) => until("verdict.mat_on", mat),
            (Some(dome), None) => until("verdict.dome_on", dome),
            (None, None) => match forecast.quiet.filter(|quiet| *quiet > today) {
                Some(quiet) => until("verdict.wait", quiet),
                None => Say::new("verdict.called")
                    .with_some("date", forecast.plant.map(|plant| plant.best)),
            },
        },
    }
}

/// How many more are expected up by a day.
fn to_come(forecast: &TrayForecast, today: NaiveDate, until: NaiveDate) -> Arg {
    let day = forecast.day.max(0) as f64;
    let days = (until - today).num_days() as f64;
    let n = forecast
        .outlook
        .as_ref()
        .map_or(0.0, |outlook| outlook.newly_between(day, day + days));
    Arg::Number(n.round() as i64)
}

/// From the quiet day on fewer than so many come up in a day.
fn few_after(forecast: &TrayForecast, date: NaiveDate) -> Option<Arg> {
    let cells = f64::from(forecast.standing.cells);
    let few = (QUIET_SHARE * cells / QUIET_DAYS).ceil().max(1.0);
    forecast
        .quiet
        .is_some_and(|quiet| quiet <= date)
        .then_some(Arg::Number(few as i64))
}
