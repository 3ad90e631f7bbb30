//! A sowing's life in trays, and how many plants it has at any day.

use chrono::NaiveDate;
use serde::Serialize;

use super::standing::{Standing, Step};
use crate::cells::{CellMap, Mark};
use crate::fact::{LossCause, Tray, WaterRegime};
use crate::ids::*;

/// Cells or plants lost at once.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Loss {
    /// When.
    pub date: NaiveDate,
    /// How many.
    pub number: u32,
    /// Which whole tray it was, counted from 1.
    pub tray: Option<u32>,
    /// Why.
    pub cause: LossCause,
}

/// One inspection.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Count {
    /// The entry.
    pub entry: EntryId,
    /// When.
    pub date: NaiveDate,
    /// Cells with a seedling up.
    pub up: u32,
    /// Of how many looked at; all that were left when `None`.
    pub of: Option<u32>,
    /// Cells with two or more.
    pub doubles: Option<u32>,
    /// Judged by eye.
    pub about: bool,
    /// What was seen in each cell, as written.
    pub map: Option<String>,
}

impl Count {
    /// What it saw in each of so many cells in trays of a grid; `None` where it did not say, or of other cells.
    pub fn map_in(&self, tray: Tray, cells: u32) -> Option<CellMap> {
        let map = CellMap::read(self.map.as_deref()?, tray).ok()?;
        (map.cells() == cells as usize).then_some(map)
    }
}

/// One variety sown on one date into trays.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Sowing {
    /// Id.
    pub id: SowingId,
    /// What was sown.
    pub variety: VarietyId,
    /// From which lot.
    pub lot: Option<LotId>,
    /// When.
    pub date: NaiveDate,
    /// Cells sown.
    pub cells: u32,
    /// Seeds in each cell.
    pub seeds_per_cell: u32,
    /// The tray's grid.
    pub tray: Option<Tray>,
    /// Covered by a dome at the start.
    pub dome: bool,
    /// What stands on the label.
    pub label: Option<String>,
    /// The number its trays are called by.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub number: Option<u32>,
    /// Which planned sowing it carried out.
    pub planned: Option<PlannedId>,
    /// Which sowing it makes up for.
    pub again_for: Option<SowingId>,
    /// Where it is to be planted.
    pub for_space: Option<SpaceId>,
    /// Where it stood, from when.
    pub stood: Vec<(NaiveDate, SpaceId)>,
    /// Inspections, by date.
    pub counts: Vec<Count>,
    /// Losses by date.
    pub losses: Vec<Loss>,
    /// Dome lifted.
    pub dome_lifted: Option<NaiveDate>,
    /// Bottom heat ended.
    pub mat_off: Option<NaiveDate>,
    /// Moved to bigger cells.
    pub potted_on: Option<NaiveDate>,
    /// Hardening off begun.
    pub hardening: Option<NaiveDate>,
    /// The days on which the trays stood out to harden, each once.
    pub hardened: Vec<NaiveDate>,
    /// Evenings on which it was covered.
    pub covered: Vec<NaiveDate>,
    /// How wet it is kept, since when.
    pub regime: Option<(NaiveDate, WaterRegime)>,
    /// Last watered.
    pub watered: Option<NaiveDate>,
    /// Last fed.
    pub fed: Option<NaiveDate>,
    /// The rest given up.
    pub finished: Option<NaiveDate>,
    /// What became of it in beds.
    pub plantings: Vec<PlantingId>,
    /// Its events in the order in which they were recorded.
    pub history: Vec<EntryId>,
    pub(crate) steps: Vec<Step>,
    /// The grid it was sown into, where it was moved to bigger cells since.
    #[serde(skip)]
    pub(crate) sown_in: Option<Tray>,
}

impl Sowing {
    /// Cells and plants on a day, that day's records included.
    pub fn standing(&self, on: NaiveDate) -> Standing {
        let mut standing = Standing::sown(self.cells);
        for step in self.steps.iter().take_while(|s| s.date <= on) {
            standing.step(step.kind);
        }
        standing
    }

    /// Cells and plants after all that is recorded.
    pub fn standing_now(&self) -> Standing {
        self.standing(NaiveDate::MAX)
    }

    /// Where the trays stand after all that is recorded.
    pub fn space(&self) -> Option<&SpaceId> {
        self.stood.last().map(|(_, space)| space)
    }

    /// Where the trays stood on a day.
    pub fn space_on(&self, date: NaiveDate) -> Option<&SpaceId> {
        self.stood
            .iter()
            .take_while(|(from, _)| *from <= date)
            .last()
            .map(|(_, space)| space)
    }

    /// The grid that it stood in on a day.
    pub fn tray_on(&self, date: NaiveDate) -> Option<Tray> {
        match self.potted_on {
            Some(potted) if date < potted => self.sown_in.or(self.tray),
            _ => self.tray,
        }
    }

    /// What was last seen in each cell on a day, with the whole trays that were lost since. `None` before a count cell by cell, and
    /// once the plants stand in other cells.
    pub fn map_on(&self, on: NaiveDate) -> Option<CellMap> {
        let tray = self.tray_on(on)?;
        if self.potted_on.is_some_and(|potted| potted <= on) {
            return None;
        }
        // A count may have looked at some trays only: of the others, what was seen before stands.
        let mut found: Option<CellMap> = None;
        for count in self.counts.iter().rev().filter(|count| count.date <= on) {
            let Some(map) = count.map_in(tray, self.cells) else {
                continue;
            };
            match &mut found {
                None => found = Some(map),
                Some(newer) => newer.fill_from(&map),
            }
        }
        let mut map = found?;
        for tray in self.trays_lost(on) {
            if let Some(tray) = tray.checked_sub(1) {
                map.set(map.of_tray(tray), Mark::Lost);
            }
        }
        Some(map)
    }

    /// Trays that were lost whole by a day, counted from 1.
    pub fn trays_lost(&self, on: NaiveDate) -> impl Iterator<Item = u32> + '_ {
        self.losses
            .iter()
            .filter(move |loss| loss.date <= on)
            .filter_map(|loss| loss.tray)
    }

    /// Trays that the sowing takes up, at least 1 while there are cells: whole trays of its grid.
    pub fn trays(&self) -> u32 {
        match self.tray {
            Some(tray) => self.cells.div_ceil(tray.cells()),
            None => u32::from(self.cells > 0),
        }
    }

    /// Whether plants are still in trays: not all planted, not given up.
    pub fn in_trays(&self) -> bool {
        self.finished.is_none() && self.standing_now().in_trays()
    }

    /// The last inspection.
    pub fn last_count(&self) -> Option<&Count> {
        self.counts.last()
    }
}
