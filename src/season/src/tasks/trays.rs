//! Tasks of trays: sow, count, dome, mat, water, sow again, harden, plant.

use chrono::NaiveDate;
use culture::MatUse;

use super::{Subject, Task, TaskKind, emergence, grow_on, harden, heat, prick_out, resow::resow};
use crate::almanac::Almanac;
use crate::fact::{SpaceKind, WaterRegime};
use crate::forecast::{Outlook, TRUE_LEAVES_DAYS, TrayForecast, TrayStage, Window, shifted};
use crate::state::{PlannedSowing, Sowing};
use crate::why::Reason;
use crate::words::{Arg, Say};

/// A planned sowing whose day comes.
pub(super) fn sow(
    almanac: &Almanac<'_>,
    planned: &PlannedSowing,
    today: NaiveDate,
) -> Option<Task> {
    if planned.retired || planned.sown_as.is_some() {
        return None;
    }
    let sow = planned.sow?;
    let variety = planned.variety.clone()?;
    let crop = almanac.crop(&variety)?;
    let target = planned
        .target
        .as_ref()
        .and_then(|id| almanac.season().targets.get(id));
    let what = match crop.mat_use() {
        MatUse::Usual => SpaceKind::Mat,
        MatUse::OnlyIfCold | MatUse::Never => SpaceKind::Shelf,
    };
    let space = crate::space::space_with_room(almanac.season(), what, 1, today)
        .or_else(|| crate::space::space_with_room(almanac.season(), SpaceKind::Shelf, 1, today));
    Some(Task {
        kind: TaskKind::Sow,
        subject: Subject::Planned(planned.id.clone()),
        space: space.map(|s| s.id.clone()),
        bed: None,
        window: Window {
            earliest: shifted(sow, -3),
            best: sow,
            latest: shifted(sow, 7),
        },
        why: Say::new("task.sow.why")
            .with("n", planned.cells)
            .with_some("week", target.and_then(|t| t.from)),
        reasons: crop
            .figure("germination_soil_temp_c")
            .map(|range| {
                Reason::figure(
                    "why.seed_temperature",
                    range,
                    Arg::Temperature(range.typical),
                )
            })
            .into_iter()
            .collect(),
        number: Some(planned.cells),
        caution: (what == SpaceKind::Mat).then_some("caution.mat"),
        variety: Some(variety),
    })
}

/// Tasks of one sowing.
pub(super) fn of_sowing(
    outlook: &Outlook<'_>,
    sowing: &Sowing,
    forecast: &TrayForecast,
    tasks: &mut Vec<Task>,
) {
    let (almanac, today) = (outlook.almanac(), outlook.today());
    if sowing.date > today {
        return;
    }
    let Some(crop) = almanac.crop(&sowing.variety) else {
        return;
    };
    let task = |kind, window, why| Task {
        kind,
        subject: Subject::Sowing(sowing.id.clone()),
        variety: Some(sowing.variety.clone()),
        space: sowing.space_on(today).cloned(),
        bed: None,
        window,
        why,
        reasons: Vec::new(),
        number: None,
        caution: None,
    };
    if let Some(again) = resow(outlook, sowing) {
        tasks.push(Task {
            reasons: again.why,
            number: Some(again.cells),
            ..task(
                TaskKind::SowAgain,
                Window {
                    earliest: today,
                    best: today,
                    latest: again.latest.max(today),
                },
                again.say,
            )
        });
    }
    // A tray that was lost whole asks for nothing else.
    if forecast.stage == TrayStage::Ended {
        return;
    }
    let mut cues = emergence::cues(almanac, crop, sowing, forecast, today);
    cues.extend(prick_out::cue(sowing, forecast, today));
    cues.extend(grow_on::feed(sowing, forecast));
    cues.extend(grow_on::hold(crop, sowing, forecast, today));
    cues.extend(harden::cue(crop, sowing, forecast, today));
    let heat = heat::cue(almanac, crop, sowing, forecast, today);
    let (warm, limit) = heat.unzip();
    cues.extend(warm);
    tasks.extend(cues.into_iter().map(|(kind, window, why, caution)| {
        Task {
            caution,
            number: (kind == TaskKind::PrickOut)
                .then(|| prick_out::spare_doubles(&forecast.standing)),
            reasons: limit
                .iter()
                .filter(|_| kind == TaskKind::MindHeat)
                .cloned()
                .collect(),
            ..task(kind, window, why)
        }
    }));

    if let Some(half_up) = forecast.half_up.filter(|_| forecast.standing.emerged > 0) {
        let settled = sowing
            .regime
            .is_some_and(|(_, regime)| regime == WaterRegime::DryBetween);
        let best = shifted(half_up, TRUE_LEAVES_DAYS).max(forecast.quiet.unwrap_or(half_up));
        if !settled && sowing.hardening.is_none() {
            tasks.push(task(
                TaskKind::LetDry,
                Window {
                    earliest: shifted(best, -3),
                    best,
                    latest: shifted(best, 10),
                },
                Say::new("task.let_dry.why").with("date", half_up),
            ));
        }
    }
    let plants = forecast.plants.p50.round() as u32;
    if forecast.standing.emerged == 0 || forecast.spare {
        return;
    }
    let Some(plant) = forecast.plant else { return };
    let space = forecast
        .space
        .as_ref()
        .and_then(|id| almanac.space(id))
        .map(|s| s.name.clone());
    if let (Some(harden), None) = (forecast.harden, sowing.hardening) {
        let days = crop.typical("hardening_off_days").unwrap_or(7.0).round() as i64;
        let fewest = crop
            .figure("hardening_off_days")
            .map_or(7.0, |r| r.spread().0)
            .round() as i64;
        tasks.push(Task {
            number: Some(plants),
            reasons: forecast.why_plant.clone(),
            ..task(
                TaskKind::Harden,
                Window {
                    earliest: shifted(plant.earliest, -days),
                    best: harden,
                    latest: shifted(plant.latest, -fewest).max(harden),
                },
                Say::new("task.harden.why")
                    .with("n", days)
                    .with("date", plant.best),
            )
        });
    }
    let mut why = forecast.why_plant.clone();
    why.extend(forecast.why_plants.iter().cloned());
    let key = if sowing.hardening.is_some() {
        "task.transplant.why"
    } else {
        "task.transplant.why_not_hardened"
    };
    tasks.push(Task {
        number: Some(plants),
        reasons: why,
        ..task(
            TaskKind::Transplant,
            plant,
            Say::new(key)
                .with("n", plants)
                .with_some("space", space)
                .with("date", plant.best)
                .with("until", plant.latest),
        )
    });
}

/// How wet a tray is to be kept now, and why: never dry while tiny, drying between later. Common practice.
pub fn water_regime(
    sowing: &Sowing,
    forecast: &TrayForecast,
    today: NaiveDate,
) -> (WaterRegime, Say) {
    if let Some((since, regime)) = sowing.regime {
        return (regime, Say::new("water.since").with("date", since));
    }
    match forecast.half_up {
        Some(half) if forecast.standing.emerged > 0 && today >= shifted(half, TRUE_LEAVES_DAYS) => {
            (
                WaterRegime::DryBetween,
                Say::new("water.grown").with("date", half),
            )
        }
        Some(half)
            if forecast.standing.emerged > 0
                && today > half
                && forecast.stage >= TrayStage::Growing =>
        {
            (WaterRegime::MattBetween, Say::new("water.cotyledon"))
        }
        _ => (WaterRegime::NeverDry, Say::new("water.tiny")),
    }
}
