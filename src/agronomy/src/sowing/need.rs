//! What a sowing is for, and what lies between that and the seed.

use super::cells::Germination;
use crate::quantity::Chance;

/// What a sowing is for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Wanted {
    /// Saleable stems.
    Stems {
        /// How many, up to [`super::SEEDS_MAX`].
        stems: u32,
        /// Stems that a plant bears on average, 0.001 to 10,000.
        per_plant: f64,
        /// Share of them that is good enough to sell, at least 0.001.
        marketable: Chance,
    },
    /// Plants that stand and bear, up to [`super::SEEDS_MAX`].
    Plants(u32),
}

/// What is wanted, and all that lies between it and the seed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Need {
    /// What it is for.
    pub wanted: Wanted,
    /// The chance wanted of having enough at each step that chance decides.
    pub chance: Chance,
    /// Share of the plants set that stand until they are cut, at least 0.001.
    pub survival_in_bed: Chance,
    /// Share of seedlings that live and are good enough to be planted, at least 0.001.
    pub survival_to_planting: Chance,
    /// Share of seeds that come up.
    pub germination: Germination,
    /// Seeds in a cell, later thinned to one seedling, 1 to [`super::SEEDS_PER_CELL_MAX`].
    pub seeds_per_cell: u32,
    /// Cells in a tray, 1 to [`super::SEEDS_MAX`].
    pub cells_per_tray: u32,
    /// Seeds in a packet, 1 or more.
    pub seeds_per_packet: u32,
}
