//! What to do with a tray now, in one or two sentences with their reasons.

use chrono::NaiveDate;

use crate::forecast::{TrayForecast, TrayStage};
use crate::state::Sowing;
use crate::tasks::{Subject, Task, TaskKind};
use crate::why::Reason;
use crate::words::{Arg, Say};

/// The verdict on a tray.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// What was seen.
    pub seen: Say,
    /// What to expect, where there is something to expect.
    pub expect: Option<Say>,
    /// What to do or wait for.
    pub advice: Say,
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
    let counted = sowing.last_count().map(|count| count.date);
    let seen = match (counted, forecast.standing.up) {
        (Some(date), Some(up)) => Say::new("verdict.seen")
            .with("day", forecast.day)
            .with("up", up)
            .with_some("counted", Some(date).filter(|date| *date != today))
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
    why.extend(forecast.why_plants.iter().cloned());
    Verdict {
        seen,
        expect,
        advice,
        why,
    }
}

/// Dome and mat each have their own cue; what both wait for is told once.
fn emerging(
    forecast: &TrayForecast,
    dome: Option<&Task>,
    mat: Option<&Task>,
    today: NaiveDate,
) -> Say {
    let due = |task: &Task| task.window.best <= today;
    let to_come = |until: NaiveDate| {
        let days = (until - today).num_days() as f64;
        let day = forecast.day.max(0) as f64;
        let n = forecast
            .outlook
            .as_ref()
            .map_or(0.0, |outlook| outlook.newly_between(day, day + days));
        Arg::Number(n.round() as i64)
    };
    match (dome, mat) {
        (Some(dome), Some(mat)) if due(dome) && due(mat) => Say::new("verdict.both_off"),
        (Some(dome), Some(mat)) if due(dome) => Say::new("verdict.dome_off_mat_on")
            .with("date", mat.window.best)
            .with("n", to_come(mat.window.best)),
        (Some(dome), Some(mat)) if due(mat) => Say::new("verdict.mat_off_dome_on")
            .with("date", dome.window.best)
            .with("n", to_come(dome.window.best)),
        (Some(dome), Some(mat)) => {
            let until = dome.window.best.max(mat.window.best);
            Say::new("verdict.both_on")
                .with("date", dome.window.best.min(mat.window.best))
                .with("until", until)
                .with("n", to_come(until))
        }
        (None, Some(mat)) if due(mat) => Say::new("verdict.mat_off"),
        (None, Some(mat)) => Say::new("verdict.mat_on")
            .with("date", mat.window.best)
            .with("n", to_come(mat.window.best)),
        (Some(dome), None) if due(dome) => Say::new("verdict.dome_off"),
        (Some(dome), None) => Say::new("verdict.dome_on")
            .with("date", dome.window.best)
            .with("n", to_come(dome.window.best)),
        (None, None) => match forecast.quiet.filter(|quiet| *quiet > today) {
            Some(quiet) => Say::new("verdict.wait")
                .with("date", quiet)
                .with("n", Arg::Number(forecast.to_come.round() as i64)),
            None => {
                Say::new("verdict.called").with_some("date", forecast.plant.map(|plant| plant.best))
            }
        },
    }
}
