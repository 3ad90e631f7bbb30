//! Enough plants, or sow again, and by when.

use agronomy::bloom::StageKnown;
use agronomy::quantity::Chance;
use agronomy::sowing::least_sown;
use chrono::NaiveDate;
use culture::Crop;

use crate::almanac::Almanac;
use crate::forecast::{Supply, TrayForecast, bloom_if_planted, planting_window, shifted};
use crate::state::{PlannedSowing, Sowing};
use crate::why::Reason;
use crate::words::{Arg, Say};

/// Extra sown for a shortfall, after `culture`'s rule of thumb: 1.12 over the germination seen.
const SHORTFALL_CHANCE: f64 = 0.8;

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
