//! Who needs room, of what kind, from when to when.

use std::collections::BTreeMap;

use agronomy::quantity::Metres;
use agronomy::spacing::rows_across;
use chrono::NaiveDate;
use culture::Crop;

use super::Intended;
use crate::almanac::Almanac;
use crate::fact::{SpaceKind, Tray};
use crate::forecast::{
    Line, Source, Supply, TrayForecast, TrayStage, cut_days, hardening_days, mat_days,
    planting_window, shifted,
};
use crate::ids::*;
use crate::space::{planting_metres, spacing_cm, trays_on};
use crate::state::{PlannedSowing, Planting, Sowing};

/// Cells of a tray where nothing of the crop was sown yet: the 60 soil blocks that fill a standard tray.
const CELLS_PER_TRAY: u32 = 60;
/// Width of a bed where none is said, m: common practice.
const BED_WIDTH_M: f64 = 1.2;

/// Where a stay needs its room.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Where {
    /// In this space.
    In(SpaceId),
    /// In any space of a kind.
    Any(SpaceKind),
}

/// Room that is needed from one day on and before another.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Stay {
    pub(super) at: Where,
    pub(super) from: NaiveDate,
    pub(super) to: NaiveDate,
    /// Trays, or metres of bed.
    pub(super) needs: f64,
    /// Whether it stands or is sown already.
    pub(super) firm: bool,
}

/// What stands in beds and in trays.
pub(super) fn standing(almanac: &Almanac<'_>, supply: &Supply, today: NaiveDate) -> Vec<Stay> {
    let season = almanac.season();
    let mut stays: Vec<Stay> = season
        .plantings
        .values()
        .filter_map(|planting| in_bed(almanac, supply, planting))
        .collect();
    for (space, room) in trays_on(season, today) {
        for (id, trays) in room.sowings {
            let found = season.sowings.get(&id).zip(supply.trays.get(&id));
            if let Some((sowing, forecast)) = found {
                stays.extend(in_trays(almanac, sowing, forecast, &space, trays, today));
            }
        }
    }
    stays
}

/// Plants in a bed until they are cleared, or most likely will be.
fn in_bed(almanac: &Almanac<'_>, supply: &Supply, planting: &Planting) -> Option<Stay> {
    let bed = almanac.bed(&planting.bed)?;
    let last = supply.beds.get(&planting.id).and_then(|bed| bed.last_week);
    let usual = || {
        let crop = almanac.crop(&planting.variety);
        shifted(planting.date, crop.map_or(0, cut_days))
    };
    let to = planting
        .finished
        .unwrap_or_else(|| last.map_or_else(usual, |week| shifted(week.sunday(), 1)));
    Some(Stay {
        at: Where::In(bed.space.clone()?),
        from: planting.date,
        to,
        needs: planting_metres(almanac, bed, planting),
        firm: true,
    })
}

/// Plants in trays: where they stand now, then where they go, then the bed that they need.
fn in_trays(
    almanac: &Almanac<'_>,
    sowing: &Sowing,
    forecast: &TrayForecast,
    space: &SpaceId,
    trays: u32,
    today: NaiveDate,
) -> Vec<Stay> {
    let tomorrow = shifted(today, 1);
    let here = almanac.space(space).map(|space| space.what);
    let off = forecast.quiet.unwrap_or(tomorrow).max(tomorrow);
    let plant = forecast
        .plant
        .map_or(tomorrow, |window| window.best)
        .max(tomorrow);
    let harden = forecast.harden.unwrap_or(plant).clamp(today, plant);
    let (needs, firm) = (f64::from(trays), true);
    let stay = |at, from, to| Stay {
        at,
        from,
        to,
        needs,
        firm,
    };
    let stands = |to| stay(Where::In(space.clone()), today, to);
    let mut stays = match here {
        Some(SpaceKind::Mat) => {
            let grown = harden.max(off);
            vec![
                stands(off),
                stay(Where::Any(SpaceKind::Shelf), off, grown),
                stay(Where::Any(SpaceKind::Hardening), grown, plant),
            ]
        }
        Some(SpaceKind::Hardening) => vec![stands(plant)],
        _ => {
            let out = harden.max(tomorrow);
            vec![
                stands(out),
                stay(Where::Any(SpaceKind::Hardening), out, plant),
            ]
        }
    };
    if forecast.stage != TrayStage::Ended && !forecast.spare {
        let bloom = forecast.bloom.map(|bloom| bloom.p50);
        let plants = forecast.plants.p50.round().max(0.0) as u32;
        let space = forecast.space.as_ref();
        stays.extend(bed_for(
            almanac,
            &sowing.variety,
            space,
            (plant, bloom),
            plants,
            firm,
        ));
    }
    stays
}

/// First stems of the planned sowings in a forecast.
pub(super) fn blooms(supply: &Supply) -> BTreeMap<&PlannedId, NaiveDate> {
    let of = |line: &'_ Line| line.bloom.map(|bloom| bloom.p50);
    supply
        .lines
        .iter()
        .filter_map(|line| match &line.source {
            Source::Planned(id) => Some((id, of(line)?)),
            _ => None,
        })
        .collect()
}

