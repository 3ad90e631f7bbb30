//! Chance from a seed: the same seed always gives the same run.

/// SplitMix64 (Steele, Lea & Flood 2014; constants from memory): small, and enough to scatter a demo's figures.
#[derive(Debug, Clone)]
pub struct Chance(u64);

impl Chance {
    /// From a seed.
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// 64 bits.
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Evenly between 0 and 1.
    pub fn share(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Evenly between two numbers.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// A whole number from `low` to `high`, both included.
    pub fn whole(&mut self, low: i64, high: i64) -> i64 {
        low + (self.share() * (high - low + 1) as f64) as i64
    }

    /// Near nothing, with a standard deviation of one: twelve even draws summed.
    pub fn scatter(&mut self) -> f64 {
        (0..12).map(|_| self.share()).sum::<f64>() - 6.0
    }

    /// How many of `n` happen, each with chance `p`.
    pub fn of(&mut self, n: u32, p: f64) -> u32 {
        (0..n).map(|_| u32::from(self.share() < p)).sum()
    }
}
