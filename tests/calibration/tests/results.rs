//! The bench's forecasts and verdicts over 2,000 simulated trays of 10 crops.

#![allow(
    clippy::expect_used,
    clippy::panic,
    reason = "a check that cannot be set up must stop"
)]

use std::sync::LazyLock;

use calibration_checks::bench::BENCHES;
use calibration_checks::intervals::{self, Intervals};
use calibration_checks::policies::{self, Outcomes};
use calibration_checks::table::{self, ByCrop};
use calibration_checks::truth::Drawn;
use calibration_checks::{CROPS, TRAYS, over_crops};
use culture::Reference;

static REFERENCE: LazyLock<Reference> =
    LazyLock::new(|| Reference::builtin().expect("the reference reads"));

static USUAL: LazyLock<ByCrop<Intervals>> = LazyLock::new(|| intervals_of(Drawn::USUAL));
static OFF: LazyLock<ByCrop<Intervals>> = LazyLock::new(|| intervals_of(Drawn::OFF));
/// By bench.
static POLICIES: LazyLock<Vec<ByCrop<Outcomes>>> = LazyLock::new(|| {
    let by_crop = over_crops(&REFERENCE, |number, crop| {
        policies::of_crop(&REFERENCE, number, crop, &BENCHES)
    });
    let of_bench = |bench: usize| {
        by_crop
            .iter()
            .map(move |(name, of)| (name.clone(), of[bench]))
    };
    (0..BENCHES.len())
        .map(|bench| of_bench(bench).collect())
        .collect()
});

fn intervals_of(drawn: Drawn) -> ByCrop<Intervals> {
    over_crops(&REFERENCE, |number, crop| {
        intervals::of_crop(&REFERENCE, number, crop, drawn)
    })
}

/// The 80 % interval covers 76 to 84 %. By chance alone 2,000 trays would give 80 with a standard error of
/// 0.9, and 200 of one crop with one of 2.8.
#[test]
fn the_interval_has_its_nominal_coverage_at_half_up() {
    let middle = table::all_intervals(&USUAL).middle;
    assert_eq!(middle.trays, TRAYS * CROPS.len() as u32);
    let held = middle.per_100();
    assert!((76.0..=84.0).contains(&held), "{held}");
    for (crop, found) in USUAL.iter() {
        let held = found.middle.per_100();
        assert!((72.0..=88.0).contains(&held), "{crop}: {held}");
    }
    // Unbiased on average: half a cell of 66 is a third of the uncertainty after one count.
    let error = middle.mean(middle.error);
    assert!(error.abs() < 1.0, "{error}");
}

/// Another curve, and half days varying half as much again as assumed, hence a lower bound.
#[test]
fn coverage_is_robust_to_a_wrong_curve_and_more_variable_benches() {
    let all = table::all_intervals(&OFF);
    for held in [all.first, all.middle, all.quiet].map(|held| held.per_100()) {
        assert!((72.0..=90.0).contains(&held), "{held}");
    }
}

/// "Following the verdict loses fewer plants or mat-days than always waiting 14 days and stopping at day 7", on every bench.
#[test]
fn following_the_verdict_beats_both_rules_of_thumb() {
    for (bench, found) in BENCHES.iter().zip(POLICIES.iter()) {
        let [verdict, long, short] = table::all_outcomes(found);
        let name = bench.name;
        for other in [long, short] {
            assert!(verdict.lost < other.lost, "{name}: plants lost");
            assert!(verdict.cost_each() < other.cost_each(), "{name}: cost");
        }
        assert!(verdict.mat_days < long.mat_days, "{name}: mat-days");
    }
}

/// On the likely bench the verdict is for no crop worse than a rule of thumb in both plants and mat-days,
/// except for less than one plant in a hundred cells: for a crop that emerges completely in a week, day 7 is
/// as good a rule as any.
#[test]
fn the_verdict_is_worse_for_no_crop() {
    let likely = POLICIES.first().expect("benches");
    for (crop, [verdict, long, short]) in likely {
        for other in [long, short] {
            let fewer_plants = verdict.lost_each() < other.lost_each() + 0.66;
            let fewer_mat_days = verdict.mat_days < other.mat_days;
            assert!(
                fewer_plants || fewer_mat_days,
                "{crop}: {verdict:?} {other:?}"
            );
        }
    }
}

/// The committed tables; `WRITE_RESULTS=1` writes them.
#[test]
fn the_committed_tables_are_current() {
    let mut tables = table::preface();
    tables += &table::about_intervals();
    tables += &table::of_intervals("As in the reference", &USUAL);
    tables += &table::of_intervals(
        "Log-normal in time, and half days with 1.5 times the spread",
        &OFF,
    );
    tables += &table::about_outcomes();
    for (bench, found) in BENCHES.iter().zip(POLICIES.iter()) {
        let title = bench.name;
        let title = title[..1].to_uppercase() + &title[1..];
        tables += &table::of_outcomes(&title, found);
    }
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/RESULTS.md");
    if std::env::var_os("WRITE_RESULTS").is_some() {
        std::fs::write(path, &tables).expect("written");
    }
    let committed = std::fs::read_to_string(path).unwrap_or_default();
    assert!(
        committed == tables,
        "set WRITE_RESULTS=1 to write the new tables:\n{tables}"
    );
}
