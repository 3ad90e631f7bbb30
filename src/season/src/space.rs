//! Room: trays on mats and shelves, plants in beds.

use std::collections::BTreeMap;

use agronomy::quantity::Metres;
use agronomy::spacing::{bed_metres_for, plants_in_bed, rows_across};
use chrono::NaiveDate;

use crate::almanac::Almanac;
use crate::fact::{SpaceKind, Tray};
use crate::ids::*;
use crate::state::{Bed, Planting, Season, Sowing, Space};

/// Trays that stand in a space on a day.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct TrayRoom {
    /// The sowings that stand there, with their trays.
    pub sowings: Vec<(SowingId, u32)>,
    /// Trays in all.
    pub trays: u32,
    /// Room, as far as said.
    pub room: Option<u32>,
}

impl TrayRoom {
    /// Trays that still fit; `None` when the room is not said.
    pub fn free(&self) -> Option<i64> {
        self.room
            .map(|room| i64::from(room) - i64::from(self.trays))
    }
}

/// Trays by space on a day.
pub fn trays_on(season: &Season, date: NaiveDate) -> BTreeMap<SpaceId, TrayRoom> {
    let mut rooms: BTreeMap<SpaceId, TrayRoom> = season
        .spaces
        .values()
        .filter(|s| s.holds_trays() && !s.retired)
        .map(|s| {
            (
                s.id.clone(),
                TrayRoom {
                    room: s.room,
                    ..TrayRoom::default()
                },
            )
        })
        .collect();
    for sowing in season.sowings.values() {
        let Some((space, trays)) = sowing.space_on(date).zip(trays_of(sowing, date)) else {
            continue;
        };
        let room = rooms.entry(space.clone()).or_default();
        room.sowings.push((sowing.id.clone(), trays));
        room.trays = room.trays.saturating_add(trays);
    }
    rooms
}

/// Trays that a sowing takes up on a day; `None` when none of it is in trays then.
pub(crate) fn trays_of(sowing: &Sowing, date: NaiveDate) -> Option<u32> {
    let standing = sowing.standing(date);
    let there =
        sowing.date <= date && sowing.finished.is_none_or(|end| end > date) && standing.in_trays();
    there.then(|| {
        let tray = sowing.tray_on(date);
        tray.map_or(1, |tray| standing.cells.div_ceil(tray.cells()).max(1))
    })
}

/// The space of a kind in which trays still fit: the first in walking order with room, else the first.
pub fn space_with_room(
    season: &Season,
    what: SpaceKind,
    trays: u32,
    date: NaiveDate,
) -> Option<&Space> {
    let rooms = trays_on(season, date);
    let of_kind: Vec<&Space> = season
        .spaces_in_order()
        .into_iter()
        .filter(|s| s.what == what)
        .collect();
    of_kind
        .iter()
        .find(|s| {
            rooms
                .get(&s.id)
                .and_then(TrayRoom::free)
                .is_none_or(|free| free >= i64::from(trays))
        })
        .or(of_kind.first())
        .copied()
}

/// What stands in a bed on a day.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct BedRoom {
    /// Plantings that stand there with the metres they take up.
    pub plantings: Vec<(PlantingId, f64)>,
    /// Metres taken up.
    pub taken_m: f64,
    /// The bed's length, m.
    pub length_m: Option<f64>,
}

impl BedRoom {
    /// Metres still free; below zero when more was planted than fits.
    pub fn free_m(&self) -> Option<f64> {
        self.length_m.map(|length| length - self.taken_m)
    }
}

/// Cells of a tray where nothing of the crop was sown yet: the 60 soil blocks that fill a standard tray.
const CELLS_PER_TRAY: u32 = 60;
/// Width of a bed where none is said, m: common practice.
const BED_WIDTH_M: f64 = 1.2;
/// Distance between plants when neither the planting nor the crop says, cm.
const SPACING_CM_USUAL: f64 = 20.0;

/// A crop's distance between plants, cm.
pub fn spacing_cm(almanac: &Almanac<'_>, variety: &VarietyId) -> f64 {
    almanac
        .crop(variety)
        .and_then(|crop| crop.typical("spacing_cm"))
        .unwrap_or(SPACING_CM_USUAL)
}

/// Metres of a bed that a planting takes up, at its own spacing or the crop's; 0 when the bed's width is not said.
pub fn planting_metres(almanac: &Almanac<'_>, bed: &Bed, planting: &Planting) -> f64 {
    let spacing = planting
        .spacing_cm
        .unwrap_or_else(|| spacing_cm(almanac, &planting.variety));
    let metres = bed.width_m.map_or(0.0, |width| {
        bed_metres_for(planting.plants, Metres(width), Metres(spacing / 100.0)).0
    });
    if metres.is_finite() { metres } else { 0.0 }
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
    let tray = almanac.last_tray(variety);
    tray.map_or(CELLS_PER_TRAY, Tray::cells).max(1)
}

/// Room in a bed on a day.
pub fn bed_on(almanac: &Almanac<'_>, bed: &Bed, date: NaiveDate) -> BedRoom {
    let mut room = BedRoom {
        length_m: bed.length_m,
        ..BedRoom::default()
    };
    for planting in almanac.season().plantings.values() {
        let there = planting.bed == bed.id
            && planting.date <= date
            && planting.finished.is_none_or(|end| end > date);
        if !there {
            continue;
        }
        let metres = planting_metres(almanac, bed, planting);
        room.plantings.push((planting.id.clone(), metres));
        room.taken_m += metres;
    }
    room
}

/// Plants that fit into the free part of a bed at a spacing; `None` when the bed's size is not said.
pub fn plants_that_fit(bed: &Bed, room: &BedRoom, spacing_cm: f64) -> Option<u32> {
    let free = room.free_m()?.max(0.0);
    Some(plants_in_bed(
        Metres(free),
        Metres(bed.width_m?),
        Metres(spacing_cm / 100.0),
    ))
}
