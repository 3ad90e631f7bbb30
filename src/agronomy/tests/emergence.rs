//! The emergence outlook for counts a grower could take.

#![allow(
    clippy::unwrap_used,
    clippy::float_cmp,
    reason = "a check that cannot be set up must stop, and some results are exact"
)]

use agronomy::emergence::{Count, EmergenceFigures, Outlook, outlook};
use proptest::prelude::*;

/// A slow crop with tiny, pelleted seed: first up on day 8, half on day 12.
const SLOW: EmergenceFigures = EmergenceFigures {
    first_day: 8.0,
    half_day: 12.0,
    most_day: 21.0,
    germination: 0.82,
    germination_low: 0.70,
    germination_high: 0.92,
    weight_seeds: 20.0,
};

/// A quick, even crop.
const QUICK: EmergenceFigures = EmergenceFigures {
    first_day: 3.0,
    half_day: 5.0,
    most_day: 7.0,
    germination: 0.88,
    germination_low: 0.80,
    germination_high: 0.94,
    weight_seeds: 20.0,
};

fn counts(seen: &[(f64, u32, u32)]) -> Vec<Count> {
    seen.iter()
        .map(|(day, up, of)| Count {
            day: *day,
            up: *up,
            of: *of,
        })
        .collect()
}

fn look(usual: &EmergenceFigures, sown: u32, seen: &[(f64, u32, u32)]) -> Outlook {
    outlook(usual, sown, &counts(seen)).unwrap()
}

#[test]
fn without_a_count_the_outlook_is_the_usual_one() {
    let before = look(&SLOW, 60, &[]);
    assert_eq!(before.up_now, 0);
    assert!((before.final_up.p50 / 60.0 - 0.82).abs() < 0.04);
    assert!((before.half_day.p50 - 12.0).abs() < 0.3);
    assert!(before.final_up.p10 < 44.0 && before.final_up.p90 > 53.0);
    assert!((before.still_to_come(0.0) - 0.82 * 60.0).abs() < 2.0);
}

#[test]
fn the_more_are_up_the_fewer_are_still_to_come() {
    let forty_five = look(&SLOW, 60, &[(10.0, 45, 60)]);
    let fifty_six = look(&SLOW, 60, &[(10.0, 56, 60)]);
    // Three quarters up two days before the usual half day: a fast sowing.
    assert!(forty_five.half_day.p50 < 10.0);
    assert!(forty_five.final_up.p50 > 46.0 && forty_five.final_up.p50 < 57.0);
    assert!(fifty_six.final_up.p50 >= 56.0);
    assert!(fifty_six.still_to_come(10.0) < forty_five.still_to_come(10.0));
    assert!(forty_five.still_to_come(10.0) > 2.0);
}

#[test]
fn repeated_equal_counts_end_the_expectation_of_more() {
    let early = look(&SLOW, 60, &[(10.0, 30, 60)]);
    let still = look(
        &SLOW,
        60,
        &[
            (10.0, 30, 60),
            (13.0, 34, 60),
            (17.0, 34, 60),
            (21.0, 34, 60),
        ],
    );
    assert!(still.still_to_come(21.0) < 1.0);
    assert!(still.final_up.p90 <= 36.0);
    assert!(early.final_up.p50 > still.final_up.p50 + 5.0);
}

#[test]
fn nothing_up_long_after_the_usual_days_means_a_failed_tray() {
    let failed = look(&QUICK, 72, &[(6.0, 0, 72), (14.0, 0, 72)]);
    assert!(failed.final_up.p90 < 8.0, "{:?}", failed.final_up);
    let early = look(&QUICK, 72, &[(2.0, 0, 72)]);
    assert!(early.final_up.p50 > 55.0, "{:?}", early.final_up);
}

#[test]
fn nothing_is_to_come_once_all_are_up() {
    let done = look(&QUICK, 72, &[(6.0, 72, 72)]);
    assert_eq!(done.up_now, 72);
    assert!((done.final_up.p10 - 72.0).abs() < 1e-9);
    assert!(done.still_to_come(6.0).abs() < 1e-9);
    assert!((done.quiet_day(6.0, 3.0, 0.03) - 6.0).abs() < 1e-9);
}

