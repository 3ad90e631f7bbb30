//! When plants of an age may go into a space, and when they bloom there.

use agronomy::bloom::{StageKnown, first_bloom};
use agronomy::quantity::{Chance, Spread};
use chrono::{Datelike, NaiveDate};
use culture::Crop;

use super::{Window, shifted};
use crate::almanac::Almanac;
use crate::fact::SpaceKind;
use crate::state::Space;
use crate::why::Reason;
use crate::words::Say;

/// Weeks against the average last frost at which a crop goes into an unheated tunnel or outdoors.
fn frost_figure(what: SpaceKind) -> &'static str {
    match what {
        SpaceKind::Tunnel => "unheated_tunnel_planting_weeks_vs_last_frost",
        _ => "outdoor_planting_weeks_vs_last_frost",
    }
}

/// The first date on which a crop may go into a space in the spring around `near`: (earliest, usual), by the crop's weeks against
/// the last frost and the frost risk accepted there. `None` where frost sets no bound: no frost date, a crop without the figure,
/// or a date more than 60 days after the last frost.
pub fn frost_bound(
    almanac: &Almanac<'_>,
    crop: &Crop,
    space: Option<&Space>,
    near: NaiveDate,
) -> Option<(NaiveDate, NaiveDate)> {
    const SPRING_DAYS: i64 = 60;
    const WINTER_DAYS: i64 = 200;
    let last = almanac.last_frost_near(near)?;
    let after = (near - last).num_days();
    if !(-WINTER_DAYS..=SPRING_DAYS).contains(&after) {
        return None;
    }
    let what = space.map_or(SpaceKind::Outdoors, |s| s.what);
    let weeks = crop.figure(frost_figure(what))?;
    // The crop's weeks are told against the even-chance date. A grower who accepts less risk waits as much longer.
    let risk_shift = space
        .and_then(|s| s.frost_risk)
        .and_then(|risk| Chance::new(risk).ok())
        .and_then(|risk| {
            let climate = almanac.climate().ok()?;
            Some((climate.last_frost_with_chance(last.year(), risk) - last).num_days())
        })
        .unwrap_or(0);
    let at = |weeks: f64| shifted(last, (weeks * 7.0).round() as i64 + risk_shift);
    Some((at(weeks.low.unwrap_or(weeks.typical)), at(weeks.typical)))
}

/// When plants sown on a date are to be planted into a space, with the chain that made it. `late_days`: how much later than usual
/// the seedlings came up.
pub fn planting_window(
    almanac: &Almanac<'_>,
    crop: &Crop,
    space: Option<&Space>,
    sown: NaiveDate,
    late_days: i64,
) -> Option<(Window, Vec<Reason>)> {
    let weeks = crop.figure("weeks_sow_to_transplant")?;
    let at = |w: f64| shifted(sown, (w * 7.0).round() as i64 + late_days);
    let (low, typical, high) = weeks.spread();
    let grown = Window {
        earliest: at(low),
        best: at(typical),
        latest: at(high),
    };
    let mut why = vec![Reason::figure(
        "why.tray_weeks",
        weeks,
        crate::words::Arg::Decimal(typical, 1),
    )];
    if late_days != 0 {
        let key = if late_days > 0 {
            "why.came_up_late"
        } else {
            "why.came_up_early"
        };
        why.push(Reason::measured(Say::new(key).with("n", late_days.abs())));
    }
    let mut window = grown;
    if let Some((earliest, usual)) = frost_bound(almanac, crop, space, grown.best) {
        window = Window {
            earliest: grown.earliest.max(earliest),
            best: grown.best.max(usual),
            latest: grown.latest.max(usual),
        };
        if usual > grown.best {
            let mut reason = Reason::assumed(Say::new("why.frost_bound").with("date", usual).with(
                "space",
                space.map_or_else(
                    || crate::words::text("space.outdoors").to_owned(),
                    |s| s.name.clone(),
                ),
            ));
            if let Some(range) =
                crop.figure(frost_figure(space.map_or(SpaceKind::Outdoors, |s| s.what)))
            {
                reason.sources = range.src.clone();
            }
            why.push(reason);
        }
    }
    Some((window, why))
}

/// First bloom of a crop planted on a date into a space.
pub fn bloom_if_planted(
    almanac: &Almanac<'_>,
    crop: &Crop,
    group: Option<u8>,
    space: Option<&Space>,
    planted: NaiveDate,
    known: StageKnown,
) -> Option<Spread<NaiveDate>> {
    let figures = crop.bloom_figures(group)?;
    first_bloom(
        &figures,
        planted,
        almanac.climate().ok()?,
        almanac.cover(space),
        known,
    )
    .ok()
}