/// A planned sowing that is not sown yet; one that is overdue is sown today.
pub(super) fn accepted(
    almanac: &Almanac<'_>,
    planned: &PlannedSowing,
    bloom: Option<NaiveDate>,
    today: NaiveDate,
) -> Vec<Stay> {
    let live = !planned.retired && planned.sown_as.is_none();
    let (Some(variety), Some(sow)) = (&planned.variety, planned.sow.filter(|_| live)) else {
        return Vec::new();
    };
    let sow = sow.max(today);
    let space = almanac.space_or_usual(planned.space.as_ref());
    let Some((window, _)) = almanac
        .crop(variety)
        .and_then(|crop| planting_window(almanac, crop, space, sow, 0))
    else {
        return Vec::new();
    };
    let mut stays = to_come(almanac, variety, sow, window.best, planned.cells);
    let space = space.map(|space| &space.id);
    let days = (window.best, bloom);
    stays.extend(bed_for(
        almanac,
        variety,
        space,
        days,
        planned.plants,
        false,
    ));
    stays
}

/// A proposal.
pub(super) fn intended(almanac: &Almanac<'_>, one: &Intended, today: NaiveDate) -> Vec<Stay> {
    let sow = one.sow.max(today);
    let mut stays = to_come(almanac, &one.variety, sow, one.plant, one.cells);
    let days = (one.plant, one.bloom);
    stays.extend(bed_for(
        almanac,
        &one.variety,
        Some(&one.space),
        days,
        one.plants,
        false,
    ));
    stays
}

/// Trays that are still to be sown: mat, shelf, hardening spot.
fn to_come(
    almanac: &Almanac<'_>,
    variety: &VarietyId,
    sow: NaiveDate,
    plant: NaiveDate,
    cells: u32,
) -> Vec<Stay> {
    let Some(crop) = almanac.crop(variety) else {
        return Vec::new();
    };
    // Small sowings share a tray.
    let needs = f64::from(cells) / f64::from(cells_per_tray(almanac, variety));
    let off = shifted(sow, mat_days(crop));
    let harden = shifted(plant, -hardening_days(crop)).max(off);
    let stay = |what, from, to| Stay {
        at: Where::Any(what),
        from,
        to,
        needs,
        firm: false,
    };
    vec![
        stay(SpaceKind::Mat, sow, off),
        stay(SpaceKind::Shelf, off, harden),
        stay(SpaceKind::Hardening, harden, plant),
    ]
}

/// The bed that plants need, from planting to the end of harvest, at the crop's spacing.
fn bed_for(
    almanac: &Almanac<'_>,
    variety: &VarietyId,
    space: Option<&SpaceId>,
    (plant, bloom): (NaiveDate, Option<NaiveDate>),
    plants: u32,
    firm: bool,
) -> Option<Stay> {
    let space = space?;
    let crop: &Crop = almanac.crop(variety)?;
    Some(Stay {
        at: Where::In(space.clone()),
        from: plant,
        to: shifted(bloom.unwrap_or(plant), cut_days(crop)),
        needs: f64::from(plants) * metres_each(almanac, variety, space),
        firm,
    })
}

/// Metres of a space's beds that a plant of a variety takes: a row that it does not fill is shared.
pub(crate) fn metres_each(almanac: &Almanac<'_>, variety: &VarietyId, space: &SpaceId) -> f64 {
    let spacing = spacing_cm(almanac, variety) / 100.0;
    let rows = rows_across(Metres(bed_width(almanac, space)), Metres(spacing)).max(1);
    let metres = spacing / f64::from(rows);
    if metres.is_finite() { metres } else { 0.0 }
}

/// Width of the beds of a space, weighed by their length, m.
fn bed_width(almanac: &Almanac<'_>, space: &SpaceId) -> f64 {
    let beds = almanac.season().beds.values();
    let (mut length, mut area) = (0.0, 0.0);
    for bed in beds.filter(|bed| bed.space.as_ref() == Some(space) && !bed.retired) {
        if let (Some(long), Some(wide)) = (bed.length_m, bed.width_m) {
            length += long;
            area += long * wide;
        }
    }
    if length > 0.0 && area > 0.0 {
        area / length
    } else {
        BED_WIDTH_M
    }
}

/// Cells of the tray that the crop was last sown into.
pub(crate) fn cells_per_tray(almanac: &Almanac<'_>, variety: &VarietyId) -> u32 {
    let crop = |id: &VarietyId| almanac.variety(id).map(|v| &v.crop);
    almanac
        .season()
        .sowings
        .values()
        .filter(|sowing| crop(&sowing.variety) == crop(variety))
        .max_by_key(|sowing| (sowing.date, &sowing.id))
        .and_then(|sowing| sowing.tray_on(sowing.date))
        .map_or(CELLS_PER_TRAY, Tray::cells)
        .max(1)
}