#[test]
fn neither_the_order_of_counts_nor_a_falling_count_changes_the_outlook() {
    let rising = look(&SLOW, 60, &[(9.0, 20, 60), (12.0, 40, 60)]);
    let shuffled = look(&SLOW, 60, &[(12.0, 40, 60), (9.0, 20, 60)]);
    assert_eq!(rising, shuffled);
    let fallen = look(&SLOW, 60, &[(9.0, 20, 60), (12.0, 40, 60), (15.0, 33, 60)]);
    let level = look(&SLOW, 60, &[(9.0, 20, 60), (12.0, 40, 60), (15.0, 40, 60)]);
    assert_eq!(fallen, level);
}

#[test]
fn lost_cells_and_samples_keep_the_share() {
    // A row of ten was lost after the count.
    let lost = look(&SLOW, 50, &[(12.0, 42, 60)]);
    assert_eq!(lost.up_now, 35);
    assert!(lost.final_up.p90 <= 50.0);
    // Thirty of three hundred were inspected: only those are known to be up.
    let sample = look(&QUICK, 300, &[(12.0, 24, 30)]);
    assert_eq!(sample.up_now, 24);
    assert!(sample.final_up.p50 > 235.0 && sample.final_up.p50 < 280.0);
    let all = look(&QUICK, 300, &[(12.0, 240, 300)]);
    let width = |outlook: &Outlook| outlook.final_up.p90 - outlook.final_up.p10;
    assert!(width(&sample) > 2.0 * width(&all));
}

#[test]
fn a_slow_sowing_is_recognised() {
    let usual = look(&QUICK, 72, &[(5.0, 32, 72)]);
    let slow = look(&QUICK, 72, &[(5.0, 2, 72), (7.0, 10, 72)]);
    assert!(slow.half_day.p50 > usual.half_day.p50 + 2.0);
    assert!(
        slow.final_up.p50 > 40.0,
        "late does not mean dead: {:?}",
        slow.final_up
    );
}

#[test]
fn the_quiet_day_comes_after_the_rush_and_later_for_slow_crops() {
    let slow = look(&SLOW, 60, &[(10.0, 24, 60)]);
    let day = slow.quiet_day(10.0, 3.0, 0.03);
    assert!(day > 12.0 && day < 26.0, "{day}");
    assert!(slow.newly_between(day, day + 3.0) < 0.03 * 60.0);
    assert!(slow.newly_between(day - 1.0, day + 2.0) >= 0.03 * 60.0);
    let quick = look(&QUICK, 60, &[(5.0, 24, 60)]);
    assert!(quick.quiet_day(5.0, 3.0, 0.03) < day);
    // On the day of sowing, when nothing is up yet, the answer is not "now".
    assert!(look(&SLOW, 60, &[]).quiet_day(0.0, 3.0, 0.03) > 12.0);
}

#[test]
fn expected_emergence_adds_up_over_time() {
    let outlook = look(&SLOW, 60, &[(11.0, 20, 60)]);
    let parts = outlook.newly_between(11.0, 14.0) + outlook.newly_between(14.0, 30.0);
    assert!((parts - outlook.newly_between(11.0, 30.0)).abs() < 1e-9);
    // Days before the count contribute nothing.
    assert!(outlook.newly_between(0.0, 11.0).abs() < 1e-12);
    assert!(outlook.newly_between(14.0, 12.0).abs() < 1e-12);
    assert!(outlook.newly_between(f64::NAN, 12.0).abs() < 1e-12);
}

