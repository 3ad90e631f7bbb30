//! The chains behind a proposal's plants and dates.

use chrono::NaiveDate;
use planner::problem::Choice;

use super::brief::Brief;
use super::told::{Chosen, stems_in};
use crate::almanac::Almanac;
use crate::forecast::{PLANTED_SURVIVAL, frost_bound, line_reasons, shifted, stem_figures};
use crate::why::Reason;
use crate::words::{Arg, Say};

/// Why so many plants, and why then. `others`: stems that the plan's other sowings give the same wish in a week.
pub(super) fn of(
    almanac: &Almanac<'_>,
    brief: &Brief,
    one: &Chosen<'_>,
    wish: usize,
    others: &dyn Fn(usize) -> f64,
) -> Option<(Vec<Reason>, Vec<Reason>)> {
    let choice = brief.problem.choices.get(one.choice)?;
    Some((
        why_plants(almanac, brief, one, choice, wish, others)?,
        why_dates(almanac, one)?,
    ))
}

fn why_plants(
    almanac: &Almanac<'_>,
    brief: &Brief,
    one: &Chosen<'_>,
    choice: &Choice,
    wish: usize,
    others: &dyn Fn(usize) -> f64,
) -> Option<Vec<Reason>> {
    let asked = brief.wishes.get(wish)?;
    let demand = brief.problem.demands.get(wish)?;
    let plants = f64::from(one.plants);
    // The wanted week in which least is to spare decides how many it takes.
    let spare = |week: usize, wanted: f64| stems_in(choice, week) * plants + others(week) - wanted;
    let decides = demand
        .wanted
        .iter()
        .filter(|(week, _)| stems_in(choice, *week) > 0.0)
        .min_by(|a, b| spare(a.0, a.1).total_cmp(&spare(b.0, b.1)));
    let mut why = Vec::new();
    if let Some((week, needed)) = decides {
        why.push(Reason::measured(
            Say::new("why.stems_asked")
                .with("n", asked.stems)
                .with("week", brief.week(*week)),
        ));
        why.push(Reason::forecast(
            Say::new("why.stems_safe")
                .with("n", Arg::Number(needed.ceil() as i64))
                .with("chance", Arg::Share(asked.chance))
                .with("share", Arg::Share(asked.dependable())),
        ));
        let elsewhere = others(*week);
        if elsewhere >= 1.0 {
            why.push(Reason::forecast(
                Say::new("why.stems_others").with("n", Arg::Number(elsewhere.round() as i64)),
            ));
        }
        let stems = stems_in(choice, *week) * plants;
        why.push(Reason::forecast(
            Say::new("why.stems_from_this")
                .with("n", Arg::Number(stems.round() as i64))
                .with("plants", one.plants),
        ));
        let total: f64 = choice.gives.iter().sum();
        why.push(Reason::assumed(Say::new("why.week_share").with(
            "n",
            Arg::Share(stems_in(choice, *week) / total.max(1e-9)),
        )));
    }
    let space = almanac.space(&one.sowing.space);
    let crop = almanac.crop(&one.sowing.variety)?;
    why.extend(stem_figures(crop, almanac.cover(space))?.why);
    why.push(Reason::assumed(
        Say::new("why.survival").with("n", Arg::Share(PLANTED_SURVIVAL)),
    ));
    Some(why)
}

fn why_dates(almanac: &Almanac<'_>, one: &Chosen<'_>) -> Option<Vec<Reason>> {
    let sowing = one.sowing;
    let crop = almanac.crop(&sowing.variety)?;
    let space = almanac.space(&sowing.space);
    let group = almanac.variety(&sowing.variety).and_then(|v| v.group);
    let weeks = crop.figure("weeks_sow_to_transplant")?;
    let usual: NaiveDate = shifted(sowing.sow, (weeks.typical * 7.0).round() as i64);
    let mut why = vec![Reason::figure(
        "why.tray_weeks",
        weeks,
        Arg::Decimal(weeks.typical, 1),
    )];
    let name = space.map_or_else(String::new, |space| space.name.clone());
    if let Some((_, safe)) = frost_bound(almanac, crop, space, usual)
        && usual < safe
    {
        why.push(Reason::assumed(
            Say::new("why.frost_bound")
                .with("date", safe)
                .with("space", name.clone()),
        ));
    }
    why.push(Reason::forecast(
        Say::new("why.days_to_bloom")
            .with("n", (sowing.bloom.p50 - sowing.plant).num_days())
            .with("date", sowing.plant)
            .with("space", name),
    ));
    why.extend(line_reasons(crop, group));
    if almanac.normals_assumed() {
        why.push(Reason::assumed(Say::new("why.example_climate")));
    }
    Some(why)
}
