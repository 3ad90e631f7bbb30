//! The results as tables in Markdown.

use std::fmt::Write as _;

use crate::TRAYS;
use crate::intervals::{Held, Intervals};
use crate::policies::{MAT_DAY_PLANTS, Outcomes};

/// Every crop by name with what was found for it.
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

/// How often the interval holds the truth.
pub fn of_intervals(title: &str, found: &ByCrop<Intervals>) -> String {
    let mut out = format!(
        "\n### {title}\n\n\
         | crop | first count | half up | below it | above it | cells wide | middle too high by | count called |\n\
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

/// What the three ways of minding a tray lose and use.
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

/// What stands above the tables.
pub fn preface() -> String {
    format!(
        "# What simulated trays say\n\n\
         Made by `cargo test -p calibration-checks` with `WRITE_RESULTS=1` set; without it the test holds this file to what it\n\
         finds. {TRAYS} trays of each crop, of 60 and 72 cells in turn, by fixed seeds. How the truth is drawn stands in\n\
         `src/truth.rs`, what becomes of seed and seedlings on a bench in `src/bench.rs`.\n"
    )
}

/// What stands above the intervals.
pub fn about_intervals() -> String {
    "\n## The interval of the final stand\n\n\
     Trays of 100 whose final stand lies in the interval that is told as 80 in 100, ends included: at the first count, at the first\n\
     count with half of the final stand up, and when the count is called. Where hardly any are left to come one number alone holds\n\
     more than 80 in 100, so the last column lies higher.\n"
        .to_owned()
}

/// What stands above the outcomes.
pub fn about_outcomes() -> String {
    format!(
        "\n## Three ways of minding a tray\n\n\
         Count when asked and do what the verdict says on its day; or leave mat and dome for 14 days; or for 7. Plants lost are seeds\n\
         that were alive and are no plants in the end. The cost is in plants: those lost, and {MAT_DAY_PLANTS} for a tray's day on the\n\
         mat. All by the tray.\n"
    )
}
