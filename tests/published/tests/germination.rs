//! Germination indices against a published table.
#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::emergence::Count;
use agronomy::emergence::indices::Record;
use published::{Row, close, table};

fn record(row: &Row) -> Record {
    let mut up = 0;
    let counts: Vec<Count> = (1..=14)
        .map(|day| {
            up += row.count(&format!("Day{day:02}"));
            Count {
                day: f64::from(day),
                up,
                of: row.count("total"),
            }
        })
        .collect();
    Record::new(&counts).unwrap()
}

/// Source: J. Aravind, S. Vimala Devi, J. Radhamani, S. R. Jacob & K. Srinivasan, The germinationmetrics
/// package: a brief introduction, version 0.1.10, table 2 and its examples; to as many digits as printed.
#[test]
fn indices_are_those_printed_for_ten_samples() {
    for row in table("germination_indices.csv") {
        let found = record(&row);
        for (column, got, tolerance) in [
            ("FirstGermTime", found.first_day().unwrap(), 0.0),
            ("LastGermTime", found.last_day().unwrap(), 0.0),
            ("MeanGermTime", found.mean_time().unwrap(), 5e-7),
            ("GermSpeed_Count", found.speed().unwrap(), 5e-7),
            ("GermSynchrony", found.synchrony().unwrap(), 5e-8),
            ("GermUncertainty", found.uncertainty().unwrap(), 5e-7),
        ] {
            close(got, row.number(column), tolerance, &(column, &row));
        }
    }
}

/// Source: the same. In some samples an inspection meets the middle number exactly; the package interpolates
/// across that inspection (6.3333), we take its day, as the formula says.
#[test]
fn half_days_are_those_printed_except_for_exact_ties() {
    let mut ties = 0;
    for row in table("germination_indices.csv") {
        let got = record(&row).half_day().unwrap();
        if got.fract() == 0.0 {
            ties += 1;
            close(got, row.number("t50_Coolbear"), 0.34, &row);
        } else {
            close(got, row.number("t50_Coolbear"), 5e-7, &row);
        }
    }
    assert!((1..4).contains(&ties), "{ties}");
}
