//! What is still to be sown: planned by the grower or proposed by the plan.

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;
use chrono::NaiveDate;
use culture::{Crop, MatUse};

use super::harvest::{Flush, flushes};
use super::{Course, Phase, Station, shifted};
use crate::almanac::Almanac;
use crate::forecast::supply::stems_of;
use crate::forecast::timing::spared_by_frost;
use crate::ids::*;
use crate::space::{cells_per_tray, metres_each};
use crate::state::Space;

/// Days of hardening off where the crop says nothing: a week to ten days, common practice.
const HARDENING_DAYS_USUAL: f64 = 7.0;
/// Days that plants are given in a bed whose stems can't be forecast.
const UNKNOWN_DAYS: i64 = 12 * 7;

/// A sowing that somebody means to make.
#[derive(Debug, Clone, PartialEq)]
pub struct Intent {
    /// What to sow.
    pub variety: VarietyId,
    /// Where to plant.
    pub space: Option<SpaceId>,
    /// When to sow.
    pub sow: NaiveDate,
    /// When to plant.
    pub plant: NaiveDate,
    /// First stems, where they can be forecast.
    pub bloom: Option<Spread<NaiveDate>>,
    /// Cells to sow.
    pub cells: u32,
    /// Plants to set.
    pub plants: u32,
}

/// The course of a sowing that is meant to be made; one that is overdue is sown today. `None` for a variety of no known crop.
pub fn intended(almanac: &Almanac<'_>, of: &Intent, today: NaiveDate) -> Option<Course> {
    let crop = almanac.crop(&of.variety)?;
    let sow = of.sow.max(today);
    let trays = f64::from(of.cells) / f64::from(cells_per_tray(almanac, &of.variety));
    let mut phases = trays_ahead(crop, sow, of.plant, trays);
    let Set {
        bed,
        flushes,
        weeks,
    } = ToSet {
        variety: &of.variety,
        crop,
        space: of.space.as_ref().and_then(|id| almanac.space(id)),
        plant: of.plant,
        bloom: of.bloom,
        plants: f64::from(of.plants),
    }
    .set(almanac, today);
    phases.push(bed);
    phases.retain(|phase| phase.from < phase.to);
    Some(Course {
        space: of.space.clone(),
        sown: sow,
        cells: of.cells,
        plants: of.plants,
        phases,
        bloom: of.bloom,
        flushes,
        ..Course::of_stems(of.variety.clone(), weeks)
    })
}

/// Stays of trays that are sown and planted on these days.
pub(crate) fn trays_ahead(crop: &Crop, sow: NaiveDate, plant: NaiveDate, trays: f64) -> Vec<Phase> {
    let plant = plant.max(sow);
    let off = shifted(sow, mat_days(crop)).min(plant);
    let harden = shifted(plant, -hardening_days(crop)).max(off);
    let phase = |station, from, to| Phase {
        station,
        space: None,
        from,
        to,
        needs: trays,
    };
    vec![
        phase(Station::Mat, sow, off),
        phase(Station::Shelf, off, harden),
        phase(Station::Hardening, harden, plant),
    ]
}

/// Plants that are to be set into a bed.
pub(super) struct ToSet<'a> {
    pub variety: &'a VarietyId,
    pub crop: &'a Crop,
    pub space: Option<&'a Space>,
    pub plant: NaiveDate,
    pub bloom: Option<Spread<NaiveDate>>,
    /// Plants that give stems: their middle number, which need not be whole.
    pub plants: f64,
}

/// What comes of them.
pub(super) struct Set {
    pub bed: Phase,
    pub flushes: Vec<Flush>,
    pub weeks: Vec<(IsoWeek, Spread<f64>)>,
}

impl ToSet<'_> {
    pub(super) fn set(&self, almanac: &Almanac<'_>, today: NaiveDate) -> Set {
        let (crop, space) = (self.crop, self.space);
        let (found, weeks) = match self.bloom {
            Some(bloom) => {
                let spared = spared_by_frost(almanac, crop, space, bloom.p50);
                let weeks = stems_of(almanac, crop, space, (bloom, self.plants), &spared, today);
                (flushes(crop, bloom, &spared), weeks)
            }
            None => (Vec::new(), Vec::new()),
        };
        let each = space.map_or(0.0, |space| metres_each(almanac, self.variety, &space.id));
        let plants = self.plants.round().max(0.0);
        Set {
            bed: bed_ahead(
                space.map(|space| &space.id),
                self.plant,
                &found,
                plants * each,
            ),
            flushes: found,
            weeks,
        }
    }
}

/// A stay of so many metres in a bed, from planting to the last stems.
pub(crate) fn bed_ahead(
    space: Option<&SpaceId>,
    plant: NaiveDate,
    flushes: &[Flush],
    metres: f64,
) -> Phase {
    Phase {
        station: Station::Bed,
        space: space.cloned(),
        from: plant,
        to: until_last(plant, flushes),
        needs: metres,
    }
}

/// The day from which a bed is free again.
pub(super) fn until_last(plant: NaiveDate, flushes: &[Flush]) -> NaiveDate {
    let last = flushes.last().map(|flush| flush.to.p50);
    last.unwrap_or(shifted(plant, UNKNOWN_DAYS))
        .max(shifted(plant, 1))
}

/// Days on the heat mat: until most seedlings are up, for crops that are usually set on one.
fn mat_days(crop: &Crop) -> i64 {
    match crop.mat_use() {
        MatUse::Usual => crop
            .emergence_usual()
            .map_or(0, |usual| usual.most_day.ceil() as i64),
        MatUse::OnlyIfCold | MatUse::Never => 0,
    }
}

/// Days of hardening off before planting.
pub(crate) fn hardening_days(crop: &Crop) -> i64 {
    crop.typical("hardening_off_days")
        .unwrap_or(HARDENING_DAYS_USUAL)
        .round() as i64
}
