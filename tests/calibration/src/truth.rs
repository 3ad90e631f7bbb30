//! The truth of a tray: which of its seeds emerge, and when.
//!
//! - Lots: a beta distribution whose p10, p50 and p90 are as near as possible to the reference's low, typical
//!   and high germination.
//! - Pace: the day of half emergence differs between sowings by 20 % (a standard deviation). A thermostat
//!   that is off by 2.5 °C moves a crop of 20 °C with a base of 5 °C by 17 %; fast and slow lots add to that.
//!   Emergence of calendula varied by 14 % where the temperature was taken into account, and by 39 % in plain
//!   days (Joly et al. 2013, *Ind. Crops Prod.* 42:133): a heated bench lies between, near the lower end.
//! - Steepness: about the one that has the reference's first and most-up day at 5 and 95 %, differing between
//!   sowings by 30 %. Ten samples of one trial differed by 8 % (the published fits of Aravind et al., *The
//!   germinationmetrics package*); between benches it is more. From memory of practice.

use agronomy::emergence::EmergenceFigures;
use culture::Crop;
use rand::{RngExt, SeedableRng};
use rand_distr::{Beta, Distribution, StandardNormal};
use rand_xoshiro::Xoshiro256PlusPlus;
use statrs::distribution::{Beta as Quantiles, ContinuousCDF, Normal};

/// How the truth is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drawn {
    /// Standard deviation of the log of the pace.
    pub pace: f64,
    /// Standard deviation of the log of the steepness.
    pub steepness: f64,
    /// The curve in time.
    pub curve: Curve,
}

/// A time-to-emergence curve.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Curve {
    /// Log-logistic, as in the model.
    LogLogistic,
    /// Log-normal, different from the model: shorter tails.
    LogNormal,
}

impl Drawn {
    /// As in the reference.
    pub const USUAL: Self = Self {
        pace: 0.20,
        steepness: 0.30,
        curve: Curve::LogLogistic,
    };

    /// Another curve, and half days varying half as much again as assumed.
    pub const OFF: Self = Self {
        pace: 0.30,
        steepness: 0.30,
        curve: Curve::LogNormal,
    };
}

/// One seed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seed {
    /// Day after sowing on which it emerges if mat and dome stay; `None` if it never does.
    pub day: Option<f64>,
    /// Its random number while unemerged without mat or dome, 0 to 1: it survives if its chance of survival
    /// is above this.
    pub luck_waiting: f64,
    /// Its random number as a seedling that stays too long under the dome or on the mat.
    pub luck_standing: f64,
}

/// The distributions from which lots and sowings of a crop are drawn.
#[derive(Debug, Clone, Copy)]
pub struct Truth {
    lots: Beta<f64>,
    half_day: f64,
    steepness: f64,
    drawn: Drawn,
}

impl Truth {
    /// For a crop.
    ///
    /// # Panics
    /// If the reference lacks its emergence.
    pub fn of(crop: &Crop, drawn: Drawn) -> Self {
        let usual = crop.emergence_usual().expect("it comes up from seed");
        let (alpha, beta) = lots(&usual);
        // From 5 to 95 % the odds grow by a factor of 19 x 19.
        let steepness = 2.0 * 19f64.ln() / (usual.most_day / usual.first_day).ln();
        Self {
            lots: Beta::new(alpha, beta).expect("both are positive"),
            half_day: usual.half_day,
            steepness,
            drawn,
        }
    }

