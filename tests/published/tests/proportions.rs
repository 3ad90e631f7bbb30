//! Intervals for a proportion, against an independent statistics library and a paper.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::proportion::{Interval, clopper_pearson, wilson};
use agronomy::quantity::Chance;
use published::{Row, close, table};

fn check(found: Interval, row: &Row, columns: [&str; 2], tolerance: f64) {
    for (bound, column) in [found.low, found.high].into_iter().zip(columns) {
        if let Some(published) = row.maybe(column) {
            close(bound.get(), published, tolerance, row);
        }
    }
}

fn both(row: &Row) -> (Interval, Interval) {
    let (x, n) = (row.count("x"), row.count("n"));
    let confidence = Chance::new(row.number("confidence")).unwrap();
    (
        wilson(x, n, confidence).unwrap(),
        clopper_pearson(x, n, confidence).unwrap(),
    )
}

/// Source: statsmodels 0.15.0, proportion_confint, to 1e-9.
#[test]
fn both_intervals_agree_with_an_independent_library() {
    for row in table("proportion_intervals.csv") {
        let (score, exact) = both(&row);
        check(score, &row, ["wilson_lo", "wilson_hi"], 1e-9);
        let columns = ["clopper_pearson_lo", "clopper_pearson_hi"];
        check(exact, &row, columns, 1e-9);
    }
}

/// Source: R. G. Newcombe 1998, Statistics in Medicine 17:857-872, Table I,
/// methods 3 and 5, printed to 4 decimals (method 5 from memory).
#[test]
fn both_intervals_agree_with_newcombes_table() {
    let rows = table("proportion_intervals.csv");
    let printed = |row: &&Row| row.maybe("newcombe1998_wilson_lo").is_some();
    assert_eq!(rows.iter().filter(printed).count(), 3);
    for row in rows.iter().filter(printed) {
        let (score, exact) = both(row);
        let columns = ["newcombe1998_wilson_lo", "newcombe1998_wilson_hi"];
        check(score, row, columns, 5e-5);
        check(
            exact,
            row,
            ["newcombe1998_cp_lo", "newcombe1998_cp_hi"],
            5e-5,
        );
    }
}

/// By definition, and without a residue of rounding.
#[test]
fn none_and_all_reach_exactly_to_the_ends() {
    for trials in [1, 2, 7, 20, 29, 400, 1_000_000] {
        for confidence in [0.5, 0.8, 0.95, 0.999] {
            let confidence = Chance::new(confidence).unwrap();
            for interval in [wilson, clopper_pearson] {
                let none = interval(0, trials, confidence).unwrap();
                assert_eq!(none.low, Chance::NEVER);
                assert!(none.high < Chance::CERTAIN);
                let all = interval(trials, trials, confidence).unwrap();
                assert_eq!(all.high, Chance::CERTAIN);
                assert!(all.low > Chance::NEVER);
            }
        }
    }
}
