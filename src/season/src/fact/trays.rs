//! What happens to trays.

use chrono::NaiveDate;
use fact_macro::fact;

use super::words::{CellKind, FOR_TRAYS, GROUND, LossCause};
use crate::ids::*;
use crate::limits::*;

/// A tray's grid.
#[fact(part = "tray")]
#[derive(Copy, Eq)]
pub struct Tray {
    /// What seed is sown into.
    #[ask("field.tray_what")]
    pub what: CellKind,
    /// Rows of cells.
    #[limit(TRAY_SIDE)]
    #[ask("field.rows")]
    pub rows: u32,
    /// Cells in a row.
    #[limit(TRAY_SIDE)]
    #[ask("field.columns")]
    pub columns: u32,
}

impl Tray {
    /// Cells of one tray; at least 1.
    pub fn cells(self) -> u32 {
        self.rows.saturating_mul(self.columns).max(1)
    }
}

/// Seed sown into trays. The entry's id is the sowing's.
#[fact(kind = "sown")]
pub struct SownFact {
    /// What was sown.
    #[ask("field.variety", fixed)]
    pub variety: VarietyId,
    /// Cells sown, all trays together.
    #[limit(CELLS)]
    #[ask("field.cells")]
    pub cells: u32,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
    /// Where the trays are: mat, shelf or hardening spot.
    #[ask("field.stands", within(FOR_TRAYS))]
    pub space: Option<SpaceId>,
    /// The tray's grid.
    #[ask("field.tray_what")]
    pub tray: Option<Tray>,
    /// Seeds in each cell.
    #[limit(SEEDS_PER_CELL)]
    #[missing(1)]
    #[ask("field.seeds")]
    pub seeds_per_cell: u32,
    /// Covered by a dome.
    #[missing(false)]
    #[ask("field.dome")]
    pub dome: bool,
    /// From which lot.
    #[ask("field.lot")]
    pub lot: Option<LotId>,
    /// Which planned sowing this is.
    pub planned: Option<PlannedId>,
    /// Where it is to be planted: a tunnel or outdoor space.
    #[ask("field.for_space", within(GROUND))]
    pub for_space: Option<SpaceId>,
    /// What the tray's label says.
    #[limit(SHORT_TEXT)]
    #[ask("field.label")]
    pub label: Option<String>,
    /// The number its trays are called by.
    #[limit(TRAY_NUMBERS)]
    #[ask("field.number")]
    pub number: Option<u32>,
    /// Sown again to make up for what that sowing lacks.
    pub again_for: Option<SowingId>,
}

/// Seedlings counted.
#[fact(kind = "counted")]
pub struct CountedFact {
    /// Which sowing.
    pub sowing: SowingId,
    /// Cells with a seedling up.
    #[limit(CELLS_FOUND)]
    #[ask("field.up", pad)]
    pub up: u32,
    /// Judged by eye and not counted: "about three quarters".
    #[missing(false)]
    #[ask("field.about")]
    pub about: bool,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
    /// Of how many cells looked at; all that are left when absent.
    #[limit(CELLS_LOOKED_AT)]
    #[ask("field.of")]
    pub of: Option<u32>,
    /// Cells with two seedlings or more, of those that are up.
    #[limit(CELLS_FOUND)]
    #[ask("field.doubles")]
    pub doubles: Option<u32>,
    /// What was seen in each cell sown, tray after tray, row after row: how many in a row (left out for one), then n (not looked at),
    /// e (empty), u (one up), d (two or more up) or l (lost).
    #[limit(CELL_MAP)]
    pub map: Option<String>,
}

/// A sowing's trays moved.
#[fact(kind = "moved")]
pub struct MovedFact {
    /// Which sowing.
    pub sowing: SowingId,
    /// Where to.
    #[ask("field.to", within(FOR_TRAYS))]
    pub space: SpaceId,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}

/// The dome lifted for good.
#[fact(kind = "dome_lifted")]
pub struct DomeLiftedFact {
    /// Which sowing.
    pub sowing: SowingId,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}

/// Bottom heat ended.
#[fact(kind = "mat_off")]
pub struct MatOffFact {
    /// Which sowing.
    pub sowing: SowingId,
    /// Where the trays went.
    #[ask("field.to_maybe", within(FOR_TRAYS))]
    pub space: Option<SpaceId>,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}

/// Cells (of a sowing) or plants (of a planting) lost.
#[fact(kind = "lost", one_of(sowing, planting))]
pub struct LostFact {
    /// Which sowing.
    pub sowing: Option<SowingId>,
    /// Which planting.
    pub planting: Option<PlantingId>,
    /// Why.
    #[ask("field.cause")]
    pub cause: LossCause,
    /// Which whole tray of the sowing it was, counted from 1.
    #[limit(CELLS_LOOKED_AT)]
    #[ask("field.lost_tray", tray_number)]
    pub tray: Option<u32>,
    /// How many.
    #[limit(PLANTS)]
    #[ask("field.lost", pad)]
    pub number: u32,
    /// How many of the cells had a seedling up; all of them when absent.
    #[limit(PLANTS_FOUND)]
    pub up: Option<u32>,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}

/// Doubles pricked out into empty cells.
#[fact(kind = "pricked_out")]
pub struct PrickedOutFact {
    /// Which sowing.
    pub sowing: SowingId,
    /// Cells that gained a plant.
    #[limit(CELLS)]
    #[ask("field.filled")]
    pub cells: u32,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}

/// Moved to a bigger cell or pot.
#[fact(kind = "potted_on")]
pub struct PottedOnFact {
    /// Which sowing.
    pub sowing: SowingId,
    /// The new grid.
    #[ask("field.tray_what")]
    pub tray: Option<Tray>,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}

/// Hardening off begun.
#[fact(kind = "hardening")]
pub struct HardeningFact {
    /// Which sowing.
    pub sowing: SowingId,
    /// Where.
    #[ask("field.to_maybe", within(FOR_TRAYS))]
    pub space: Option<SpaceId>,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}
