//! Confidence intervals for a proportion, against an independent statistics library and a paper.
#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::proportion::{Interval, wilson};
use agronomy::quantity::Chance;
use published::{Row, close, table};

fn check(row: &Row, columns: [&str; 2], tolerance: f64) {
    let confidence = Chance::new(row.number("confidence")).unwrap();
    let Interval { low, high } = wilson(row.count("x"), row.count("n"), confidence).unwrap();
    for (bound, column) in [low, high].into_iter().zip(columns) {
        if let Some(published) = row.maybe(column) {
            close(bound.get(), published, tolerance, row);
        }
    }
}

/// Source: statsmodels 0.15.0, proportion_confint, to 1e-9.
#[test]
fn the_score_interval_agrees_with_an_independent_library() {
    for row in table("proportion_intervals.csv") {
        check(&row, ["wilson_lo", "wilson_hi"], 1e-9);
    }
}

/// Source: R. G. Newcombe 1998, Statistics in Medicine 17:857-872, Table I, method 3, printed to 4 decimals.
#[test]
fn the_score_interval_agrees_with_newcombes_table() {
    let rows = table("proportion_intervals.csv");
    let printed = |row: &&Row| row.maybe("newcombe1998_wilson_lo").is_some();
    assert_eq!(rows.iter().filter(printed).count(), 3);
    for row in rows.iter().filter(printed) {
        let columns = ["newcombe1998_wilson_lo", "newcombe1998_wilson_hi"];
        check(row, columns, 5e-5);
    }
}

/// By definition, without a rounding residue.
#[test]
fn none_and_all_reach_exactly_zero_and_one() {
    for trials in [1, 2, 7, 20, 29, 400, 1_000_000] {
        for confidence in [0.5, 0.8, 0.95, 0.999] {
            let confidence = Chance::new(confidence).unwrap();
            let none = wilson(0, trials, confidence).unwrap();
            assert_eq!(none.low, Chance::NEVER);
            assert!(none.high < Chance::CERTAIN);
            let all = wilson(trials, trials, confidence).unwrap();
            assert_eq!(all.high, Chance::CERTAIN);
            assert!(all.low > Chance::NEVER);
        }
    }
}
