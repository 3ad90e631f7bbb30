use proptest::prelude::*;

use super::*;

fn chance(share: f64) -> Chance {
    Chance::new(share).unwrap()
}

/// A small generator of uniform numbers between 0 and 1 (Knuth's MMIX linear congruential generator, from
/// memory).
struct Random(u64);

impl Random {
    fn uniform(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        crate::normal::probit(self.uniform())
    }
}

/// By the model's own account: 80 % of intervals contain the truth, for one planting as for many.
#[test]
fn eighty_percent_of_intervals_contain_the_true_yield() {
    let mut random = Random(7);
    for (plantings, between) in [(1, 0.35), (3, 0.35), (12, 0.2)] {
        let mut inside = 0;
        for _ in 0..2000 {
            let truth = (8f64.ln() + 0.5 * random.normal()).exp();
            let records: Vec<ValueRecord> = (0..plantings)
                .map(|_| {
                    let weight: f64 = 0.3 + 0.7 * random.uniform();
                    let value = truth * (between / weight.sqrt() * random.normal()).exp();
                    ValueRecord { value, weight }
                })
                .collect();
            let prior = LogNormalPrior::new(8.0, 0.5).unwrap();
            let after = log_normal(prior, between, &records).unwrap();
            inside += u32::from((after.low..=after.high).contains(&truth));
        }
        let share = f64::from(inside) / 2000.0;
        assert!((0.77..=0.83).contains(&share), "{plantings}: {share}");
    }
}

/// Plantings whose shares have a beta distribution, with the given correlation of plants within a planting.
#[test]
fn about_eighty_percent_of_intervals_contain_the_true_share() {
    let mut random = Random(11);
    let icc = 0.05;
    let draw = |random: &mut Random, a: f64, b: f64| inv_beta_reg(a, b, random.uniform());
    for plantings in [1, 4] {
        let mut inside = 0;
        for _ in 0..1000 {
            let truth = draw(&mut random, 14.0, 6.0).clamp(0.01, 0.99);
            let own = 1.0 / icc - 1.0;
            let records: Vec<ShareRecord> = (0..plantings)
                .map(|_| {
                    let here = draw(&mut random, truth * own, (1.0 - truth) * own);
                    let successes = (0..120).filter(|_| random.uniform() < here).count() as u32;
                    ShareRecord {
                        successes,
                        trials: 120,
                        weight: 1.0,
                    }
                })
                .collect();
            let prior = BetaPrior::new(chance(0.7), 20.0).unwrap();
            let after = beta(prior, icc, &records).unwrap();
            inside += u32::from((after.low..=after.high).contains(&truth));
        }
        let inside = f64::from(inside) / 1000.0;
        assert!((0.76..=0.84).contains(&inside), "{plantings}: {inside}");
    }
}

#[test]
fn without_records_the_result_is_the_prior_range() {
    let prior = LogNormalPrior::from_range(Some(4.0), 8.0, Some(16.0), 0.3).unwrap();
    let after = log_normal(prior, 0.3, &[]).unwrap();
    for (found, wanted) in [(after.low, 4.0), (after.middle, 8.0), (after.high, 16.0)] {
        assert!((found - wanted).abs() < 1e-9, "{after:?}");
    }
    assert_eq!((after.weight, after.plantings), (0.0, 0.0));
    // One end, no end, an end of zero, and ends equal to the middle.
    let width = |low, high| {
        LogNormalPrior::from_range(low, 8.0, high, 0.3)
            .unwrap()
            .deviation
    };
    let octave = 2f64.ln() / Z90;
    assert!((width(Some(4.0), None) - octave).abs() < 1e-12);
    assert!((width(Some(0.0), Some(16.0)) - octave).abs() < 1e-12);
    for unknown in [width(None, None), width(Some(8.0), Some(8.0))] {
        assert!((unknown - 0.3).abs() < 1e-12);
    }
    let prior = BetaPrior::from_range(chance(0.6), chance(0.75), chance(0.88)).unwrap();
    let after = beta(prior, 0.05, &[]).unwrap();
    assert!(
        (after.low - 0.6).abs() < 0.03 && (after.high - 0.88).abs() < 0.03,
        "{after:?}"
    );
}

#[test]
fn invalid_arguments_are_refused_by_name() {
    let field = |error: AgronomyError| error.field();
    assert_eq!(LogNormalPrior::new(0.0, 0.3).map_err(field), Err("middle"));
    assert_eq!(
        LogNormalPrior::new(1.0, f64::NAN).map_err(field),
        Err("deviation")
    );
    let upside = LogNormalPrior::from_range(Some(9.0), 8.0, None, 0.3);
    assert_eq!(upside.map_err(field), Err("low"));
    let prior = LogNormalPrior::new(8.0, 0.3).unwrap();
    let nothing = [ValueRecord {
        value: 0.0,
        weight: 1.0,
    }];
    assert_eq!(
        log_normal(prior, 0.3, &nothing).map_err(field),
        Err("records")
    );
    assert_eq!(log_normal(prior, 0.0, &[]).map_err(field), Err("between"));
    let uniform = BetaPrior::new(Chance::EVEN, 20.0).unwrap();
    let more = [ShareRecord {
        successes: 3,
        trials: 2,
        weight: 1.0,
    }];
    assert_eq!(beta(uniform, 0.1, &more).map_err(field), Err("successes"));
    assert_eq!(beta(uniform, -0.1, &[]).map_err(field), Err("icc"));
    let heavy = [ShareRecord {
        successes: 1,
        trials: 2,
        weight: 2.0,
    }];
    assert_eq!(beta(uniform, 0.1, &heavy).map_err(field), Err("weight"));
}

proptest! {
    #[test]
    fn records_pull_the_figure_towards_them_and_narrow_its_range(
        middle in 0.1f64..50.0, deviation in 0.05f64..1.0, value in 0.01f64..100.0, between in 0.05f64..1.0, n in 1usize..20,
    ) {
        let prior = LogNormalPrior::new(middle, deviation).unwrap();
        let before = log_normal(prior, between, &[]).unwrap();
        let after = log_normal(prior, between, &vec![ValueRecord { value, weight: 1.0 }; n]).unwrap();
        let (least, most) = (middle.min(value), middle.max(value));
        prop_assert!(after.middle >= least * (1.0 - 1e-9) && after.middle <= most * (1.0 + 1e-9));
        prop_assert!(after.low < after.middle && after.middle < after.high);
        prop_assert!(after.high / after.low < before.high / before.low);
        prop_assert!(after.weight > 0.0 && after.weight < 1.0);
    }

    #[test]
    fn a_share_stays_a_share_and_records_count_at_most_as_one_planting(
        prior in 0.02f64..0.98, trials in 2.0f64..200.0, of in 1u32..5000, records in 0.0f64..=1.0, icc in 0.01f64..1.0,
    ) {
        let successes = (f64::from(of) * records) as u32;
        let before = BetaPrior::new(chance(prior), trials).unwrap();
        let after = beta(before, icc, &[ShareRecord { successes, trials: of, weight: 1.0 }]).unwrap();
        prop_assert!(after.low >= 0.0 && after.high <= 1.0);
        prop_assert!(after.low <= after.middle && after.middle <= after.high);
        prop_assert!(after.plantings <= 1.0 + 1e-9 && after.weight < 1.0);
    }
}
