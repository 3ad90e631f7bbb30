//! The input of the simulation: what grows and what is wanted.
//!
//! Days are counted from day zero, the first day of week 0; weeks are counted from week 0.

use serde::{Deserialize, Serialize};

use super::spread::Spread;

/// Limits of weeks, classes times weeks, seasons, cells, stems and days.
const WEEKS_MAX: usize = 520;
const SLOTS_MAX: usize = 1_000_000;
const SEASONS_MAX: u32 = 10_000_000;
const CELLS_MAX: u32 = 1_000_000;
const STEMS_MAX: f64 = 1e9;
const DAYS_MAX: f64 = 1e5;

/// A season to simulate.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Case {
    /// Seed of the random numbers; the same seed gives the same seasons.
    pub seed: u64,
    /// Number of seasons to simulate.
    pub seasons: u32,
    /// Number of weeks, from week 0.
    pub weeks: usize,
    /// Number of stem classes. Batches of one class are interchangeable for every demand.
    pub classes: usize,
    /// Share (0 to 1) of the variance of bloom days that all batches have in common through the weather.
    pub weather_shared: f64,
    /// Share (0 to 1) of the variance of the log yield that all batches have in common.
    pub yield_shared: f64,
    /// What grows.
    pub batches: Vec<Batch>,
    /// What is wanted, in the order of allocation: stems allocated to one demand are not available to later
    /// ones.
    pub demands: Vec<Demand>,
}

/// Plants of one kind and date.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Batch {
    /// Class of its stems.
    pub class: usize,
    /// Plants set out.
    pub plants: Plants,
    /// Share (0 to 1) of those plants that survive to bloom.
    pub survival: f64,
    /// Saleable stems per plant in a median year.
    pub stems: f64,
    /// Coefficient of variation of the yield between years (0 to 3).
    pub variation: f64,
    /// Day of the first bloom.
    pub bloom: Spread,
    /// Shares of the stems by week from the first bloom on.
    pub shares: Vec<f64>,
    /// Share of years in which frost has not yet ended the batch, by week from week 0; the last value applies
    /// to all later weeks. Empty without frost.
    pub spared: Vec<f64>,
}

/// Number of plants set out.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Plants {
    /// Counted, or forecast with an interval; negative values count as 0.
    Known(Spread),
    /// The survivors of a sowing.
    Sown {
        /// Cells sown.
        cells: u32,
        /// Seeds per cell; one plant is kept.
        seeds: u32,
        /// First parameter of the beta-distributed germination rate, above 0.
        alpha: f64,
        /// Second parameter, above 0.
        beta: f64,
        /// Share (0 to 1) of the seedlings that are good enough to set out.
        usable: f64,
        /// The most that are set out.
        most: u32,
    },
}

/// A demand: a target or an order.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Demand {
    /// The weeks of a target, or the lines of an order.
    pub parts: Vec<Part>,
}

/// Stems wanted from certain classes and weeks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Part {
    /// Stems wanted.
    pub stems: f64,
    /// Where they may come from, in the order of taking; each class and week at most once.
    pub from: Vec<Draw>,
}

/// The stems of one class in one week.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Draw {
    /// Class.
    pub class: usize,
    /// Week.
    pub week: usize,
    /// The share of the week's stems that is cut at the right time (0 to 1).
    pub share: f64,
}

/// Why a case is invalid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CaseError {
    /// The named field is out of range.
    Case(&'static str),
    /// The named field of the numbered batch is out of range.
    Batch(usize, &'static str),
    /// The numbered part of the numbered demand is out of range.
    Demand(usize, usize),
}

impl core::fmt::Display for CaseError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Case(field) => write!(f, "{field} is out of range"),
            Self::Batch(batch, field) => write!(f, "{field} of batch {batch} is out of range"),
            Self::Demand(demand, part) => {
                write!(f, "part {part} of demand {demand} is out of range")
            }
        }
    }
}

impl core::error::Error for CaseError {}

fn share(value: f64) -> bool {
    (0.0..=1.0).contains(&value)
}

impl Case {
    /// Checks all fields.
    ///
    /// # Errors
    /// The first field that is out of its range.
    pub fn check(&self) -> Result<(), CaseError> {
        let whole = [
            ("seasons", (1..=SEASONS_MAX).contains(&self.seasons)),
            ("weeks", (1..=WEEKS_MAX).contains(&self.weeks)),
            (
                "classes",
                self.classes.saturating_mul(self.weeks) <= SLOTS_MAX,
            ),
            ("weather_shared", share(self.weather_shared)),
            ("yield_shared", share(self.yield_shared)),
        ];
        if let Some((field, _)) = whole.iter().find(|(_, good)| !good) {
            return Err(CaseError::Case(field));
        }
        for (n, batch) in self.batches.iter().enumerate() {
            batch
                .check(self.classes)
                .map_err(|field| CaseError::Batch(n, field))?;
        }
        for (n, demand) in self.demands.iter().enumerate() {
            if let Some(part) = demand.parts.iter().position(|part| !self.is_possible(part)) {
                return Err(CaseError::Demand(n, part));
            }
        }
        Ok(())
    }

    fn is_possible(&self, part: &Part) -> bool {
        let draw =
            |draw: &Draw| draw.class < self.classes && draw.week < self.weeks && share(draw.share);
        (0.0..=STEMS_MAX).contains(&part.stems) && part.from.iter().all(draw)
    }
}

impl Batch {
    fn check(&self, classes: usize) -> Result<(), &'static str> {
        let day = |day: f64| (-DAYS_MAX..=DAYS_MAX).contains(&day);
        let fields = [
            ("class", self.class < classes),
            ("plants", self.plants.are_possible()),
            ("survival", share(self.survival)),
            ("stems", (0.0..=STEMS_MAX).contains(&self.stems)),
            ("variation", (0.0..=3.0).contains(&self.variation)),
            (
                "bloom",
                self.bloom.in_order() && day(self.bloom.p10) && day(self.bloom.p90),
            ),
            (
                "shares",
                self.shares.len() <= WEEKS_MAX && self.shares.iter().all(|s| share(*s)),
            ),
            (
                "spared",
                self.spared.len() <= WEEKS_MAX && self.spared.iter().all(|s| share(*s)),
            ),
        ];
        match fields.iter().find(|(_, good)| !good) {
            Some((field, _)) => Err(field),
            None => Ok(()),
        }
    }
}

impl Plants {
    fn are_possible(self) -> bool {
        match self {
            Self::Known(plants) => {
                plants.in_order() && plants.p50 >= 0.0 && plants.p90 <= f64::from(CELLS_MAX)
            }
            Self::Sown {
                cells,
                seeds,
                alpha,
                beta,
                usable,
                most: _,
            } => {
                let shape = |value: f64| (1e-3..=1e6).contains(&value);
                cells <= CELLS_MAX
                    && (1..=100).contains(&seeds)
                    && shape(alpha)
                    && shape(beta)
                    && share(usable)
            }
        }
    }
}
