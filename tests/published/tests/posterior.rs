//! Figures after own records, against figures worked apart and a textbook's table.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::posterior::{LogPrior, Posterior, Seen, SharePrior, Tally, log_normal, share};
use agronomy::quantity::Chance;
use published::{Row, close, table};

/// The records of a row: two numbers each, with a sign between.
fn records(row: &Row, sign: char) -> Vec<(f64, f64)> {
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

/// Source: equations 2.9 to 2.12 of the textbook (from memory), worked apart.
#[test]
fn yields_after_records_agree_with_figures_worked_apart() {
    for row in table("posterior_normal.csv") {
        let prior = LogPrior::new(row.number("middle"), row.number("deviation")).unwrap();
        let seen: Vec<Seen> = records(&row, 'x')
            .into_iter()
            .map(|(value, weight)| Seen { value, weight })
            .collect();
        check(
            log_normal(prior, row.number("between"), &seen).unwrap(),
            &row,
            1e-8,
        );
    }
}

/// Source: named in the table's column.
#[test]
fn shares_after_records_agree_with_figures_worked_apart_and_a_textbook() {
    for row in table("posterior_share.csv") {
        let before = Chance::new(row.number("share")).unwrap();
        let prior = SharePrior::new(before, row.number("trials")).unwrap();
        let seen: Vec<Tally> = records(&row, '/')
            .into_iter()
            .map(|(did, of)| Tally {
                did: did as u32,
                of: of as u32,
                weight: 1.0,
            })
            .collect();
        let after = share(prior, row.number("alike"), &seen).unwrap();
        check(after, &row, row.number("tolerance"));
    }
}
