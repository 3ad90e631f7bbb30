//! Simulating the seasons.

use rand::SeedableRng;
use rand_xoshiro::Xoshiro256PlusPlus;

use super::case::{Case, CaseError, Part};
use super::grow::{PreparedBatch, Shared, Year};
use super::histogram::{Histogram, Moments};
use super::outcome::{DemandOutcome, Estimate, Outcome};

/// Stems by which a demand may be short through rounding.
const TOLERANCE: f64 = 1e-9;

/// A simulation in progress, which can be advanced in portions.
#[derive(Debug, Clone)]
pub struct Run {
    seed: u64,
    seasons: u32,
    done: u32,
    weeks: usize,
    shared: Shared,
    batches: Vec<PreparedBatch>,
    demands: Vec<DemandState>,
    /// One stream of random numbers a season, 2^128 apart, so that a season depends only on its number.
    stream: Xoshiro256PlusPlus,
    made: Vec<f64>,
    left: Vec<f64>,
    supply: Vec<Moments>,
}

#[derive(Debug, Clone)]
struct DemandState {
    parts: Vec<PartState>,
    filled: u32,
}

#[derive(Debug, Clone)]
struct PartState {
    stems: f64,
    /// Indices of the supply, with the share that may be taken.
    from: Vec<(u32, f64)>,
    histogram: Histogram,
}

impl Run {
    /// Prepares a case.
    ///
    /// # Errors
    /// [`CaseError`] for a case that [`Case::check`] refuses.
    pub fn new(case: &Case) -> Result<Self, CaseError> {
        case.check()?;
        let weights = |shared: f64| (shared.sqrt(), (1.0 - shared).sqrt());
        let slots = case.classes * case.weeks;
        let batches = case
            .batches
            .iter()
            .enumerate()
            .map(|(n, batch)| PreparedBatch::new(batch).ok_or(CaseError::Batch(n, "plants")))
            .collect::<Result<_, _>>()?;
        let served = |part: &Part| PartState {
            stems: part.stems,
            from: part
                .from
                .iter()
                .map(|draw| ((draw.class * case.weeks + draw.week) as u32, draw.share))
                .collect(),
            histogram: Histogram::new(),
        };
        Ok(Self {
            seed: case.seed,
            seasons: case.seasons,
            done: 0,
            weeks: case.weeks,
            shared: Shared {
                weather: weights(case.weather_shared),
                yields: weights(case.yield_shared),
            },
            batches,
            demands: case
                .demands
                .iter()
                .map(|demand| DemandState {
                    parts: demand.parts.iter().map(served).collect(),
                    filled: 0,
                })
                .collect(),
            stream: Xoshiro256PlusPlus::seed_from_u64(case.seed),
            made: vec![0.0; slots],
            left: vec![0.0; slots],
            supply: vec![Moments::default(); slots],
        })
    }

    /// Seasons simulated so far.
    pub fn done(&self) -> u32 {
        self.done
    }

    /// Seasons requested.
    pub fn seasons(&self) -> u32 {
        self.seasons
    }

    /// Simulates up to `n` more seasons and returns whether all are done. The result does not depend on the
    /// portions.
    pub fn advance(&mut self, n: u32) -> bool {
        for _ in 0..n.min(self.seasons - self.done) {
            self.play();
        }
        self.done == self.seasons
    }

    /// The result so far; `None` before the first season.
    pub fn outcome(&self) -> Option<Outcome> {
        let n = f64::from(self.done);
        (self.done > 0).then(|| Outcome {
            seed: self.seed,
            seasons: self.done,
            supply: self.supply.iter().map(|sums| sums.estimate(n)).collect(),
            demands: self
                .demands
                .iter()
                .map(|demand| DemandOutcome {
                    filled: Estimate::chance(demand.filled, n),
                    parts: demand
                        .parts
                        .iter()
                        .map(|part| part.histogram.outcome(n))
                        .collect(),
                })
                .collect(),
        })
    }

    fn play(&mut self) {
        let mut rng = self.stream.clone();
        self.stream.jump();
        let year = Year::draw(&mut rng);
        self.made.fill(0.0);
        for batch in &self.batches {
            let from = batch.class() * self.weeks;
            if let Some(row) = self.made.get_mut(from..from + self.weeks) {
                batch.grow(&mut rng, &year, &self.shared, row);
            }
        }
        for (sums, stems) in self.supply.iter_mut().zip(&self.made) {
            sums.add(*stems);
        }
        self.left.copy_from_slice(&self.made);
        for demand in &mut self.demands {
            let mut filled = true;
            for part in &mut demand.parts {
                filled &= part.serve(&self.made, &mut self.left);
            }
            demand.filled += u32::from(filled);
        }
        self.done += 1;
    }
}

impl PartState {
    /// Allocates the stems wanted from those left, and returns whether there were enough.
    fn serve(&mut self, made: &[f64], left: &mut [f64]) -> bool {
        let (mut there, mut open) = (0.0, self.stems);
        for (slot, share) in &self.from {
            let slot = *slot as usize;
            let (Some(made), Some(left)) = (made.get(slot), left.get_mut(slot)) else {
                continue;
            };
            let found = least(made * share, *left);
            let taken = least(found, open);
            there += found;
            open -= taken;
            *left -= taken;
        }
        let missing = if open > TOLERANCE { open } else { 0.0 };
        self.histogram.add(there, missing);
        missing <= 0.0
    }
}

/// The smaller of two numbers that are not NaN; [`f64::min`], which handles NaN, is a function call on some
/// machines.
fn least(a: f64, b: f64) -> f64 {
    if a < b { a } else { b }
}
