//! From stems back to seed packets, each step with what it was reckoned from.

use super::cells::{Cell, Germination};
use super::need::{Need, Wanted};
use super::{SEEDS_MAX, chance_of_at_least, least_sown, trays_for};
use crate::error::{AgronomyError, within};
use crate::quantity::Chance;

/// Shares below this are refused where something is divided by them.
const SHARE_LEAST: f64 = 0.001;

/// One of the things that are counted on the way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Stage {
    /// Saleable stems.
    Stems,
    /// Plants that stand and bear.
    Plants,
    /// Plants set into the bed.
    Planted,
    /// Seedlings in the trays: what a count has to show if enough are to be planted.
    Seedlings,
    /// Cells sown.
    Cells,
    /// Whole trays that hold the cells; the rest of the last one stays free.
    Trays,
    /// Seeds in the cells.
    Seeds,
    /// Whole packets that hold the seeds.
    Packets,
}

/// How a number follows from the one that it was reckoned from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Derivation {
    /// It was asked for.
    Asked,
    /// Divided by the saleable stems of an average plant and rounded up.
    SaleableStems {
        /// Stems that a plant bears on average.
        per_plant: f64,
        /// Share of them that is good enough to sell.
        marketable: Chance,
    },
    /// The smallest number of which enough survive with the chance wanted (exact binomial).
    Survival(Chance),
    /// The smallest number of cells that give enough plants with the chance
    /// wanted (exact: binomial, or the average of it over an uncertain germination).
    PlantsFromCells {
        /// Share of seeds that come up.
        germination: Germination,
        /// Seeds in a cell.
        seeds_per_cell: u32,
        /// Share of the seedlings that live to be planted.
        survival: Chance,
        /// Chance that a cell gives a plant, at the germination's average.
        gives_plant: Chance,
    },
    /// Divided by so many and rounded up to whole ones.
    InWhole(u32),
    /// Multiplied by so many.
    Times(u32),
}

/// How surely a number yields the one that it was reckoned from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Met {
    /// It holds by counting.
    Certainly,
    /// Only averages went in, so that it may as well fall short.
    OnAverage,
    /// With this chance, at least the one wanted.
    With(Chance),
}

/// One number of the chain.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// What is counted.
    pub stage: Stage,
    /// How many.
    pub number: u32,
    /// The step that it was reckoned from; none for what was asked.
    pub of: Option<Stage>,
    /// How it follows from that.
    pub by: Derivation,
    /// How surely it yields that.
    pub met: Met,
}

/// The numbers from what is wanted to the packets, in that order.
#[derive(Debug, Clone, PartialEq)]
pub struct Chain {
    steps: Vec<Step>,
}

impl Chain {
    /// Reckons what a need takes.
    ///
    /// Cells follow from the plants to set, by the chance that a cell comes up
    /// and its seedling lives; reckoned from the seedlings, the safety would be
    /// laid on twice.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`], with the name of the field, for what lies
    /// outside the ranges that [`Need`] states; [`AgronomyError::NotReached`] if
    /// no number up to [`SEEDS_MAX`] is enough.
    pub fn of(need: &Need) -> Result<Self, AgronomyError> {
        let whole = |field, number: u32, most: u32| {
            within(field, f64::from(number), 1.0, f64::from(most)).map(|_| number)
        };
        let cells_per_tray = whole("cells_per_tray", need.cells_per_tray, SEEDS_MAX)?;
        let seeds_per_packet = whole("seeds_per_packet", need.seeds_per_packet, u32::MAX)?;
        let survival = share("survival_to_planting", need.survival_to_planting)?;
        let in_bed = share("survival_in_bed", need.survival_in_bed)?;
        let cell = Cell::new(need.germination, need.seeds_per_cell, survival)?;

        let mut steps = need.wanted.steps()?;
        let plants = steps.last().map_or(0, |step| step.number);
        let planted = survivors(Stage::Planted, Stage::Plants, plants, in_bed, need.chance)?;
        let seedlings = survivors(
            Stage::Seedlings,
            Stage::Planted,
            planted.number,
            survival,
            need.chance,
        )?;
        let cells = cell.least_cells(planted.number, need.chance)?;
        let seeds = cells.saturating_mul(need.seeds_per_cell);
        steps.extend([
            planted,
            seedlings,
            Step {
                stage: Stage::Cells,
                number: cells,
                of: Some(Stage::Planted),
                by: Derivation::PlantsFromCells {
                    germination: need.germination,
                    seeds_per_cell: need.seeds_per_cell,
                    survival,
                    gives_plant: cell.gives_plant(),
                },
                met: Met::With(cell.chance_of_at_least(planted.number, cells)?),
            },
            Step {
                stage: Stage::Trays,
                number: trays_for(cells, cells_per_tray),
                of: Some(Stage::Cells),
                by: Derivation::InWhole(cells_per_tray),
                met: Met::Certainly,
            },
            Step {
                stage: Stage::Seeds,
                number: seeds,
                of: Some(Stage::Cells),
                by: Derivation::Times(need.seeds_per_cell),
                met: Met::Certainly,
            },
            Step {
                stage: Stage::Packets,
                number: seeds.div_ceil(seeds_per_packet),
                of: Some(Stage::Seeds),
                by: Derivation::InWhole(seeds_per_packet),
                met: Met::Certainly,
            },
        ]);
        Ok(Self { steps })
    }

