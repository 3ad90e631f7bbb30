//! Where plants stand from when to when: on the mat, on a shelf, hardening off, in a bed.

use agronomy::quantity::Metres;
use agronomy::spacing::rows_across;
use chrono::NaiveDate;
use culture::{Crop, MatUse};

use super::rooms::{BED_WIDTH_M, Place, metres_of};
use crate::almanac::Almanac;
use crate::fact::{SpaceKind, Tray};
use crate::forecast::{Source, Supply, planting_window, shifted};
use crate::ids::*;
use crate::space::{planting_metres, spacing_cm, trays_on};
use crate::state::PlannedSowing;

/// Cells of a tray that a proposal is reckoned in where nothing was sown yet: the 60 soil blocks that fill a standard tray.
const CELLS_PER_TRAY: u32 = 60;
/// Days of hardening off where the crop says none.
const HARDENING_DAYS: f64 = 7.0;

/// Something that stands in a place from one day on and before another.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Stay {
    pub place: Place,
    pub from: NaiveDate,
    pub to: NaiveDate,
    /// Trays, or metres of a bed 1.2 m wide.
    pub amount: f64,
}

/// When a sowing's trays are moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Moves {
    pub sow: NaiveDate,
    /// Off the mat.
    pub off: NaiveDate,
    /// To the hardening spot.
    pub harden: NaiveDate,
    /// Into the bed.
    pub plant: NaiveDate,
}

impl Moves {
    /// Of a crop that is sown and planted on these days.
    pub fn of(crop: &Crop, sow: NaiveDate, plant: NaiveDate) -> Self {
        let mat_days = match crop.mat_use() {
            MatUse::Usual => crop
                .emergence_usual()
                .map_or(0, |usual| usual.most_day.ceil() as i64),
            MatUse::OnlyIfCold | MatUse::Never => 0,
        };
        let plant = plant.max(sow);
        let off = shifted(sow, mat_days).min(plant);
        let hardening = crop.typical("hardening_off_days").unwrap_or(HARDENING_DAYS) as i64;
        Self {
            sow,
            off,
            harden: shifted(plant, -hardening).max(off),
            plant,
        }
    }

    /// Stays of so many trays.
    pub fn stays(&self, trays: f64) -> [Stay; 3] {
        let stay = |what, from, to| Stay {
            place: Place::Trays(what),
            from,
            to,
            amount: trays,
        };
        [
            stay(SpaceKind::Mat, self.sow, self.off),
            stay(SpaceKind::Shelf, self.off, self.harden),
            stay(SpaceKind::Hardening, self.harden, self.plant),
        ]
    }
}

/// Metres of a bed 1.2 m wide that one plant of a variety takes, whole rows left aside.
pub(super) fn metres_each(almanac: &Almanac<'_>, variety: &VarietyId) -> f64 {
    let spacing = spacing_cm(almanac, variety) / 100.0;
    let rows = rows_across(Metres(BED_WIDTH_M), Metres(spacing)).max(1);
    spacing / f64::from(rows)
}

/// Cells of the tray that a variety's crop was last sown into.
pub(super) fn cells_per_tray(almanac: &Almanac<'_>, variety: &VarietyId) -> u32 {
    let crop = |id: &VarietyId| almanac.variety(id).map(|v| &v.crop);
    almanac
        .season()
        .sowings
        .values()
        .filter(|sowing| crop(&sowing.variety) == crop(variety))
        .max_by_key(|sowing| (sowing.date, &sowing.id))
        .and_then(|sowing| sowing.tray_on(sowing.date))
        .map_or(CELLS_PER_TRAY, Tray::cells)
}

/// All that stands, is sown or is accepted, from a day on.
pub(super) fn stays_of_all(almanac: &Almanac<'_>, supply: &Supply, today: NaiveDate) -> Vec<Stay> {
    let mut stays = in_trays(almanac, supply, today);
    for planned in almanac.season().planned.values() {
        stays.extend(accepted(almanac, planned, today).into_iter().flatten());
    }
    stays.extend(in_beds(almanac, supply, today));
    stays
}

