//! What a seed draws.

use rand::{RngExt, SeedableRng};
use rand_distr::{Distribution, StandardNormal};
use rand_xoshiro::Xoshiro256PlusPlus;

/// A run of draws that a seed fixes.
pub struct Draw(Xoshiro256PlusPlus);

impl Draw {
    /// The draws of a seed.
    pub fn new(seed: u64) -> Self {
        Self(Xoshiro256PlusPlus::seed_from_u64(seed))
    }

    /// A number from 0 to 1.
    pub fn share(&mut self) -> f64 {
        self.0.random()
    }

    /// A number between two.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// Whether something of such a chance happens.
    pub fn happens(&mut self, chance: f64) -> bool {
        self.share() < chance
    }

    /// A number around 0, with a standard deviation of 1.
    pub fn normal(&mut self) -> f64 {
        StandardNormal.sample(&mut self.0)
    }

    /// One of several.
    pub fn one_of<T: Copy>(&mut self, all: &[T]) -> T {
        let at = (self.share() * all.len() as f64) as usize;
        all[at.min(all.len() - 1)]
    }
}
