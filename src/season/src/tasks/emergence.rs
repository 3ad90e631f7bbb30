//! What the bench asks for while seedlings come up: count, look at the seed, dome off, mat off.

use chrono::NaiveDate;
use culture::{Crop, MatUse};

use super::TaskKind;
use crate::almanac::Almanac;
use crate::fact::SpaceKind;
use crate::forecast::{TrayForecast, TrayStage, Window, shifted};
use crate::state::Sowing;
use crate::words::{Arg, Say};

/// Count every so many days while seedlings come up (common practice: daily or every second day).
const COUNT_EVERY_DAYS: i64 = 2;
/// Slow, dust-like seed may have its mat kept on for the last seedlings (common practice): where they come this late ...
const SLOW_MOST_DAY: f64 = 12.0;
/// ... from seed as fine as this, to the gram. Larger seed comes up in a mix that cools down; of fine seed what is late is lost.
const DUST_PER_GRAM: f64 = 2000.0;

/// The share of what is still to be had that stands for all of it. Handbooks tell their cues as shares of what was sown, of seed that
/// comes up to 85 or 90 in 100: three quarters of the cells are so much of it. A poorer lot never has three quarters up, and would keep
/// mat and dome for seed that is not there.
const NEARLY_ALL: f64 = 0.85;

/// What, when, why, and a caution.
pub(super) type Cue = (TaskKind, Window, Say, Option<&'static str>);

/// Count, dig, dome, mat: what the bench asks for while seedlings come up.
pub(super) fn cues(
    almanac: &Almanac<'_>,
    crop: &Crop,
    sowing: &Sowing,
    forecast: &TrayForecast,
    today: NaiveDate,
) -> Vec<Cue> {
    let mut cues = Vec::new();
    let usual = forecast.expected.as_ref().map(|expected| expected.usual);
    let (Some(outlook), Some(quiet), Some(usual)) = (&forecast.outlook, forecast.quiet, usual)
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
    let first = shifted(sowing.date, usual.first_day.round() as i64);
    let next_look = last.map_or(first, |date| shifted(date, COUNT_EVERY_DAYS).max(first));
    if open && forecast.stage <= TrayStage::Emerging {
        let best = next_look;
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
    // The first day on which a share of the cells sown is up, or nearly all that are expected of a poorer lot: as recorded, or as
    // expected from the last count on, never before the first look; at the quiet day no more is waited for.
    let last_day = last.map_or(0, |date| (date - sowing.date).num_days()) as f64;
    let reached = |share: f64| -> NaiveDate {
        let wanted = (share * f64::from(cells)).min(NEARLY_ALL * outlook.final_up.p50);
        if let Some(count) = sowing
            .counts
            .iter()
            .find(|count| f64::from(sowing.standing(count.date).emerged) >= wanted)
        {
            return count.date;
        }
        let mut date = if last.is_none() {
            today.max(first)
        } else {
            today
        };
        while date < quiet {
            let day = (date - sowing.date).num_days() as f64;
            if f64::from(up) + outlook.newly_between(last_day, day) >= wanted {
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
        let patient = usual.most_day >= SLOW_MOST_DAY
            && crop.mat_use() == MatUse::Usual
            && crop
                .typical("seeds_per_gram")
                .is_some_and(|n| n >= DUST_PER_GRAM);
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
