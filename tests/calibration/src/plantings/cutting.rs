//! Yield of simulated plantings, how they are cut, and its forecast.
//!
//! Stems per plant, the marketable share and the days of a flush are drawn from the crop's ranges, the
//! interval of flushes within 15 % of the usual one. Stems open at the rate of a rise, a plateau and a tail;
//! the bed is cut every two to four days, and between half and all of the open stems are taken, the rest the
//! next time (from memory of practice). Two growers in three record their culls. The climate is so mild that
//! frost ends none of the plantings.

use chrono::NaiveDate;
use culture::{Crop, Reference};
use rand::{RngExt, SeedableRng};
use rand_xoshiro::Xoshiro256PlusPlus;
use season::fact::CutFact;
use season::forecast::BedForecast;

use super::bed::{Bed, PLANTS};
use super::{Draw, Held, later, normal, share_of_typical};
use crate::TRAYS;

/// The minimum share of the open stems that is cut.
const LEAST_TAKEN: f64 = 0.5;

/// Intervals of all marketable stems by the time of the forecast.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Stems {
    /// At planting.
    pub planted: Held,
    /// When a third of them has been cut.
    pub third: Held,
    /// When two thirds have been cut.
    pub two_thirds: Held,
}

impl Stems {
    /// The sum with others.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        Self {
            planted: self.planted.plus(other.planted),
            third: self.third.plus(other.third),
            two_thirds: self.two_thirds.plus(other.two_thirds),
        }
    }
}

/// The intervals over all plantings of a crop, for one of the draws ([`super::Draw`]).
///
/// # Panics
/// If the reference lacks one of its figures.
pub fn of_crop(reference: &Reference, number: u64, crop: &Crop, draw: Draw) -> Stems {
    let mut found = Stems::default();
    for planting in 0..TRAYS {
        let seed = draw.seed(88_000_000) + number * 1_000_000 + u64::from(planting);
        let mut rng = Xoshiro256PlusPlus::seed_from_u64(seed);
        one(reference, crop, &mut rng, &mut found);
    }
    found
}

/// How much a few days' weather speeds up or delays a flush: a standard deviation of the logarithm. From
/// memory of practice: it opens a sixth faster in a hot spell.
const SPELLS: f64 = 0.16;

/// A cut: the day after planting, marketable stems, culls.
type Cut = (NaiveDate, u32, u32);

fn one(reference: &Reference, crop: &Crop, rng: &mut Xoshiro256PlusPlus, found: &mut Stems) {
    let planted = NaiveDate::from_ymd_opt(2027, 3, 1).expect("a date");
    let planted = later(planted, rng.random_range(0..30));
    let notes_culls = rng.random::<f64>() < 2.0 / 3.0;
    let cuts = drawn_cuts(crop, planted, rng);
    let truth: u32 = cuts.iter().map(|(_, stems, _)| stems).sum();
    let mut bed = Bed::new(reference, crop, planted);
    let add = |held: &mut Held, forecast: &BedForecast| {
        let total = forecast.total;
        let width = (total.p90 - total.p10) / total.p50.max(1.0);
        held.add(
            total.p10.round(),
            total.p90.round(),
            f64::from(truth),
            width,
        );
    };
    add(&mut found.planted, &bed.asked(planted));
    let mut cut = 0;
    let mut asked = [(1, &mut found.third), (2, &mut found.two_thirds)].into_iter();
    let mut next = asked.next();
    for (date, stems, culls) in cuts {
        bed.record(CutFact {
            culls: if notes_culls { culls } else { 0 },
            ..CutFact::new(bed.planting.clone(), stems, date)
        });
        cut += stems;
        if let Some((thirds, held)) = next.take_if(|(thirds, _)| 3 * cut >= *thirds * truth) {
            // Nothing to forecast for a flush that is cut completely at once.
            if cut < truth {
                add(held, &bed.asked(date));
            }
            next = asked.next().filter(|_| thirds == 1);
        }
    }
}

fn drawn_cuts(crop: &Crop, planted: NaiveDate, rng: &mut Xoshiro256PlusPlus) -> Vec<Cut> {
    let mut figure = |name: &str| {
        let range = crop.figure(name).expect("the reference has it");
        range.typical * share_of_typical(range, rng)
    };
    let size = f64::from(PLANTS) * figure("stems_per_plant_season");
    let sells = figure("marketable_field").min(0.98);
    let window = figure("harvest_window_days");
    let flushes = crop.typical("flushes").unwrap_or(1.0);
    let interval =
        crop.typical("flush_interval_days").unwrap_or(window) * (0.15 * normal(rng)).exp();
    // Open stems by a day after bloom: each later flush has six tenths of the one before.
    let open = |day: f64| {
        let (mut sum, mut whole, mut size, mut left, mut start) = (0.0, 0.0, 1.0, flushes, 0.0);
        while left > 1e-9 {
            let part: f64 = size * f64::min(left, 1.0);
            sum += part * opened((day - start) / window);
            whole += part;
            left -= 1.0;
            size *= 0.6;
            start += interval;
        }
        sum / whole
    };
    let end = 1.2 * window + interval * (flushes.ceil() - 1.0);
    let bloom = later(planted, 100);
    let mut cuts = Vec::new();
    let (mut day, mut gone) = (rng.random_range(0..3), 0.0);
    // Days as counted by the flush: a warm spell between two cuts opens more than the same number of average
    // days.
    let mut counted = day as f64;
    loop {
        let last = counted > end;
        let taken = if last {
            1.0
        } else {
            rng.random_range(LEAST_TAKEN..1.0)
        };
        let stems = ((size * open(counted) - gone) * taken).round();
        if stems >= 1.0 {
            // The stems of a cut are partly correlated in whether they sell: the share varies by a tenth from
            // cut to cut.
            let share = (sells * (1.0 + 0.1 * normal(rng))).clamp(0.0, 1.0);
            let sold = (stems * share).round();
            cuts.push((later(bloom, day), sold as u32, (stems - sold) as u32));
            gone += stems;
        }
        if last {
            return cuts;
        }
        let gap = rng.random_range(2..=4);
        day += gap;
        counted += gap as f64 * (SPELLS * normal(rng)).exp();
    }
}

/// Share of a flush that is open by a fraction of its window: a rise to 0.15, a plateau to 0.7, a tail to
/// 1.2, summed in small steps.
fn opened(part: f64) -> f64 {
    const STEPS: i32 = 240;
    let rate = |at: f64| match at {
        at if at < 0.15 => at / 0.15,
        at if at < 0.7 => 1.0,
        at => ((1.2 - at) / 0.5).max(0.0),
    };
    let to = part.clamp(0.0, 1.2);
    let step = to / f64::from(STEPS);
    let sum: f64 = (0..STEPS)
        .map(|n| rate((f64::from(n) + 0.5) * step) * step)
        .sum();
    // The total is 0.075 + 0.55 + 0.25.
    sum / 0.875
}
