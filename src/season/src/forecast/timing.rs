//! When plants of an age may go into a space, and when they bloom there.

use agronomy::bloom::{StageKnown, first_bloom, planting_for_bloom};
use agronomy::climate::Cover;
use agronomy::iso_week::IsoWeek;
use agronomy::quantity::{Chance, Spread};
use chrono::{Datelike, NaiveDate};
use culture::{Basis, Crop};

use super::{Window, shifted};
use crate::almanac::Almanac;
use crate::fact::SpaceKind;
use crate::state::Space;
use crate::why::Reason;
use crate::words::{Arg, Say};

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
        Arg::Decimal(typical, 1),
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

/// Days by which transplants bloom sooner than the same crop sown in the bed (common practice: 10 to 14).
pub(super) const TRANSPLANT_GAIN_DAYS: i64 = 12;

/// Days from which a crop's way to bloom is counted to the day on which transplants of it are set.
fn head_start_days(crop: &Crop) -> i64 {
    match crop.basis() {
        Basis::DirectSowing => TRANSPLANT_GAIN_DAYS,
        _ => 0,
    }
}

/// First bloom of transplants of a crop set into a space on a date.
pub fn bloom_if_planted(
    almanac: &Almanac<'_>,
    crop: &Crop,
    group: Option<u8>,
    space: Option<&Space>,
    planted: NaiveDate,
    known: StageKnown,
) -> Option<Spread<NaiveDate>> {
    let start = shifted(planted, -head_start_days(crop));
    bloom_from(almanac, crop, group, space, start, known)
}

/// First bloom of a crop whose way to bloom counts from a date.
pub(super) fn bloom_from(
    almanac: &Almanac<'_>,
    crop: &Crop,
    group: Option<u8>,
    space: Option<&Space>,
    start: NaiveDate,
    known: StageKnown,
) -> Option<Spread<NaiveDate>> {
    let figures = crop.bloom_figures(group)?;
    first_bloom(
        &figures,
        start,
        almanac.climate().ok()?,
        almanac.cover(space),
        known,
    )
    .ok()
}

/// The latest day on which to set transplants of a crop into a space so that they bloom by a date.
pub(crate) fn planting_by(
    almanac: &Almanac<'_>,
    crop: &Crop,
    group: Option<u8>,
    space: &Space,
    bloom_by: NaiveDate,
) -> Option<NaiveDate> {
    let figures = crop.bloom_figures(group)?;
    let climate = almanac.climate().ok()?;
    let start = planting_for_bloom(&figures, bloom_by, climate, almanac.cover(Some(space))).ok()?;
    Some(shifted(start, head_start_days(crop)))
}

/// Days after the average first frost for which a crop that bears light frost is still cut outdoors, and by which a tunnel puts the
/// end off (common practice: lisianthus in a tunnel to about three weeks after the first frost).
const LIGHT_FROST_DAYS: i64 = 14;
const TUNNEL_DAYS: i64 = 19;
/// Days before its first bloom on which a crop that frost ends stands in the year of that bloom at the earliest.
const GROWING_DAYS: i64 = 120;

/// The share of years in which autumn frost has not ended a crop in a space by a week's middle.
///
/// The crop's lowest safe night decides: at 0 C and above the first frost ends it, down to -2 C two weeks of light frost later; what
/// bears more is not ended here. The autumn is the one of the year in which the crop grows towards its first bloom `bloom`.
pub(crate) fn spared_by_frost(
    almanac: &Almanac<'_>,
    crop: &Crop,
    space: Option<&Space>,
    bloom: NaiveDate,
) -> impl Fn(IsoWeek) -> f64 + use<> {
    let growing = shifted(bloom, -GROWING_DAYS);
    let least = crop.typical("min_safe_night_c_hardened_plants");
    let bears_days = match least {
        Some(c) if c >= 0.0 => Some(0),
        Some(c) if c >= -2.0 => Some(LIGHT_FROST_DAYS),
        _ => None,
    };
    let under = match almanac.cover(space) {
        Cover::Tunnel => TUNNEL_DAYS,
        Cover::Open => 0,
    };
    let ends = bears_days.and_then(|days| {
        let climate = almanac.climate().ok()?;
        let even = Chance::new(0.5).ok()?;
        let first = (0..=1)
            .map(|years| climate.first_frost_with_chance(growing.year() + years, even))
            .find(|frost| *frost >= growing)?;
        // The frost's own spread, moved by what the crop and the cover bear.
        let chance = |n: i64| {
            let date = shifted(first, n);
            let ended = climate.frost_chance_before(date).get();
            (shifted(date, days + under), ended)
        };
        Some((-60..=60).map(chance).collect::<Vec<_>>())
    });
    move |week| {
        let Some(chances) = &ends else { return 1.0 };
        let middle = shifted(week.monday(), 3);
        match chances.iter().rev().find(|(date, _)| *date <= middle) {
            Some((_, chance)) => 1.0 - chance,
            None => 1.0,
        }
    }
}

/// Why a line of a crop is earlier or later than others, and what day length has to do with it.
pub fn line_reasons(crop: &Crop, group: Option<u8>) -> Vec<Reason> {
    let mut why = Vec::new();
    if let Some(group) = crop.group_of(group) {
        let mut reason = Reason::assumed(Say::new("why.group").with("n", group));
        if let Some(factor) = crop.figure(&format!("group_{group}_factor")) {
            reason.sources = factor.src.clone();
        }
        why.push(reason);
    }
    if let Some(response) = crop.day_length_response()
        && let Some(hours) = crop.figure("daylength_full_h")
    {
        let key = match (response.is_long_day(), response.is_obligate()) {
            (true, true) => "why.long_day.only",
            (true, false) => "why.long_day",
            (false, true) => "why.short_day.only",
            (false, false) => "why.short_day",
        };
        why.push(Reason::figure(key, hours, Arg::Decimal(hours.typical, 0)));
    }
    why
}