/// What is in trays now: as long on the mat as seedlings are waited for, on the shelf until hardening off, there until planted.
fn in_trays(almanac: &Almanac<'_>, supply: &Supply, today: NaiveDate) -> Vec<Stay> {
    let mut stays = Vec::new();
    for (id, room) in &trays_on(almanac.season(), today) {
        let Some(space) = almanac.space(id) else {
            continue;
        };
        for (sowing, trays) in &room.sowings {
            let Some(forecast) = supply.trays.get(sowing) else {
                continue;
            };
            let tomorrow = shifted(today, 1);
            let off = forecast.quiet.unwrap_or(tomorrow).max(tomorrow);
            let harden = forecast.harden.unwrap_or(off).max(off);
            let plant = forecast.plant.map_or(harden, |w| w.best).max(harden);
            let [mat, shelf, frame] = Moves {
                sow: today,
                off,
                harden,
                plant,
            }
            .stays(f64::from(*trays));
            match space.what {
                SpaceKind::Mat => stays.extend([mat, shelf, frame]),
                SpaceKind::Shelf => stays.extend([
                    Stay {
                        from: today,
                        ..shelf
                    },
                    frame,
                ]),
                SpaceKind::Hardening => stays.push(Stay {
                    from: today,
                    to: plant.max(tomorrow),
                    ..frame
                }),
                _ => {}
            }
        }
    }
    stays
}

/// An accepted sowing that is not sown yet; one that is overdue is sown today.
fn accepted(almanac: &Almanac<'_>, planned: &PlannedSowing, today: NaiveDate) -> Option<Vec<Stay>> {
    let live = !planned.retired && planned.sown_as.is_none();
    let (variety, sow) = (planned.variety.as_ref()?, planned.sow.filter(|_| live)?);
    let sow = sow.max(today);
    let crop = almanac.crop(variety)?;
    let space = almanac.space_or_usual(planned.space.as_ref());
    let (window, _) = planting_window(almanac, crop, space, sow, 0)?;
    let trays = planned.cells.div_ceil(cells_per_tray(almanac, variety));
    Some(
        Moves::of(crop, sow, window.best)
            .stays(f64::from(trays))
            .to_vec(),
    )
}

/// What stands in beds, and what is to be planted there from trays and accepted sowings, until its last stems.
fn in_beds(almanac: &Almanac<'_>, supply: &Supply, today: NaiveDate) -> Vec<Stay> {
    let season = almanac.season();
    let mut stays = Vec::new();
    for line in &supply.lines {
        let Some(space) = &line.space else { continue };
        let end = line.weeks.iter().rev().find(|(_, stems)| stems.p50 >= 0.5);
        let end = end.map(|(week, _)| shifted(week.sunday(), 1));
        let (from, amount) = match &line.source {
            Source::Planting(id) => {
                let planting = season.plantings.get(id);
                let Some(planting) = planting.filter(|p| p.finished.is_none_or(|end| end > today))
                else {
                    continue;
                };
                let metres = almanac.bed(&planting.bed).map_or(0.0, |bed| {
                    let share = metres_of(bed).zip(bed.length_m).map_or(1.0, |(m, l)| m / l);
                    planting_metres(almanac, bed, planting) * share
                });
                (today, metres)
            }
            Source::Sowing(id) => {
                let forecast = supply.trays.get(id);
                let plant = forecast.and_then(|f| f.plant).map(|w| w.best);
                let plants = forecast.map_or(0.0, |f| f.plants.p50);
                let Some(plant) = plant else { continue };
                (plant, plants * metres_each(almanac, &line.variety))
            }
            Source::Planned(id) => {
                let Some(planned) = season.planned.get(id) else {
                    continue;
                };
                let window = almanac.crop(&line.variety).and_then(|crop| {
                    let space = almanac.space(space);
                    planting_window(almanac, crop, space, planned.sow?.max(today), 0)
                });
                let Some((window, _)) = window else { continue };
                let plants = f64::from(planned.plants);
                (window.best, plants * metres_each(almanac, &line.variety))
            }
        };
        stays.push(Stay {
            place: Place::Beds(space.clone()),
            from,
            to: end.unwrap_or(from).max(shifted(from, 1)),
            amount,
        });
    }
    stays
}
