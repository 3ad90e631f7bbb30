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
    /// Whether trays are still in use: seedlings stand in them or may still come up. Cells that stayed empty need no room once
    /// the last plant is set.
    pub fn in_trays(&self) -> bool {
        match self.up {
            Some(0) => self.cells > 0 && self.transplanted == 0,
            Some(_) => true,
            None => self.cells > 0,
        }
    }

    /// One change. Returns whether it could be: not more than was there.
    pub(crate) fn step(&mut self, kind: StepKind) -> bool {
        match kind {
            StepKind::Counted(up, of) => {
                let looked_at = of.unwrap_or(self.cells).min(self.cells);
                let possible = up <= looked_at;
                // A count of some cells stands for the whole tray.
                let whole = if looked_at == 0 || looked_at == self.cells {
                    up.min(self.cells)
                } else {
                    let share = f64::from(up.min(looked_at)) / f64::from(looked_at);
                    (share * f64::from(self.cells)).round() as u32
                };
                let gained = whole.saturating_sub(self.up.unwrap_or(0));
                self.emerged = self.emerged.saturating_add(gained);
                self.up = Some(whole);
                possible
            }
            StepKind::Lost(n) => {
                let possible = n <= self.cells;
                self.cells = self.cells.saturating_sub(n);
                self.up = self.up.map(|up| up.saturating_sub(n));
                self.lost = self.lost.saturating_add(n);
                possible
            }
            StepKind::PrickedOut(n) => {
                let up = self.up.unwrap_or(0);
                let possible = n <= self.cells.saturating_sub(up);
                self.up = Some(up.saturating_add(n).min(self.cells));
                possible
            }
            StepKind::Transplanted(n) => {
                let possible = n <= self.up.unwrap_or(self.cells);
                self.cells = self.cells.saturating_sub(n);
                self.up = self.up.map(|up| up.saturating_sub(n));
                self.transplanted = self.transplanted.saturating_add(n);
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
    /// The number its trays are called by.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub number: Option<u32>,
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
    /// The grid it was sown into, where it was moved to bigger cells since.
    #[serde(skip)]
    pub(crate) sown_in: Option<Tray>,
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

    /// The grid that it stood in on a day.
    pub fn tray_on(&self, date: NaiveDate) -> Option<Tray> {
        match self.potted_on {
            Some(potted) if date < potted => self.sown_in.or(self.tray),
            _ => self.tray,
        }
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

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Any change, also beyond what an entry may say.
    fn step() -> impl Strategy<Value = StepKind> {
        let n = prop_oneof![
            0u32..100,
            Just(crate::limits::CELLS_MAX),
            Just(u32::MAX),
            any::<u32>()
        ];
        (0u8..4, n.clone(), proptest::option::of(n)).prop_map(|(which, n, of)| match which {
            0 => StepKind::Counted(n, of),
            1 => StepKind::Lost(n),
            2 => StepKind::PrickedOut(n),
            _ => StepKind::Transplanted(n),
        })
    }

    proptest! {
        #[test]
        fn a_tray_never_holds_more_than_its_cells(
            cells in prop_oneof![0u32..200, Just(u32::MAX)],
            steps in proptest::collection::vec(step(), 0..40),
        ) {
            let mut standing = Standing { cells, ..Standing::default() };
            for step in steps {
                let was = standing;
                let possible = standing.step(step);
                prop_assert!(standing.up.is_none_or(|up| up <= standing.cells));
                prop_assert!(standing.cells <= was.cells);
                prop_assert!(standing.emerged >= was.emerged && standing.lost >= was.lost && standing.transplanted >= was.transplanted);
                match step {
                    StepKind::Counted(up, of) => prop_assert_eq!(possible, up <= of.unwrap_or(u32::MAX).min(was.cells)),
                    StepKind::Lost(n) => prop_assert_eq!(possible, n <= was.cells),
                    StepKind::PrickedOut(n) => prop_assert_eq!(possible, n <= was.cells - was.up.unwrap_or(0)),
                    StepKind::Transplanted(n) => prop_assert_eq!(possible, n <= was.up.unwrap_or(was.cells)),
                }
            }
        }
    }
}
