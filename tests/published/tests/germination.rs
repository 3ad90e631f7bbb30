//! Germination indices and replicate tolerances against published tables.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::emergence::Count;
use agronomy::emergence::indices::{Middle, Record};
use agronomy::emergence::replicates::{
    Replicates, chance_of_one_share, largest_difference_of_tests, largest_range,
};
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

/// Source: J. Aravind, S. Vimala Devi, J. Radhamani, S. R. Jacob & K.
/// Srinivasan, The germinationmetrics package: a brief introduction, version
/// 0.1.10, table 2 and its examples; as many digits as printed.
#[test]
fn indices_are_those_printed_for_ten_samples() {
    for row in table("germination_indices.csv") {
        let told = record(&row);
        for (column, got, tolerance) in [
            ("GermPercent", told.final_share().get() * 100.0, 5e-6),
            ("PeakGermPercent", told.peak_share().get() * 100.0, 5e-6),
            ("FirstGermTime", told.first_day().unwrap(), 0.0),
            ("LastGermTime", told.last_day().unwrap(), 0.0),
            ("TimeSpreadGerm", told.time_spread().unwrap(), 0.0),
            ("MeanGermTime", told.mean_time().unwrap(), 5e-7),
            ("VarGermTime", told.variance().unwrap(), 5e-7),
            ("SEGermTime", told.mean_time_error().unwrap(), 5e-8),
            ("CVGermTime", told.variation().unwrap(), 5e-8),
            ("MeanGermRate", told.mean_rate().unwrap(), 5e-8),
            ("CVG", told.mean_rate().unwrap() * 100.0, 5e-6),
            ("GermSpeed_Count", told.speed().unwrap(), 5e-7),
            (
                "GermSpeedCorrected_Normal",
                told.corrected_speed().unwrap(),
                5e-8,
            ),
            ("CUGerm", told.uniformity().unwrap(), 5e-8),
            ("GermSynchrony", told.synchrony().unwrap(), 5e-8),
            ("GermUncertainty", told.uncertainty().unwrap(), 5e-7),
        ] {
            close(got, row.number(column), tolerance, &(column, &row));
        }
    }
}

/// Source: the same. Four times an inspection meets the middle number exactly;
/// the package draws its line across that inspection (6.3333, 6.2258), we take
/// its day, which is what the formula says.
#[test]
fn half_days_are_those_printed_but_for_exact_ties() {
    let mut ties = 0;
    for row in table("germination_indices.csv") {
        for (column, middle) in [
            ("t50_Coolbear", Middle::Coolbear),
            ("t50_Farooq", Middle::Farooq),
        ] {
            let got = record(&row).half_day(middle).unwrap();
            if got.fract() == 0.0 {
                ties += 1;
                close(got, row.number(column), 0.34, &(column, &row));
            } else {
                close(got, row.number(column), 5e-7, &(column, &row));
            }
        }
    }
    assert_eq!(ties, 4);
}

/// Source: 7 CFR 201.55 (US Federal Seed Act regulations); averages of four
/// below 70 from the International Rules for Seed Testing, table 5B, from
/// memory.
#[test]
fn ranges_between_replicates_are_those_of_the_table() {
    for row in table("replicate_tolerances.csv") {
        let at = |column, replicates| largest_range(row.number(column), replicates).unwrap();
        for column in ["average", "average_below"] {
            let wanted = Some(row.count("four_ista_memory"));
            assert_eq!(at(column, Replicates::Four), wanted, "{row:?}");
            if !row.text("four_cfr").is_empty() {
                assert_eq!(Some(row.count("four_cfr")), wanted, "{row:?}");
            }
            if !row.text("two_cfr").is_empty() {
                let wanted = Some(row.count("two_cfr"));
                assert_eq!(at(column, Replicates::Two), wanted, "{row:?}");
            }
        }
    }
}

/// Source: Louisiana Administrative Code 7:XIII.139.
#[test]
fn differences_between_two_tests_are_those_of_the_table() {
    for row in table("two_test_tolerances.csv") {
        for column in ["from", "to", "lower_from", "lower_to"] {
            let got = largest_difference_of_tests(row.number(column)).unwrap();
            assert_eq!(got, Some(row.count("difference")), "{column} {row:?}");
        }
    }
}

/// Source: scipy 1.17.1, scipy.stats.chi2_contingency without continuity
/// correction, computed for these trays.
#[test]
fn unlike_trays_are_as_unlikely_as_an_independent_library_says() {
    for (trays, chance) in [
        (vec![(60, 72), (55, 72), (40, 72)], 5.963737166743e-04),
        (vec![(100, 128), (110, 128)], 1.035431531581e-01),
        (
            vec![(40, 50), (41, 50), (39, 50), (44, 50)],
            5.940533789799e-01,
        ),
    ] {
        close(
            chance_of_one_share(&trays).unwrap().get(),
            chance,
            1e-9,
            &trays,
        );
    }
}
