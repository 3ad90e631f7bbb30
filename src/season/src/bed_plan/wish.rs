//! What is to stand in a bed, from when to when, and in which beds it may.

use std::collections::BTreeMap;

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::{Metres, Spread};
use agronomy::spacing::bed_metres_for;
use chrono::NaiveDate;
use planner::layout::BedOption;

use crate::almanac::Almanac;
use crate::forecast::{Line, Source, Supply, planting_window};
use crate::ids::*;
use crate::space::{planting_metres, spacing_cm};
use crate::state::{Bed, Space};

/// Weeks that a planting is given whose stems can't be forecast.
const UNKNOWN_WEEKS: i32 = 12;

/// What is to stand in a bed.
pub(super) struct Wish<'a> {
    pub what: Source,
    pub variety: VarietyId,
    pub weeks: (IsoWeek, IsoWeek),
    /// The bed it stands in or was given.
    pub bed: Option<&'a Bed>,
    pub space: Option<&'a Space>,
    pub room: Room,
}

/// Room that it takes up.
pub(super) enum Room {
    /// So many metres of its bed.
    Metres(f64),
    /// So many plants at the crop's spacing.
    Plants(u32),
}

/// Length and width of a bed, m, where both are said and make sense.
pub(super) fn size_of(bed: &Bed) -> Option<(f64, f64)> {
    let possible = |metres: &f64| *metres > 0.0 && metres.is_finite();
    Some((
        bed.length_m.filter(possible)?,
        bed.width_m.filter(possible)?,
    ))
}

pub(super) fn wish<'a>(
    almanac: &Almanac<'a>,
    supply: &Supply,
    line: &Line,
    today: NaiveDate,
) -> Option<Wish<'a>> {
    let season = almanac.season();
    let live = |id: &BedId| {
        almanac
            .bed(id)
            .filter(|bed| !bed.retired && size_of(bed).is_some())
    };
    let chosen = |planned: &PlannedId| season.planned.get(planned)?.bed.as_ref().and_then(live);
    let this_week = IsoWeek::of(today);
    let (from, bed, room) = match &line.source {
        Source::Planting(id) => {
            let planting = season.plantings.get(id)?;
            if planting.finished.is_some_and(|end| end <= today) {
                return None;
            }
            let bed = live(&planting.bed)?;
            let metres = planting_metres(almanac, bed, planting);
            (IsoWeek::of(planting.date), Some(bed), Room::Metres(metres))
        }
        Source::Sowing(id) => {
            let tray = supply.trays.get(id)?;
            let planned = season.sowings.get(id)?.planned.as_ref();
            let plant = tray.plant.map_or(today, |window| window.best.max(today));
            let plants = tray.plants.p50.round() as u32;
            (
                IsoWeek::of(plant),
                planned.and_then(chosen),
                Room::Plants(plants),
            )
        }
        Source::Planned(id) => {
            let planned = season.planned.get(id)?;
            let crop = almanac.crop(&line.variety)?;
            let space = line.space.as_ref().and_then(|id| almanac.space(id));
            let (window, _) = planting_window(almanac, crop, space, planned.sow?.max(today), 0)?;
            (
                IsoWeek::of(window.best),
                chosen(id),
                Room::Plants(planned.plants),
            )
        }
    };
    let needs = match room {
        Room::Metres(metres) => metres > 0.0,
        Room::Plants(plants) => plants > 0,
    };
    let last = last_week(&line.weeks).unwrap_or(from.max(this_week).plus(UNKNOWN_WEEKS));
    needs.then(|| Wish {
        what: line.source.clone(),
        variety: line.variety.clone(),
        weeks: (from, last.max(from)),
        bed,
        space: line.space.as_ref().and_then(|id| almanac.space(id)),
        room,
    })
}

/// The last week with a whole stem.
fn last_week(weeks: &[(IsoWeek, Spread<f64>)]) -> Option<IsoWeek> {
    weeks
        .iter()
        .filter(|(_, stems)| stems.p50 >= 1.0)
        .map(|(week, _)| *week)
        .max()
}

/// Beds that would do: the one that is given, else all of the space.
pub(super) fn places(
    almanac: &Almanac<'_>,
    wish: &Wish<'_>,
    beds: &[&Bed],
    number: &BTreeMap<&BedId, usize>,
) -> Vec<BedOption> {
    let would_do = |bed: &&Bed| match (wish.bed, wish.space) {
        (Some(given), _) => bed.id == given.id,
        (None, space) => bed.space.as_ref() == space.map(|space| &space.id),
    };
    beds.iter()
        .filter(|bed| would_do(bed))
        .filter_map(|bed| {
            let metres = match wish.room {
                Room::Metres(metres) => metres,
                Room::Plants(plants) => {
                    let spacing = spacing_cm(almanac, &wish.variety) / 100.0;
                    bed_metres_for(plants, Metres(size_of(bed)?.1), Metres(spacing)).0
                }
            };
            let bed = *number.get(&bed.id)?;
            (metres.is_finite() && metres > 0.0).then_some(BedOption { bed, metres })
        })
        .collect()
}
