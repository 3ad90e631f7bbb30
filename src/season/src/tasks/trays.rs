//! Tasks of trays: sow, count, dome, mat, water, sow again, harden, plant.

use agronomy::bloom::StageKnown;
use agronomy::quantity::Chance;
use agronomy::sowing::least_sown;
use chrono::NaiveDate;
use culture::{Crop, MatUse};

use super::{Subject, Task, TaskKind};
use crate::almanac::Almanac;
use crate::fact::{SpaceKind, WaterRegime};
use crate::forecast::{
    Supply, TrayForecast, TrayStage, Window, bloom_if_planted, planting_window, shifted,
};
use crate::state::{PlannedSowing, Sowing};
use crate::why::Reason;
use crate::words::{Arg, Say};

/// Count every so many days while seedlings come up (common practice: daily or every second day).
const COUNT_EVERY_DAYS: i64 = 2;
/// A crop whose last seedlings come this late may have its mat kept on for them. Common practice for slow, dust-like seed.
const SLOW_MOST_DAY: f64 = 12.0;
/// Days after half are up when seedlings are no longer tiny: first true leaves. Common practice.
const TINY_DAYS: i64 = 12;
/// Extra sown for a shortfall, after `culture`'s rule of thumb: 1.12 over the germination seen.
const SHORTFALL_CHANCE: f64 = 0.8;

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
    almanac: &Almanac<'_>,
    sowing: &Sowing,
    forecast: &TrayForecast,
    supply: &Supply,
    today: NaiveDate,
    tasks: &mut Vec<Task>,
) {
    if forecast.stage == TrayStage::Ended || sowing.date > today {
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
    let emerging = emergence_cues(almanac, crop, sowing, forecast, today);
    tasks.extend(
        emerging
            .into_iter()
            .map(|(kind, window, why, caution)| Task {
                caution,
                ..task(kind, window, why)
            }),
    );

    if let Some(half_up) = forecast.half_up.filter(|_| forecast.standing.emerged > 0) {
        let settled = sowing
            .regime
            .is_some_and(|(_, regime)| regime == WaterRegime::DryBetween);
        let best = shifted(half_up, TINY_DAYS).max(forecast.quiet.unwrap_or(half_up));
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
    if let Some(again) = resow(almanac, sowing, forecast, supply, today) {
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

type Cue = (TaskKind, Window, Say, Option<&'static str>);

/// Count, dig, dome, mat: what the bench asks for while seedlings come up.
fn emergence_cues(
    almanac: &Almanac<'_>,
    crop: &Crop,
    sowing: &Sowing,
    forecast: &TrayForecast,
    today: NaiveDate,
) -> Vec<Cue> {
    let mut cues = Vec::new();
    let (Some(outlook), Some(quiet), Some(usual)) =
        (&forecast.outlook, forecast.quiet, crop.emergence_usual())
    else {
        return cues;
    };
    let up = forecast.standing.emerged;
    let cells = sowing.cells;
    let last = sowing.last_count().map(|count| count.date);
    let seen = match last {
        None => Say::new("task.not_counted").with("day", forecast.day),
        Some(date) => Say::new("task.seen")
            .with("day", (date - sowing.date).num_days())
            .with("up", sowing.standing(date).emerged)
            .with("of", cells),
    };
    let open = sowing.mat_off.is_none()
        || sowing.dome && sowing.dome_lifted.is_none()
        || last.is_none_or(|date| date < quiet);
    if open && forecast.stage <= TrayStage::Emerging {
        let first = shifted(sowing.date, usual.first_day.round() as i64);
        let best = last.map_or(first, |date| shifted(date, COUNT_EVERY_DAYS).max(first));
        if last.is_none_or(|date| date < quiet) {
            let why = match last {
                None => Say::new("task.count.why_first")
                    .with("first", first)
                    .with("day", forecast.day),
                Some(_) if forecast.to_come.round() < 1.0 => {
                    Say::new("task.count.why_last").with("seen", seen.clone())
                }
                Some(_) => Say::new("task.count.why_next")
                    .with("seen", seen.clone())
                    .with("n", Arg::Number(forecast.to_come.round() as i64))
                    .with("date", quiet),
            };
            cues.push((
                TaskKind::Count,
                Window {
                    earliest: first.min(best),
                    best,
                    latest: shifted(best, COUNT_EVERY_DAYS),
                },
                why,
                None,
            ));
        }
        // Nothing up at one and a half times the first day: look at the seed itself.
        let dig = shifted(sowing.date, (usual.first_day * 1.5).ceil() as i64);
        if up == 0 && last.is_some_and(|date| date >= dig) {
            cues.push((
                TaskKind::DigSeeds,
                Window {
                    earliest: dig,
                    best: dig,
                    latest: shifted(dig, 3),
                },
                Say::new("task.dig_seeds.why").with("day", forecast.day),
                None,
            ));
        }
    }
    // The first day on which a share of the cells sown is up, as recorded or expected; at the quiet day no more is waited for.
    let reached = |share: f64| -> NaiveDate {
        let wanted = share * f64::from(cells);
        if let Some(count) = sowing
            .counts
            .iter()
            .find(|count| f64::from(sowing.standing(count.date).emerged) >= wanted)
        {
            return count.date;
        }
        let mut date = today;
        while date < quiet {
            let day = (date - sowing.date).num_days() as f64;
            if f64::from(up) + outlook.newly_between(forecast.day as f64, day) >= wanted {
                break;
            }
            date = shifted(date, 1);
        }
        date
    };
    if let Some(share) = crop
        .typical("dome_off_share")
        .filter(|_| sowing.dome && sowing.dome_lifted.is_none())
    {
        let best = reached(share);
        cues.push((
            TaskKind::LiftDome,
            Window {
                earliest: best,
                best,
                latest: shifted(best, 2),
            },
            Say::new("task.lift_dome.why")
                .with("seen", seen.clone())
                .with("n", Arg::Share(share)),
            None,
        ));
    }
    let on_mat = sowing
        .space_on(today)
        .and_then(|id| almanac.space(id))
        .is_some_and(|s| s.what == SpaceKind::Mat);
    if let Some(share) = crop
        .typical("mat_off_share")
        .filter(|_| on_mat && sowing.mat_off.is_none())
    {
        let cue = reached(share);
        let patient = usual.most_day >= SLOW_MOST_DAY && crop.mat_use() == MatUse::Usual;
        let hard_stop = shifted(sowing.date, usual.most_day.ceil() as i64 + 1).max(cue);
        let best = if patient {
            quiet.clamp(cue, hard_stop)
        } else {
            cue
        };
        let straggling = best > today && cue <= today;
        let key = if straggling {
            "task.mat_off.why_stragglers"
        } else if best > today {
            "task.mat_off.why_ahead"
        } else {
            "task.mat_off.why"
        };
        cues.push((
            TaskKind::MatOff,
            Window {
                earliest: cue,
                best,
                latest: shifted(best, 2),
            },
            Say::new(key)
                .with("seen", seen)
                .with(
                    "n",
                    Arg::Number(
                        outlook
                            .newly_between(
                                forecast.day as f64,
                                (best - sowing.date).num_days() as f64,
                            )
                            .round() as i64,
                    ),
                )
                .with("share", Arg::Share(share))
                .with("date", best),
            Some("caution.mat"),
        ));
    }
    cues
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
        Some(half) if forecast.standing.emerged > 0 && today >= shifted(half, TINY_DAYS) => (
            WaterRegime::DryBetween,
            Say::new("water.grown").with("date", half),
        ),
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

/// A shortfall of a planned sowing and what sowing again would take.
#[derive(Debug, Clone, PartialEq)]
pub struct Resow {
    /// Plants short.
    pub short: u32,
    /// Cells to sow again.
    pub cells: u32,
    /// The last day on which it still serves the target.
    pub latest: NaiveDate,
    /// Whether that day has passed.
    pub too_late: bool,
    /// In one sentence.
    pub say: Say,
    /// The chain behind it.
    pub why: Vec<Reason>,
}

/// Whether a sowing that was planned for a number of plants falls short by a tenth or more, and until when sowing again helps.
///
/// Other sowings made for the same planned one count with it. The germination seen is used, not the packet's.
pub fn resow(
    almanac: &Almanac<'_>,
    sowing: &Sowing,
    forecast: &TrayForecast,
    supply: &Supply,
    today: NaiveDate,
) -> Option<Resow> {
    let planned = almanac.season().planned.get(sowing.planned.as_ref()?)?;
    let counted = sowing.last_count().is_some() || !sowing.losses.is_empty();
    // Said once, at the latest of the sowings made for the planned one.
    let newest = almanac
        .season()
        .sowings
        .values()
        .filter(|other| other.planned == sowing.planned)
        .max_by_key(|other| (other.date, other.id.clone()))?;
    if !counted || newest.id != sowing.id || planned.plants == 0 {
        return None;
    }
    let have: f64 = almanac
        .season()
        .sowings
        .values()
        .filter(|other| other.planned == sowing.planned)
        .filter_map(|other| supply.trays.get(&other.id))
        .map(|tray| tray.plants.p50 + f64::from(tray.standing.transplanted))
        .sum();
    let need = f64::from(planned.plants);
    if have >= need * 0.9 {
        return None;
    }
    let short = (need - have).ceil() as u32;
    let crop = almanac.crop(&sowing.variety)?;
    let observed = forecast
        .final_up
        .map_or(0.5, |up| up.p50 / f64::from(sowing.cells.max(1)))
        .clamp(0.05, 0.99);
    let per_cell = Chance::new(observed * crate::forecast::USABLE_SHARE).ok()?;
    let cells = least_sown(short, per_cell, Chance::new(SHORTFALL_CHANCE).ok()?).ok()?;
    let latest = latest_useful(almanac, crop, planned, forecast, today)?;
    let too_late = latest < today;
    let key = if too_late {
        "task.sow_again.too_late"
    } else {
        "task.sow_again.why"
    };
    Some(Resow {
        short,
        cells,
        latest,
        too_late,
        say: Say::new(key)
            .with("short", short)
            .with("need", planned.plants)
            .with("cells", cells)
            .with("date", latest),
        why: vec![
            Reason::measured(
                Say::new("why.have_plants")
                    .with("n", Arg::Number(have.round() as i64))
                    .with("need", planned.plants),
            ),
            Reason::measured(Say::new("why.germination_here").with("n", Arg::Share(observed))),
            Reason::assumed(
                Say::new("why.usable").with("n", Arg::Share(crate::forecast::USABLE_SHARE)),
            ),
        ],
    })
}

/// The last sowing day from which stems still come in the target's last week; without a target, within the crop's usual lateness.
fn latest_useful(
    almanac: &Almanac<'_>,
    crop: &Crop,
    planned: &PlannedSowing,
    forecast: &TrayForecast,
    today: NaiveDate,
) -> Option<NaiveDate> {
    let target = planned
        .target
        .as_ref()
        .and_then(|id| almanac.season().targets.get(id));
    let Some(end) = target.and_then(|t| t.to).map(|week| week.sunday()) else {
        return planned.sow.map(|sow| shifted(sow, 28));
    };
    let space = forecast.space.as_ref().and_then(|id| almanac.space(id));
    let group = planned
        .variety
        .as_ref()
        .and_then(|id| almanac.variety(id))
        .and_then(|v| v.group);
    // A planting is worth while if it can be cut for two weeks of the target.
    let useful = shifted(end, -14);
    let blooms_in_time = |sow: NaiveDate| {
        planting_window(almanac, crop, space, sow, 0)
            .and_then(|(window, _)| {
                bloom_if_planted(almanac, crop, group, space, window.best, StageKnown::Sown)
            })
            .is_some_and(|bloom| bloom.p50 <= useful)
    };
    let mut latest = shifted(today, -1);
    for ahead in 0..400 {
        let date = shifted(today, ahead);
        if !blooms_in_time(date) {
            break;
        }
        latest = date;
    }
    Some(latest)
}
