//! A sowing's life in trays, and how many plants it has at any day.

use chrono::NaiveDate;
use serde::Serialize;

use crate::fact::{LossCause, Tray, WaterRegime};
use crate::ids::*;

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
}

/// What changes the number of plants.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum StepKind {
    /// Counted: up, of.
    Counted(u32, Option<u32>),
    /// Cells or plants lost.
    Lost(u32),
    /// Empty cells filled.
    PrickedOut(u32),
    /// Plants set into a bed.
    Transplanted(u32),
}

/// One change of the number of plants.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(crate) struct Step {
    pub date: NaiveDate,
    pub entry: EntryId,
    pub kind: StepKind,
}

/// How many cells and plants there are on a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Standing {
    /// Cells still in the trays, up or not.
    pub cells: u32,
    /// Plants standing by the last count, less what was lost or planted since; `None` before the first count.
    pub up: Option<u32>,
    /// Seedlings that ever came up: standing, lost after they were up, and planted.
    pub emerged: u32,
    /// Lost so far.
    pub lost: u32,
    /// Planted out so far.
    pub transplanted: u32,
}

impl Standing {
    /// One change. Returns whether it could be: not more than was there.
    pub(crate) fn step(&mut self, kind: StepKind) -> bool {
        match kind {
            StepKind::Counted(up, of) => {
                let looked_at = of.unwrap_or(self.cells).min(self.cells);
                let possible = up <= of.unwrap_or(self.cells);
                // A count of some cells stands for the whole tray.
                let whole = if looked_at == 0 || looked_at == self.cells {
                    up.min(self.cells)
                } else {
                    let share = f64::from(up.min(looked_at)) / f64::from(looked_at);
                    (share * f64::from(self.cells)).round() as u32
                };
                let gained = whole.saturating_sub(self.up.unwrap_or(0));
                self.emerged += gained;
                self.up = Some(whole);
                possible
            }
            StepKind::Lost(n) => {
                let possible = n <= self.cells;
                self.cells = self.cells.saturating_sub(n);
                self.up = self.up.map(|up| up.saturating_sub(n));
                self.lost += n;
                possible
            }
            StepKind::PrickedOut(n) => {
                let up = self.up.unwrap_or(0);
                let possible = up.saturating_add(n) <= self.cells;
                self.up = Some(up.saturating_add(n).min(self.cells));
                possible
            }
            StepKind::Transplanted(n) => {
                let possible = n <= self.up.unwrap_or(self.cells);
                self.cells = self.cells.saturating_sub(n);
                self.up = self.up.map(|up| up.saturating_sub(n));
                self.transplanted += n;
                possible
            }
        }
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
    /// Which planned sowing it carried out.
    pub planned: Option<PlannedId>,
    /// Where it is to be planted.
    pub for_space: Option<SpaceId>,
    /// Where it stood, from when.
    pub stood: Vec<(NaiveDate, SpaceId)>,
    /// Inspections, by date.
    pub counts: Vec<Count>,
    /// Losses by date with their cause.
    pub losses: Vec<(NaiveDate, u32, LossCause)>,
    /// Dome lifted.
    pub dome_lifted: Option<NaiveDate>,
    /// Bottom heat ended.
    pub mat_off: Option<NaiveDate>,
    /// Moved to bigger cells.
    pub potted_on: Option<NaiveDate>,
    /// Hardening off begun.
    pub hardening: Option<NaiveDate>,
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
}

impl Sowing {
    /// Cells and plants on a day, that day's records included.
    pub fn standing(&self, on: NaiveDate) -> Standing {
        let mut standing = Standing {
            cells: self.cells,
            ..Standing::default()
        };
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

    /// Trays that the sowing takes up, at least 1 while there are cells: whole trays of its grid.
    pub fn trays(&self) -> u32 {
        match self.tray {
            Some(tray) => self.cells.div_ceil(tray.cells()),
            None => u32::from(self.cells > 0),
        }
    }

    /// Whether plants are still in trays: not all planted, not given up.
    pub fn in_trays(&self) -> bool {
        let now = self.standing_now();
        self.finished.is_none() && now.up.map_or(now.cells > 0, |up| up > 0)
    }

    /// The last inspection.
    pub fn last_count(&self) -> Option<&Count> {
        self.counts.last()
    }
}