#[test]
fn invalid_counts_and_figures_are_refused() {
    let bad = [
        (5.0, 61, 60),
        (5.0, 0, 0),
        (-1.0, 3, 60),
        (f64::NAN, 3, 60),
        (5000.0, 3, 60),
    ];
    for seen in bad {
        assert!(outlook(&SLOW, 60, &counts(&[seen])).is_err(), "{seen:?}");
    }
    let late_first = EmergenceFigures {
        first_day: 13.0,
        ..SLOW
    };
    assert!(outlook(&late_first, 60, &[]).is_err());
    let no_range = EmergenceFigures {
        germination_low: 0.82,
        germination_high: 0.82,
        ..SLOW
    };
    assert!(outlook(&no_range, 60, &[]).is_ok());
    assert!(outlook(&SLOW, u32::MAX, &[]).is_err());
    assert_eq!(look(&SLOW, 0, &[]).final_up.p90, 0.0);
}

/// A small pseudo-random generator (Lehmer 1951, multiplier 48271), so that the simulation below is the same
/// on every machine.
struct Random(u64);

impl Random {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        self.0 as f64 / 2_147_483_647.0
    }

    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.uniform()).sum::<f64>() - 6.0
    }
}

/// Sowings drawn from the usual figures: the interval from p10 to p90 must contain the true final stand of
/// about 80 % of them, and the median must be unbiased.
#[test]
fn the_interval_has_its_nominal_coverage_over_many_sowings() {
    let mut random = Random(20_270_402);
    let (sowings, cells) = (400, 60);
    let mut inside = 0;
    let mut error = 0.0;
    for _ in 0..sowings {
        let share = (0.82 + 0.086 * random.normal()).clamp(0.05, 0.99);
        let half = 12.0 * (0.22 * random.normal()).exp();
        let shape = 6.27 * (0.30 * random.normal()).exp();
        let days: Vec<f64> = (0..cells)
            .map(|_| {
                let comes = random.uniform() < share;
                let at = random.uniform();
                if comes {
                    half * (at / (1.0 - at)).powf(1.0 / shape)
                } else {
                    f64::INFINITY
                }
            })
            .collect();
        let up_by = |day: f64| days.iter().filter(|at| **at <= day).count() as u32;
        let seen = [(10.0, up_by(10.0), cells), (13.0, up_by(13.0), cells)];
        let found = look(&SLOW, cells, &seen);
        let truth = f64::from(up_by(f64::MAX));
        inside += u32::from((found.final_up.p10..=found.final_up.p90).contains(&truth));
        error += found.final_up.p50 - truth;
    }
    let share = f64::from(inside) / f64::from(sowings);
    assert!((0.76..=0.86).contains(&share), "{share}");
    assert!((error / f64::from(sowings)).abs() < 1.0, "{error}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn the_final_stand_is_between_seen_and_sown(
        sown in 0u32..400,
        first in 1.0f64..10.0,
        spread in (1.0f64..3.0, 1.0f64..3.0),
        seen in proptest::collection::vec((0.0f64..60.0, 0.0f64..=1.0, 1u32..400), 0..5),
    ) {
        let usual = EmergenceFigures {
            first_day: first,
            half_day: first * spread.0,
            most_day: first * spread.0 * spread.1,
            ..SLOW
        };
        let seen: Vec<(f64, u32, u32)> = seen
            .into_iter()
            .map(|(day, share, of)| (day, (share * f64::from(of)) as u32, of))
            .collect();
        let found = outlook(&usual, sown, &counts(&seen)).unwrap();
        let up = f64::from(found.up_now);
        prop_assert!(up <= found.final_up.p10);
        prop_assert!(found.final_up.p10 <= found.final_up.p50);
        prop_assert!(found.final_up.p50 <= found.final_up.p90);
        prop_assert!(found.final_up.p90 <= f64::from(sown));
        prop_assert!(found.half_day.p10 <= found.half_day.p90 && found.half_day.p10 > 0.0);
        let more = found.still_to_come(0.0);
        prop_assert!(more >= 0.0 && up + more <= f64::from(sown) + 1e-6);
        let day = found.quiet_day(3.0, 3.0, 0.03);
        prop_assert!(day.is_finite() && day >= 3.0);
    }
}