    /// A tray's seeds.
    pub fn tray(&self, crop: u64, number: u32, cells: u32) -> Vec<Seed> {
        let mut rng = Xoshiro256PlusPlus::seed_from_u64(crop * 1_000_000 + u64::from(number));
        let share: f64 = self.lots.sample(&mut rng);
        let mut factor = |deviation: f64| {
            let away: f64 = StandardNormal.sample(&mut rng);
            (away * deviation).exp()
        };
        let half_day = self.half_day * factor(self.drawn.pace);
        let steepness = self.steepness * factor(self.drawn.steepness);
        (0..cells)
            .map(|_| {
                let comes = rng.random::<f64>() < share;
                let at = rng.random::<f64>().clamp(1e-12, 1.0 - 1e-12);
                let odds_log = match self.drawn.curve {
                    Curve::LogLogistic => (at / (1.0 - at)).ln(),
                    // At 5 and 95 % the two curves agree.
                    Curve::LogNormal => {
                        let normal = Normal::standard();
                        normal.inverse_cdf(at) * 19f64.ln() / normal.inverse_cdf(0.95)
                    }
                };
                Seed {
                    day: comes.then(|| half_day * (odds_log / steepness).exp()),
                    luck_waiting: rng.random(),
                    luck_standing: rng.random(),
                }
            })
            .collect()
    }
}

/// Number of emerged seeds by a day if mat and dome stay.
pub fn up_by(seeds: &[Seed], day: f64) -> u32 {
    let up = seeds
        .iter()
        .filter(|seed| seed.day.is_some_and(|up| up <= day));
    up.count() as u32
}

/// The beta distribution whose p10, p50 and p90 are nearest to the low, typical and high germination, by a
/// search with halving steps over the mean and the log of the weight.
fn lots(usual: &EmergenceFigures) -> (f64, f64) {
    let wanted = [
        (0.1, usual.germination_low),
        (0.5, usual.germination),
        (0.9, usual.germination_high),
    ];
    let shapes = |(mean, weight): (f64, f64)| (mean * weight.exp(), (1.0 - mean) * weight.exp());
    let miss = |at: (f64, f64)| {
        let (alpha, beta) = shapes(at);
        let lots = Quantiles::new(alpha, beta).expect("both are positive");
        wanted
            .iter()
            .map(|(share, germination)| (lots.inverse_cdf(*share) - germination).powi(2))
            .sum::<f64>()
    };
    let mut best = (usual.germination, 20f64.ln());
    let mut least = miss(best);
    let mut step = (0.05, 0.5);
    while step.1 > 1e-4 {
        let around = [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)].map(|(mean, weight)| {
            let mean: f64 = best.0 + mean * step.0;
            (mean.clamp(0.01, 0.99), best.1 + weight * step.1)
        });
        let found = around
            .into_iter()
            .map(|at| (miss(at), at))
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .filter(|(missed, _)| *missed < least);
        match found {
            Some((missed, at)) => (least, best) = (missed, at),
            None => step = (step.0 / 2.0, step.1 / 2.0),
        }
    }
    shapes(best)
}

#[cfg(test)]
mod tests {
    use super::*;
    use culture::Reference;

    /// Many seeds of one crop reproduce the distributions they were drawn from.
    #[test]
    fn draws_reproduce_the_reference() {
        let reference = Reference::builtin().expect("reference");
        let crop = reference.crop("antirrhinum").expect("crop");
        let usual = crop.emergence_usual().expect("usual");
        let truth = Truth::of(crop, Drawn::USUAL);
        let trays: Vec<Vec<Seed>> = (0..2000).map(|n| truth.tray(0, n, 400)).collect();
        let mut shares: Vec<f64> = trays
            .iter()
            .map(|tray| f64::from(up_by(tray, f64::INFINITY)) / 400.0)
            .collect();
        shares.sort_by(f64::total_cmp);
        for (at, wanted) in [
            (200, usual.germination_low),
            (1000, usual.germination),
            (1800, usual.germination_high),
        ] {
            let found: f64 = shares[at];
            assert!((found - wanted).abs() < 0.03, "{found} for {wanted}");
        }
        let mut days: Vec<f64> = trays.iter().flatten().filter_map(|seed| seed.day).collect();
        days.sort_by(f64::total_cmp);
        let half = days[days.len() / 2];
        assert!((half / usual.half_day - 1.0).abs() < 0.03, "{half}");
        assert_eq!(
            trays[7],
            truth.tray(0, 7, 400),
            "the same number, the same tray"
        );
    }
}
