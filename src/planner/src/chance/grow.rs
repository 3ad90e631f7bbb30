//! One batch in one simulated year: plants, bloom, yield and frost.

use rand::RngExt;
use rand::distr::StandardUniform;
use rand_distr::{Beta, Binomial, Distribution, StandardNormal};
use rand_xoshiro::Xoshiro256PlusPlus;

use super::case::{Batch, Plants};
use super::spread::Spread;
use super::weeks::share_out;

/// Weights of the variation shared by all batches and of a batch's own; their squares add up to 1.
#[derive(Debug, Clone, Copy)]
pub(super) struct Shared {
    pub weather: (f64, f64),
    pub yields: (f64, f64),
}

/// The variation shared by all batches in a year: standard normals of weather and yield, and a uniform number
/// for frost.
pub(super) struct Year {
    pub weather: f64,
    pub yields: f64,
    pub frost: f64,
}

impl Year {
    pub fn draw(rng: &mut Xoshiro256PlusPlus) -> Self {
        Self {
            weather: StandardNormal.sample(rng),
            yields: StandardNormal.sample(rng),
            frost: rng.sample(StandardUniform),
        }
    }
}

/// A batch prepared for sampling.
#[derive(Debug, Clone)]
pub(super) struct PreparedBatch {
    batch: Batch,
    /// Standard deviation of the log yield.
    sigma: f64,
    set: Set,
    losses: Losses,
}

/// Losses after planting, prepared for sampling.
#[derive(Debug, Clone, Copy)]
struct Losses {
    share: f64,
    ln_survival: f64,
    odds: f64,
}

#[derive(Debug, Clone, Copy)]
enum Set {
    Known(Spread),
    Sown {
        cells: u32,
        seeds: i32,
        rate: Beta<f64>,
        usable: f64,
        most: u32,
    },
}

impl PreparedBatch {
    pub fn new(batch: &Batch) -> Option<Self> {
        let set = match batch.plants {
            Plants::Known(plants) => Set::Known(plants),
            Plants::Sown {
                cells,
                seeds,
                alpha,
                beta,
                usable,
                most,
            } => Set::Sown {
                cells,
                seeds: i32::try_from(seeds).ok()?,
                rate: Beta::new(alpha, beta).ok()?,
                usable,
                most,
            },
        };
        Some(Self {
            batch: batch.clone(),
            sigma: libm::sqrt(libm::log1p(batch.variation * batch.variation)),
            set,
            losses: Losses::new(batch.survival),
        })
    }

    pub fn class(&self) -> usize {
        self.batch.class
    }

    /// Simulates the batch in one year and adds its stems to the weeks of its class.
    pub fn grow(
        &self,
        rng: &mut Xoshiro256PlusPlus,
        year: &Year,
        shared: &Shared,
        made: &mut [f64],
    ) {
        let batch = &self.batch;
        let set = self.set.draw(rng);
        let living = set - self.losses.draw(rng, set);
        let mut normal = |common: f64, (together, alone): (f64, f64)| {
            let own: f64 = StandardNormal.sample(rng);
            together * common + alone * own
        };
        let day = batch.bloom.at(normal(year.weather, shared.weather));
        let yields = libm::exp(self.sigma * normal(year.yields, shared.yields));
        let stems = f64::from(living) * batch.stems * yields;
        // One number decides the frost of the year for all batches, so that they end in the same years.
        let spared = |week: usize| {
            if year.frost < batch.spared_in(week) {
                1.0
            } else {
                0.0
            }
        };
        share_out(made, &batch.shares, spared, day, stems);
    }
}

impl Set {
    /// Plants set out in one year.
    fn draw(&self, rng: &mut Xoshiro256PlusPlus) -> u32 {
        match self {
            Self::Known(plants) => {
                let own: f64 = StandardNormal.sample(rng);
                let even: f64 = rng.sample(StandardUniform);
                // Rounded up or down at random, so that the mean is preserved.
                libm::floor(plants.at(own).max(0.0) + even) as u32
            }
            Self::Sown {
                cells,
                seeds,
                rate,
                usable,
                most,
            } => {
                let fails = 1.0 - rate.sample(rng);
                let occupied = 1.0 - fails.powi(*seeds);
                binomial(rng, *cells, occupied * usable).min(*most)
            }
        }
    }
}

impl Losses {
    /// Below this expected number, losses are sampled by inversion.
    const FEW: f64 = 20.0;

    fn new(survival: f64) -> Self {
        Self {
            share: 1.0 - survival,
            ln_survival: libm::log(survival),
            odds: (1.0 - survival) / survival,
        }
    }

    /// Samples the losses among `n` plants: binomial, by inversion if they are few, which takes half the
    /// time.
    fn draw(&self, rng: &mut Xoshiro256PlusPlus, n: u32) -> u32 {
        let all = f64::from(n);
        if self.share <= 0.0 || n == 0 {
            return 0;
        }
        if self.share * all >= Self::FEW || self.share >= 0.5 {
            return binomial(rng, n, self.share);
        }
        let mut left: f64 = rng.sample(StandardUniform);
        let mut chance = libm::exp(all * self.ln_survival);
        let mut lost = 0.0;
        while left >= chance && lost < all {
            left -= chance;
            chance *= (all - lost) / (lost + 1.0) * self.odds;
            lost += 1.0;
        }
        lost as u32
    }
}

/// Samples a binomial number of successes in `n` trials of probability `p`.
fn binomial(rng: &mut Xoshiro256PlusPlus, n: u32, p: f64) -> u32 {
    if p >= 1.0 {
        return n;
    }
    Binomial::new(u64::from(n), p.max(0.0)).map_or(0, |living| living.sample(rng) as u32)
}
