//! Random numbers from a seed.

use rand::{RngExt, SeedableRng};
use rand_distr::{Distribution, StandardNormal};
use rand_xoshiro::Xoshiro256PlusPlus;

/// A random number generator with a fixed seed.
pub struct Draw(Xoshiro256PlusPlus);

impl Draw {
    /// The generator of a seed.
    pub fn new(seed: u64) -> Self {
        Self(Xoshiro256PlusPlus::seed_from_u64(seed))
    }

    /// A number from 0 to 1.
    pub fn share(&mut self) -> f64 {
        self.0.random()
    }

    /// A number between two bounds.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// Whether an event of the given probability happens.
    pub fn happens(&mut self, chance: f64) -> bool {
        self.share() < chance
    }

    /// A normal number with mean 0 and standard deviation 1.
    pub fn normal(&mut self) -> f64 {
        StandardNormal.sample(&mut self.0)
    }

    /// One of several.
    pub fn one_of<T: Copy>(&mut self, all: &[T]) -> T {
        let at = (self.share() * all.len() as f64) as usize;
        all[at.min(all.len() - 1)]
    }
}
