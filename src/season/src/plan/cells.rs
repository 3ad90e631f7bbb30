//! Plants wanted to cells sown, by the chance of having enough.

use agronomy::quantity::Chance;
use agronomy::sowing::{Cell, Germination};
use chrono::NaiveDate;
use culture::Crop;

use crate::almanac::Almanac;
use crate::forecast::{USABLE_SHARE, lot_germination};
use crate::ids::*;
use crate::why::Reason;
use crate::words::{Arg, Say};

/// How many cells to sow.
#[derive(Debug, Clone, PartialEq)]
pub struct CellsFor {
    /// Cells.
    pub cells: u32,
    /// The chain behind it.
    pub why: Vec<Reason>,
}

/// What a cell of a variety gives, and why.
fn cell_of(
    almanac: &Almanac<'_>,
    crop: &Crop,
    variety: &VarietyId,
    on: NaiveDate,
) -> Option<(Cell, Vec<Reason>)> {
    let lot = almanac
        .season()
        .lots
        .values()
        .filter(|lot| lot.variety.as_ref() == Some(variety) && !lot.retired)
        .max_by_key(|lot| (lot.year, lot.id.clone()));
    let germination = lot_germination(almanac, crop, variety, lot.map(|lot| &lot.id), on, None)?;
    // A rate next to 0 or 1 on little evidence would be a surer thing than anyone knows.
    let worth = |share: f64| (share * germination.weight).max(0.1);
    let rate = Germination::Uncertain {
        alpha: worth(germination.rate),
        beta: worth(1.0 - germination.rate),
    };
    let usable = Chance::new(USABLE_SHARE).ok()?;
    let mut why = germination.why;
    why.push(Reason::assumed(
        Say::new("why.usable").with("n", Arg::Share(USABLE_SHARE)),
    ));
    Some((Cell::new(rate, 1, usable).ok()?, why))
}

fn told(plants: u32, cells: u32, chance: Chance, chain: Vec<Reason>) -> CellsFor {
    let mut why = vec![Reason::forecast(
        Say::new("why.plants_needed").with("n", plants),
    )];
    why.extend(chain);
    why.push(Reason::forecast(
        Say::new("why.cells_chance")
            .with("n", cells)
            .with("plants", plants)
            .with("chance", Arg::Share(chance.get())),
    ));
    CellsFor { cells, why }
}

/// The smallest number of cells, one seed each, that gives `plants` usable plants with at least the wanted chance.
///
/// A cell gives a plant if its seed comes up and the seedling is usable; the germination rate is itself uncertain (beta), with as
/// much weight as there is evidence for it. `None` for a crop without seed figures, or if no number within reason is enough.
pub fn cells_for(
    almanac: &Almanac<'_>,
    crop: &Crop,
    variety: &VarietyId,
    plants: u32,
    chance: f64,
    on: NaiveDate,
) -> Option<CellsFor> {
    let (cell, chain) = cell_of(almanac, crop, variety, on)?;
    let chance = Chance::new(chance.clamp(0.5, 0.99)).ok()?;
    let cells = cell.least_cells(plants, chance).ok()?;
    Some(told(plants, cells, chance, chain))
}

/// So many cells and no more, with the chance that they give `plants` usable plants.
pub(super) fn cells_at_most(
    almanac: &Almanac<'_>,
    variety: &VarietyId,
    plants: u32,
    cells: u32,
    on: NaiveDate,
) -> Option<CellsFor> {
    let (cell, chain) = cell_of(almanac, almanac.crop(variety)?, variety, on)?;
    let chance = cell.chance_of_at_least(plants, cells).ok()?;
    let chance = Chance::new((chance.get() * 100.0).floor() / 100.0).ok()?;
    let mut found = told(plants, cells, chance, chain);
    found
        .why
        .push(Reason::forecast(Say::new("why.cells_no_room")));
    Some(found)
}
