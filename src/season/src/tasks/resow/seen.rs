//! The germination seen in a sowing, and how sure it is.

use agronomy::proportion::{Interval, wilson};
use agronomy::quantity::{Chance, Z90};
use agronomy::sowing::least_sown;

use crate::forecast::{EYE_CELLS, TrayForecast, USABLE_SHARE};
use crate::state::Sowing;

/// The chance wanted of making up a shortfall. Common practice sows 1.12 over what the germination seen asks for, which comes to much
/// the same.
const SHORTFALL_CHANCE: f64 = 0.8;
/// The confidence of the range that is told.
const CONFIDENCE: f64 = 0.95;

/// The germination seen, and how sure it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Seen {
    /// Share of cells that come up.
    pub(super) rate: f64,
    /// Where the rate of the next such sowing may lie, by as many cells as were looked at.
    pub(super) range: Option<Interval>,
    /// Cells' worth of evidence.
    weight: f64,
}

impl Seen {
    /// Of a counted sowing by its outlook: known no better than by as many cells as were looked at.
    pub(super) fn of(sowing: &Sowing, forecast: &TrayForecast) -> Option<Self> {
        sowing.last_count()?;
        let cells = f64::from(sowing.cells.max(1));
        let up = forecast.final_up?;
        let rate = (up.p50 / cells).clamp(0.02, 0.98);
        let looked_at = looked_at(sowing);
        let seen = (rate * f64::from(looked_at)).round() as u32;
        // What is still to come up is not known, either.
        let spread = (up.p90 - up.p10) / (2.0 * Z90 * cells);
        let by_spread = if spread > 0.0 {
            rate * (1.0 - rate) / (spread * spread) - 1.0
        } else {
            f64::INFINITY
        };
        Some(Self {
            rate,
            range: wilson(seen, looked_at, Chance::new(CONFIDENCE).ok()?).ok(),
            weight: by_spread.min(f64::from(looked_at)).max(2.0),
        })
    }

    /// What is usual, where nothing was counted before it was lost.
    pub(super) fn usual(rate: f64, weight: f64) -> Self {
        Self {
            rate: rate.clamp(0.02, 0.98),
            range: None,
            weight: weight.max(2.0),
        }
    }

    /// Cells to sow for so many plants.
    pub(super) fn cells_for(self, plants: u32) -> Option<u32> {
        let per_cell = self.rate * USABLE_SHARE;
        let chance = Chance::new(SHORTFALL_CHANCE).ok()?;
        let (alpha, beta) = (per_cell * self.weight, (1.0 - per_cell) * self.weight);
        least_sown(plants, alpha, beta, chance).ok()
    }
}

/// The cells that the last count looked at, those of a guess by eye for what it is worth.
fn looked_at(sowing: &Sowing) -> u32 {
    let last = sowing.last_count();
    let of = last.and_then(|count| count.of).unwrap_or(sowing.cells);
    match last {
        Some(count) if count.about => of.min(EYE_CELLS),
        _ => of,
    }
    .max(1)
}