    /// The steps, from what is wanted to the packets.
    pub fn steps(&self) -> &[Step] {
        &self.steps
    }

    /// The step of a stage; `None` for stems if only plants were asked for.
    pub fn step(&self, stage: Stage) -> Option<&Step> {
        self.steps.iter().find(|step| step.stage == stage)
    }

    /// A lower bound on the chance that enough plants stand in the end: that
    /// enough can be set, and that enough of those stand.
    pub fn chance_of_plants(&self) -> Chance {
        let both = [Stage::Cells, Stage::Planted].into_iter().map(|stage| {
            match self.step(stage).map(|step| step.met) {
                Some(Met::With(chance)) => chance.get(),
                _ => 1.0,
            }
        });
        Chance::clamped(both.product())
    }
}

impl Wanted {
    /// Down to the plants that have to stand, which are the last step.
    fn steps(self) -> Result<Vec<Step>, AgronomyError> {
        let most = f64::from(SEEDS_MAX);
        let asked = |stage, number| Step {
            stage,
            number,
            of: None,
            by: Derivation::Asked,
            met: Met::Certainly,
        };
        match self {
            Self::Plants(plants) => {
                within("plants", f64::from(plants), 0.0, most)?;
                Ok(vec![asked(Stage::Plants, plants)])
            }
            Self::Stems {
                stems,
                per_plant,
                marketable,
            } => {
                within("stems", f64::from(stems), 0.0, most)?;
                within("stems_per_plant", per_plant, 0.001, 10_000.0)?;
                let marketable = share("marketable", marketable)?;
                // Whole plants must not become one more by rounding.
                let plants = f64::from(stems) / (per_plant * marketable.get());
                let plants = within("plants", (plants - 1e-9).ceil().max(0.0), 0.0, most)?;
                Ok(vec![
                    asked(Stage::Stems, stems),
                    Step {
                        stage: Stage::Plants,
                        number: plants as u32,
                        of: Some(Stage::Stems),
                        by: Derivation::SaleableStems {
                            per_plant,
                            marketable,
                        },
                        met: Met::OnAverage,
                    },
                ])
            }
        }
    }
}

fn share(field: &'static str, share: Chance) -> Result<Chance, AgronomyError> {
    within(field, share.get(), SHARE_LEAST, 1.0).map(|_| share)
}

/// The step to the smallest number of which enough survive.
fn survivors(
    stage: Stage,
    of: Stage,
    wanted: u32,
    survival: Chance,
    chance: Chance,
) -> Result<Step, AgronomyError> {
    let number = least_sown(wanted, survival, chance)?;
    Ok(Step {
        stage,
        number,
        of: Some(of),
        by: Derivation::Survival(survival),
        met: Met::With(chance_of_at_least(wanted, number, survival)),
    })
}
