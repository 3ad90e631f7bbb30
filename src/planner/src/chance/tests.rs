//! The simulation against results that are known without it.

use super::*;

const SEASONS: u32 = 4000;

/// One class, one week, one stem a plant: the stems are the number of plants.
fn batch(plants: Plants) -> Batch {
    Batch {
        class: 0,
        plants,
        survival: 1.0,
        stems: 1.0,
        variation: 0.0,
        bloom: Spread::exact(0.0),
        shares: vec![1.0],
        spared: Vec::new(),
    }
}

fn case(batches: Vec<Batch>, wanted: &[f64]) -> Case {
    let draw = Draw {
        class: 0,
        week: 0,
        share: 1.0,
    };
    // With a share of zero nothing is taken, so every demand sees all stems.
    let demand = |stems: &f64| Demand {
        parts: vec![Part {
            stems: *stems,
            from: vec![draw],
        }],
    };
    Case {
        seed: 11,
        seasons: SEASONS,
        weeks: 1,
        classes: 1,
        weather_shared: 0.5,
        yield_shared: 0.5,
        batches,
        demands: wanted.iter().map(demand).collect(),
    }
}

fn played(case: &Case) -> Outcome {
    let mut run = Run::new(case).unwrap();
    assert!(run.advance(u32::MAX));
    run.outcome().unwrap()
}

/// Probability of fewer stems than `wanted`, in a run of its own.
fn short(case_of: impl Fn(&[f64]) -> Case, wanted: f64) -> Estimate {
    played(&case_of(&[wanted])).demands[0].parts[0].short
}

fn within(found: Estimate, wanted: f64, errors: f64, what: &str) {
    let away = (found.value - wanted).abs();
    assert!(
        away <= errors * found.error,
        "{what}: {found:?}, not {wanted}"
    );
}

/// Pseudo-random numbers for making up cases (Knuth's MMIX linear congruential generator).
struct Random(u64);

