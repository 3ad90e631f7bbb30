use proptest::prelude::*;

use super::*;

fn chance(share: f64) -> Chance {
    Chance::new(share).unwrap()
}

/// A small generator of even numbers between 0 and 1 (Numerical Recipes' linear congruence, from memory).
struct Dice(u64);

impl Dice {
    fn even(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        crate::probit::probit(self.even())
    }
}

/// By the model's own account: 80 of 100 intervals hold what is true, whether a grower has one planting or many.
#[test]
fn eighty_in_a_hundred_intervals_hold_the_true_yield() {
    let mut dice = Dice(7);
    for (plantings, between) in [(1, 0.35), (3, 0.35), (12, 0.2)] {
        let mut held = 0;
        for _ in 0..2000 {
            let truth = (8f64.ln() + 0.5 * dice.normal()).exp();
            let seen: Vec<Seen> = (0..plantings)
                .map(|_| {
                    let weight: f64 = 0.3 + 0.7 * dice.even();
                    let value = truth * (between / weight.sqrt() * dice.normal()).exp();
                    Seen { value, weight }
                })
                .collect();
            let prior = LogPrior::new(8.0, 0.5).unwrap();
            let after = log_normal(prior, between, &seen).unwrap();
            held += u32::from((after.low..=after.high).contains(&truth));
        }
        let share = f64::from(held) / 2000.0;
        assert!((0.77..=0.83).contains(&share), "{plantings}: {share}");
    }
}

/// Plantings whose shares differ as a beta does, with plants of one planting that far alike.
#[test]
fn about_eighty_in_a_hundred_intervals_hold_the_true_share() {
    let mut dice = Dice(11);
    let alike = 0.05;
    let beta = |dice: &mut Dice, a: f64, b: f64| inv_beta_reg(a, b, dice.even());
    for plantings in [1, 4] {
        let mut held = 0;
        for _ in 0..1000 {
            let truth = beta(&mut dice, 14.0, 6.0).clamp(0.01, 0.99);
            let own = 1.0 / alike - 1.0;
            let seen: Vec<Tally> = (0..plantings)
                .map(|_| {
                    let here = beta(&mut dice, truth * own, (1.0 - truth) * own);
                    let did = (0..120).filter(|_| dice.even() < here).count() as u32;
                    Tally {
                        did,
                        of: 120,
                        weight: 1.0,
                    }
                })
                .collect();
            let prior = SharePrior::new(chance(0.7), 20.0).unwrap();
            let after = share(prior, alike, &seen).unwrap();
            held += u32::from((after.low..=after.high).contains(&truth));
        }
        let held = f64::from(held) / 1000.0;
        assert!((0.76..=0.84).contains(&held), "{plantings}: {held}");
    }
}

#[test]
fn without_records_the_range_stands() {
    let prior = LogPrior::from_range(Some(4.0), 8.0, Some(16.0), 0.3).unwrap();
    let after = log_normal(prior, 0.3, &[]).unwrap();
    for (found, wanted) in [(after.low, 4.0), (after.middle, 8.0), (after.high, 16.0)] {
        assert!((found - wanted).abs() < 1e-9, "{after:?}");
    }
    assert_eq!((after.weight, after.plantings), (0.0, 0.0));
    // One end, no end, an end of nothing, and ends that lie on the middle.
    let width = |low, high| LogPrior::from_range(low, 8.0, high, 0.3).unwrap().deviation;
    let octave = 2f64.ln() / Z90;
    assert!((width(Some(4.0), None) - octave).abs() < 1e-12);
    assert!((width(Some(0.0), Some(16.0)) - octave).abs() < 1e-12);
    for unknown in [width(None, None), width(Some(8.0), Some(8.0))] {
        assert!((unknown - 0.3).abs() < 1e-12);
    }
    let prior = SharePrior::from_range(chance(0.6), chance(0.75), chance(0.88)).unwrap();
    let after = share(prior, 0.05, &[]).unwrap();
    assert!(
        (after.low - 0.6).abs() < 0.03 && (after.high - 0.88).abs() < 0.03,
        "{after:?}"
    );
}

#[test]
fn what_cannot_be_is_refused_by_name() {
    let field = |error: AgronomyError| error.field();
    assert_eq!(LogPrior::new(0.0, 0.3).map_err(field), Err("middle"));
    assert_eq!(
        LogPrior::new(1.0, f64::NAN).map_err(field),
        Err("deviation")
    );
    let upside = LogPrior::from_range(Some(9.0), 8.0, None, 0.3);
    assert_eq!(upside.map_err(field), Err("low"));
    let prior = LogPrior::new(8.0, 0.3).unwrap();
    let nothing = [Seen {
        value: 0.0,
        weight: 1.0,
    }];
    assert_eq!(log_normal(prior, 0.3, &nothing).map_err(field), Err("seen"));
    assert_eq!(log_normal(prior, 0.0, &[]).map_err(field), Err("between"));
    let even = SharePrior::new(Chance::EVEN, 20.0).unwrap();
    let more = [Tally {
        did: 3,
        of: 2,
        weight: 1.0,
    }];
    assert_eq!(share(even, 0.1, &more).map_err(field), Err("did"));
    assert_eq!(share(even, -0.1, &[]).map_err(field), Err("alike"));
    let heavy = [Tally {
        did: 1,
        of: 2,
        weight: 2.0,
    }];
    assert_eq!(share(even, 0.1, &heavy).map_err(field), Err("weight"));
}

proptest! {
    #[test]
    fn records_pull_towards_what_was_seen_and_narrow(
        middle in 0.1f64..50.0, deviation in 0.05f64..1.0, value in 0.01f64..100.0, between in 0.05f64..1.0, n in 1usize..20,
    ) {
        let prior = LogPrior::new(middle, deviation).unwrap();
        let before = log_normal(prior, between, &[]).unwrap();
        let after = log_normal(prior, between, &vec![Seen { value, weight: 1.0 }; n]).unwrap();
        let (least, most) = (middle.min(value), middle.max(value));
        prop_assert!(after.middle >= least * (1.0 - 1e-9) && after.middle <= most * (1.0 + 1e-9));
        prop_assert!(after.low < after.middle && after.middle < after.high);
        prop_assert!(after.high / after.low < before.high / before.low);
        prop_assert!(after.weight > 0.0 && after.weight < 1.0);
    }

    #[test]
    fn a_share_stays_one_and_lies_between_prior_and_record(
        prior in 0.02f64..0.98, trials in 2.0f64..200.0, of in 1u32..5000, seen in 0.0f64..=1.0, alike in 0.01f64..1.0,
    ) {
        let did = (f64::from(of) * seen) as u32;
        let before = SharePrior::new(chance(prior), trials).unwrap();
        let after = share(before, alike, &[Tally { did, of, weight: 1.0 }]).unwrap();
        prop_assert!(after.low >= 0.0 && after.high <= 1.0);
        prop_assert!(after.low <= after.middle && after.middle <= after.high);
        prop_assert!(after.plantings <= 1.0 + 1e-9 && after.weight < 1.0);
    }
}
