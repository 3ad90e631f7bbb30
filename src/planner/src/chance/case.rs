//! What grows and what is wanted: the question put to chance.
//!
//! Days count from a day zero that is the first day of week 0; weeks count from it.

use serde::{Deserialize, Serialize};

use super::spread::Spread;

/// The most weeks, classes times weeks, seasons, cells and stems that a case may ask for.
const WEEKS_MAX: usize = 520;
const SLOTS_MAX: usize = 1_000_000;
const SEASONS_MAX: u32 = 10_000_000;
const CELLS_MAX: u32 = 1_000_000;
const STEMS_MAX: f64 = 1e9;
const DAYS_MAX: f64 = 1e5;

/// A season to be played by chance.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Case {
    /// The seed: the same seed gives the same seasons.
    pub seed: u64,
    /// How many seasons to play.
    pub seasons: u32,
    /// Weeks that are looked at, from week 0.
    pub weeks: usize,
    /// Classes of stems: batches of one class are alike to every demand.
    pub classes: usize,
    /// Share (0 to 1) of the variance of bloom days that a year's weather has in common for all batches.
    pub weather_shared: f64,
    /// Share (0 to 1) of the variance of the yield's logarithm that a year has in common for all batches.
    pub yield_shared: f64,
    /// What grows.
    pub batches: Vec<Batch>,
    /// What is wanted, in the order of serving: stems that one demand took are gone for the next.
    pub demands: Vec<Demand>,
}

/// Plants of one kind and one date.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Batch {
    /// Class of its stems.
    pub class: usize,
    /// Plants that are set.
    pub plants: Plants,
    /// Share (0 to 1) of the plants set that live to bloom.
    pub survival: f64,
    /// Saleable stems that a plant gives in a middling year.
    pub stems: f64,
    /// Coefficient of variation of the yield between years (0 to 3).
    pub variation: f64,
    /// Day of the first bloom.
    pub bloom: Spread,
    /// Shares of the stems by week from the first bloom on.
    pub shares: Vec<f64>,
    /// Share of years in which frost has not ended the batch, by week from week 0; the last value holds on. Empty: no frost does.
    pub spared: Vec<f64>,
}

/// How many plants are set.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Plants {
    /// Counted, or forecast with an interval; never below 0.
    Known(Spread),
    /// As many as come up.
    Sown {
        /// Cells sown.
        cells: u32,
        /// Seeds in each; one plant is kept.
        seeds: u32,
        /// Germination rate, beta: both parameters above 0.
        alpha: f64,
        /// The other of them.
        beta: f64,
        /// Share (0 to 1) of the seedlings that are good enough to set.
        usable: f64,
        /// No more than so many are set.
        most: u32,
    },
}

/// What somebody wants: a target or an order.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Demand {
    /// A target's weeks, or an order's lines.
    pub parts: Vec<Part>,
}

/// So many stems out of certain classes and weeks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Part {
    /// Stems wanted.
    pub stems: f64,
    /// Where they may come from, in the order of taking; each class and week at most once.
    pub from: Vec<Draw>,
}

/// A class's stems of a week that would do.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Draw {
    /// Which class.
    pub class: usize,
    /// Which week.
    pub week: usize,
    /// The share of the week's stems that is cut at the right time (0 to 1).
    pub share: f64,
}

/// What can't be in a case.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CaseError {
    /// A field of the case.
    Case(&'static str),
    /// A field of a batch.
    Batch(usize, &'static str),
    /// A part of a demand.
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
    /// Checks every figure.
    ///
    /// # Errors
    /// [`CaseError`] with the first thing that is out of range.
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