impl Random {
    fn unit(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    fn spread(&mut self, low: f64, high: f64, width: f64) -> Spread {
        let p50 = self.between(low, high);
        Spread {
            p10: p50 - self.between(0.0, width),
            p50,
            p90: p50 + self.between(0.0, width),
        }
    }

    fn batch(&mut self, classes: usize) -> Batch {
        let plants = if self.unit() < 0.3 {
            Plants::Known(self.spread(5.0, 120.0, 20.0))
        } else {
            let cells = self.between(10.0, 250.0) as u32;
            Plants::Sown {
                cells,
                seeds: self.between(1.0, 3.9) as u32,
                alpha: self.between(0.8, 60.0),
                beta: self.between(0.8, 20.0),
                usable: self.between(0.8, 1.0),
                most: (f64::from(cells) * self.between(0.5, 1.2)) as u32,
            }
        };
        let weeks = self.between(1.0, 9.9) as usize;
        let end = self.between(8.0, 18.0);
        Batch {
            class: self.between(0.0, classes as f64) as usize,
            plants,
            survival: self.between(0.8, 1.0),
            stems: self.between(0.5, 8.0),
            variation: self.between(0.0, 0.5),
            bloom: self.spread(14.0, 80.0, 15.0),
            shares: vec![1.0 / weeks as f64; weeks],
            spared: (0..18)
                .map(|week| (1.0 - (f64::from(week) - end) / 3.0).clamp(0.0, 1.0))
                .collect(),
        }
    }

    fn case(&mut self, seed: u64, seasons: u32) -> Case {
        let batches: Vec<Batch> = (0..self.between(1.0, 5.9) as usize)
            .map(|_| self.batch(2))
            .collect();
        Case {
            seed,
            seasons,
            weeks: 18,
            classes: 2,
            weather_shared: self.unit(),
            yield_shared: self.unit(),
            batches,
            demands: Vec::new(),
        }
    }
}

/// Share of the figures within a number of standard deviations.
fn share_within(figures: &[f64], deviations: f64) -> f64 {
    let inside = figures.iter().filter(|z| z.abs() < deviations).count();
    inside as f64 / figures.len() as f64
}

/// Over 200 made-up cases the mean is within four standard errors of the expectation, and its deviations have
/// the quantiles of a normal distribution, so the standard error is neither too small nor too large.
#[test]
fn the_mean_is_the_expectation_within_its_standard_error() {
    let mut random = Random(5);
    let mut strays = Vec::new();
    for seed in 0..200 {
        let case = random.case(seed, 1500);
        let exact = expected(&case).unwrap();
        let found = played(&case).supply;
        let best = exact.iter().copied().fold(0.0, f64::max);
        for (found, exact) in found
            .iter()
            .zip(&exact)
            .filter(|(_, exact)| **exact > 0.05 * best)
        {
            // Slots with hardly any stems are skipped: their means are not normally distributed.
            assert!(
                (found.value - exact).abs() <= 5.0 * found.error + 1e-9,
                "{seed}: {found:?} {exact}"
            );
        }
        let (slot, most) = exact
            .iter()
            .enumerate()
            .max_by(|a, b| a.1.total_cmp(b.1))
            .unwrap();
        if *most > 1.0 {
            strays.push((found[slot].value - most) / found[slot].error);
        }
    }
    assert!(strays.len() > 190);
    assert!(strays.iter().all(|z| z.abs() < 4.0), "{strays:?}");
    // Two standard deviations of a share of 200 are at most 0.07.
    for (deviations, share) in [(0.674_49, 0.5), (1.281_55, 0.8), (1.959_96, 0.95)] {
        let found = share_within(&strays, deviations);
        assert!((found - share).abs() < 0.07, "{share}: {found}");
    }
}

/// The yield is log-normal with median 1: its quantiles are exp(z sigma) with sigma^2 = ln(1 + v^2).
#[test]
fn intervals_of_a_log_normal_have_their_nominal_coverage() {
    let grown = |wanted: &[f64]| {
        let mut one = batch(Plants::Known(Spread::exact(100.0)));
        one.variation = 0.35;
        case(vec![one], wanted)
    };
    let sigma = (1.0f64 + 0.35 * 0.35).ln().sqrt();
    let at = |z: f64| short(grown, 100.0 * (z * sigma).exp());
    for (z, tail) in [(0.674_49, 0.25), (1.281_55, 0.1), (1.959_96, 0.025)] {
        within(at(-z), tail, 4.0, "low");
        within(at(z), 1.0 - tail, 4.0, "high");
    }
    let part = played(&grown(&[100.0])).demands[0].parts[0];
    within(
        part.mean,
        100.0 * (1.0f64 + 0.35 * 0.35).sqrt(),
        4.0,
        "mean",
    );
    for (found, z) in [
        (part.stems.p10, -1.281_55),
        (part.stems.p50, 0.0),
        (part.stems.p90, 1.281_55),
    ] {
        assert!(
            (found / (100.0 * (z * sigma).exp()) - 1.0).abs() < 0.03,
            "{found}"
        );
    }
}

/// Numbers of plants against SciPy's beta-binomial (`scipy.stats.betabinom`, 1.17.1): distribution and
/// moments.
#[test]
fn plants_are_beta_binomial() {
    let table = include_str!("../../../../tests/published/data/beta_binomial.csv");
    for line in table
        .lines()
        .filter(|line| line.starts_with(|c: char| c.is_ascii_digit()))
    {
        let row: Vec<f64> = line.split(',').map(|cell| cell.parse().unwrap()).collect();
        let sown = |wanted: &[f64]| {
            let sown = batch(Plants::Sown {
                cells: row[2] as u32,
                seeds: 1,
                alpha: row[0],
                beta: row[1],
                usable: 1.0,
                most: u32::MAX,
            });
            case(vec![sown], wanted)
        };
        within(short(sown, row[3] + 0.5), row[5], 4.0, line);
        let mean = played(&sown(&[])).supply[0];
        within(mean, row[6], 4.0, line);
        let variance = mean.error * mean.error * f64::from(SEASONS);
        assert!((variance / row[7] - 1.0).abs() < 0.12, "{line}: {variance}");
    }
}

/// 80 % of the seasons of one run are between p10 and p90 of another.
#[test]
fn the_intervals_of_one_run_cover_another() {
    let mut random = Random(9);
    for seed in 0..30 {
        let mut made = random.case(seed, SEASONS);
        let exact = expected(&made).unwrap();
        let (slot, _) = exact
            .iter()
            .enumerate()
            .max_by(|a, b| a.1.total_cmp(b.1))
            .unwrap();
        let part = |stems: f64| Part {
            stems,
            from: vec![Draw {
                class: slot / made.weeks,
                week: slot % made.weeks,
                share: 1.0,
            }],
        };
        let asked = |stems: f64| {
            vec![Demand {
                parts: vec![part(stems)],
            }]
        };
        let (first, p10, p90) = (asked(0.0), asked(1.0), asked(1.0));
        made.demands = first;
        let stems = played(&made).demands[0].parts[0].stems;
        made.seed += 1000;
        for (mut demand, wanted, share) in [(p10, stems.p10, 0.1), (p90, stems.p90, 0.9)] {
            if wanted < 1.0 {
                continue;
            }
            demand[0].parts[0].stems = wanted;
            made.demands = demand;
            let found = played(&made).demands[0].parts[0].short;
            // Both runs have errors, and a bin has some width.
            assert!(
                (found.value - share).abs() < 4.0 * 1.5 * found.error + 0.005,
                "{seed}: {found:?} {share}"
            );
        }
    }
}

#[test]
fn bloom_keeps_its_own_spread_however_much_the_weather_is_shared() {
    let bloom = Spread {
        p10: 4.0,
        p50: 14.0,
        p90: 20.0,
    };
    for shared in [0.0, 0.5, 1.0] {
        // Stems of week 1 come only from plants in bloom before day 14, the median: none in half of the
        // seasons.
        let mut one = batch(Plants::Known(Spread::exact(70.0)));
        one.bloom = bloom;
        let mut asked = case(vec![one], &[]);
        asked.weeks = 6;
        asked.weather_shared = shared;
        let wanted = |week: usize, stems: f64| Demand {
            parts: vec![Part {
                stems,
                from: vec![Draw {
                    class: 0,
                    week,
                    share: 1.0,
                }],
            }],
        };
        asked.demands = vec![wanted(1, 1e-6), wanted(0, 30.0)];
        let found = played(&asked).demands;
        // None in week 1: bloom on day 14 or later (or before day 0, in one of 28 seasons).
        let before_0 = 0.5 * libm::erfc(14.0 / 10.0 * 1.281_551_565_5 / 2.0f64.sqrt());
        within(found[0].parts[0].short, 0.5 + before_0, 4.0, "middle");
        // 30 of 70 in week 0: bloom by day 4.
        let early = 0.1 - 0.5 * libm::erfc((14.0 + 4.0) / 10.0 * 1.281_551_565_5 / 2.0f64.sqrt());
        within(found[1].filled, early, 4.0, "early");
    }
}

#[test]
fn shared_variation_increases_the_variance_of_the_sum() {
    let spread_of = |shared: f64| {
        let mut one = batch(Plants::Known(Spread::exact(100.0)));
        one.variation = 0.3;
        let mut grown = case(vec![one; 4], &[]);
        grown.yield_shared = shared;
        played(&grown).supply[0].error.powi(2) * f64::from(SEASONS) / (4.0 * 900.0 * 1.09)
    };
    // The variance of four times one figure is four times that of the sum of four independent ones.
    assert!((spread_of(0.0) - 1.0).abs() < 0.15);
    assert!((spread_of(1.0) - 4.0).abs() < 0.6);
}

#[test]
fn stems_are_allocated_once_and_within_their_share() {
    let mut three = case(
        vec![batch(Plants::Known(Spread::exact(50.0)))],
        &[30.0, 30.0, 0.0],
    );
    three.demands[0].parts[0].from[0].share = 0.5;
    let found = played(&three).demands;
    let part = |n: usize| (found[n].parts[0].stems.p50, found[n].parts[0].missing.value);
    // Half of 50 for the first, the rest for the second, none for the third, which wants none.
    assert_eq!(
        [part(0), part(1), part(2)],
        [(25.0, 5.0), (25.0, 5.0), (0.0, 0.0)]
    );
    assert_eq!((found[0].filled.value, found[2].filled.value), (0.0, 1.0));
}

#[test]
fn the_result_depends_on_the_seed_and_not_on_the_portions() {
    let mut random = Random(3);
    let mut made = random.case(77, 300);
    made.demands = case(Vec::new(), &[10.0, 20.0]).demands;
    let whole = played(&made);
    let mut run = Run::new(&made).unwrap();
    assert_eq!(run.outcome(), None);
    let mut portion = 1;
    while !run.advance(portion) {
        portion = portion * 3 % 50 + 1;
        assert_eq!(run.outcome().unwrap().seasons, run.done());
    }
    assert_eq!(
        (run.outcome(), run.done(), run.seasons()),
        (Some(whole.clone()), 300, 300)
    );
    made.seed += 1;
    assert_ne!(played(&made).supply, whole.supply);
}

#[test]
fn invalid_cases_are_refused_with_the_field() {
    let good = case(vec![batch(Plants::Known(Spread::exact(1.0)))], &[1.0]);
    let refused = |spoil: &dyn Fn(&mut Case)| {
        let mut bad = good.clone();
        spoil(&mut bad);
        let error = Run::new(&bad).map(|_| ()).unwrap_err();
        assert_eq!(expected(&bad).unwrap_err(), error);
        error
    };
    assert_eq!(
        refused(&|case| case.seasons = 0),
        CaseError::Case("seasons")
    );
    assert_eq!(refused(&|case| case.weeks = 0), CaseError::Case("weeks"));
    assert_eq!(
        refused(&|case| case.weather_shared = f64::NAN),
        CaseError::Case("weather_shared")
    );
    assert_eq!(
        refused(&|case| case.batches[0].class = 1),
        CaseError::Batch(0, "class")
    );
    assert_eq!(
        refused(&|case| case.batches[0].survival = 1.1),
        CaseError::Batch(0, "survival")
    );
    assert_eq!(
        refused(&|case| case.batches[0].bloom.p90 = -1.0),
        CaseError::Batch(0, "bloom")
    );
    assert_eq!(
        refused(&|case| case.batches[0].shares = vec![f64::NAN]),
        CaseError::Batch(0, "shares")
    );
    assert_eq!(
        refused(&|case| case.demands[0].parts[0].from[0].week = 1),
        CaseError::Demand(0, 0)
    );
    assert_eq!(
        refused(&|case| case.demands[0].parts[0].stems = f64::INFINITY),
        CaseError::Demand(0, 0)
    );
    assert_eq!(
        CaseError::Batch(2, "bloom").to_string(),
        "bloom of batch 2 is out of range"
    );
}
