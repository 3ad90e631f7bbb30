//! Figures updated by own records, against independent computations and a textbook's table.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::posterior::{
    BetaPrior, LogNormalPrior, Posterior, ShareRecord, ValueRecord, beta, log_normal,
};
use agronomy::quantity::Chance;
use published::{Row, close, table};

/// The records of a row: pairs of numbers joined by `sign`.
fn records_of(row: &Row, sign: char) -> Vec<(f64, f64)> {
    let pair = |text: &str| {
        let (one, other) = text.split_once(sign).unwrap();
        (one.parse().unwrap(), other.parse().unwrap())
    };
    row.text("seen").split(' ').map(pair).collect()
}

fn check(found: Posterior, row: &Row, tolerance: f64) {
    for (value, column) in [
        (found.low, "low"),
        (found.middle, "median"),
        (found.high, "high"),
        (found.weight, "weight"),
    ] {
        if let Some(wanted) = row.maybe(column) {
            close(value, wanted, tolerance, &(column, row));
        }
    }
}

/// Source: equations 2.9 to 2.12 of the textbook (from memory), computed separately.
#[test]
fn updated_yields_agree_with_figures_computed_separately() {
    for row in table("posterior_normal.csv") {
        let prior = LogNormalPrior::new(row.number("middle"), row.number("deviation")).unwrap();
        let records: Vec<ValueRecord> = records_of(&row, 'x')
            .into_iter()
            .map(|(value, weight)| ValueRecord { value, weight })
            .collect();
        check(
            log_normal(prior, row.number("between"), &records).unwrap(),
            &row,
            1e-8,
        );
    }
}

/// Source: named in the table.
#[test]
fn updated_shares_agree_with_figures_computed_separately_and_a_textbook() {
    for row in table("posterior_share.csv") {
        let before = Chance::new(row.number("share")).unwrap();
        let prior = BetaPrior::new(before, row.number("trials")).unwrap();
        let records: Vec<ShareRecord> = records_of(&row, '/')
            .into_iter()
            .map(|(successes, trials)| ShareRecord {
                successes: successes as u32,
                trials: trials as u32,
                weight: 1.0,
            })
            .collect();
        let after = beta(prior, row.number("icc"), &records).unwrap();
        check(after, &row, row.number("tolerance"));
    }
}
