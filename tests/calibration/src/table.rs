//! The results as tables in Markdown.

use std::fmt::Write as _;

use crate::TRAYS;
use crate::intervals::{Held, Intervals};
use crate::policies::{MAT_DAY_PLANTS, Outcomes};

/// Every crop by name with its result.
pub type ByCrop<T> = Vec<(String, T)>;

/// All intervals together.
pub fn all_intervals(found: &ByCrop<Intervals>) -> Intervals {
    found
        .iter()
        .fold(Intervals::default(), |sum, (_, of)| Intervals {
            first: sum.first.plus(of.first),
            middle: sum.middle.plus(of.middle),
            quiet: sum.quiet.plus(of.quiet),
        })
}

/// All outcomes together, by policy.
pub fn all_outcomes(found: &ByCrop<Outcomes>) -> Outcomes {
    let mut sum = Outcomes::default();
    for (_, of) in found {
        for (sum, of) in sum.iter_mut().zip(of) {
            *sum = sum.plus(*of);
        }
    }
    sum
}

/// Coverage of the interval.
pub fn of_intervals(title: &str, found: &ByCrop<Intervals>) -> String {
    let mut out = format!(
        "\n### {title}\n\n\
         | crop | first count | half up | below it | above it | cells wide | median too high by | counting complete |\n\
         |---|--:|--:|--:|--:|--:|--:|--:|\n"
    );
    let all = ("all".to_owned(), all_intervals(found));
    for (name, of) in found.iter().chain([&all]) {
        let Held { width, error, .. } = of.middle;
        let above = 100.0 - of.middle.per_100() - of.middle.below_per_100();
        let _ = writeln!(
            out,
            "| {name} | {:.1} | {:.1} | {:.1} | {above:.1} | {:.1} | {:.1} | {:.1} |",
            of.first.per_100(),
            of.middle.per_100(),
            of.middle.below_per_100(),
            of.middle.mean(width),
            of.middle.mean(error),
            of.quiet.per_100(),
        );
    }
    out
}

/// Losses and resources of the three policies.
pub fn of_outcomes(title: &str, found: &ByCrop<Outcomes>) -> String {
    let mut out = format!(
        "\n### {title}\n\n\
         | crop | alive | verdict: lost | mat-days | dome-days | counts | cost | 14 days: lost | cost | 7 days: lost | cost |\n\
         |---|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|\n"
    );
    let all = ("all".to_owned(), all_outcomes(found));
    for (name, [verdict, long, short]) in found.iter().chain([&all]) {
        let _ = writeln!(
            out,
            "| {name} | {:.1} | {:.1} | {:.1} | {:.1} | {:.1} | {:.1} | {:.1} | {:.1} | {:.1} | {:.1} |",
            verdict.mean(f64::from(verdict.alive)),
            verdict.lost_each(),
            verdict.mat_days_each(),
            verdict.mean(verdict.dome_days),
            verdict.mean(f64::from(verdict.counts)),
            verdict.cost_each(),
            long.lost_each(),
            long.cost_each(),
            short.lost_each(),
            short.cost_each(),
        );
    }
    out
}

/// The introduction to the tables.
pub fn preface() -> String {
    format!(
        "# Results of simulated trays\n\n\
         Written by `cargo test -p calibration-checks` with `WRITE_RESULTS=1` set; otherwise the test compares this file with its\n\
         results. {TRAYS} trays of each crop, alternately of 60 and 72 cells, with fixed seeds. The truth is drawn in\n\
         `src/truth.rs`; what happens to seed and seedlings on a bench is in `src/bench.rs`.\n"
    )
}

/// The introduction to the intervals.
pub fn about_intervals() -> String {
    "\n## The interval of the final stand\n\n\
     Percentage of trays whose final stand is within the 80 % interval, ends included: at the first count, at the first\n\
     count with half of the final stand up, and when counting is complete. If hardly any are left to emerge, a single number covers\n\
     more than 80 %, so the last column is higher.\n"
        .to_owned()
}

/// The introduction to the outcomes.
pub fn about_outcomes() -> String {
    format!(
        "\n## Three policies for a tray\n\n\
         Count when asked and follow the verdict on its day; or leave mat and dome for 14 days; or for 7. Plants lost are seeds\n\
         that were alive and did not become plants. The cost is in plants: those lost, and {MAT_DAY_PLANTS} for a tray's day on the\n\
         mat. All figures are per tray.\n"
    )
}
