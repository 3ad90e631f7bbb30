//! The results of plantings as tables in Markdown.

use std::fmt::Write as _;

use super::cutting::Stems;
use super::development::Bloom;
use crate::TRAYS;
use crate::table::ByCrop;

/// The introduction to the tables.
pub fn preface() -> String {
    format!(
        "# Results of simulated plantings\n\n\
         Written by `cargo test -p calibration-checks` with `WRITE_RESULTS=1` set; otherwise the test compares this file with its\n\
         results. {TRAYS} plantings of each crop, with fixed seeds, drawn from the ranges of the crop reference at three places. The\n\
         truth is drawn in `src/plantings`. Each figure is the percentage of plantings within the 80 % interval,\n\
         ends included; rounding to whole days makes it slightly higher than nominal. By chance alone 2,000 plantings would give\n\
         80 with a standard error of 0.9, and 200 of one crop with one of 2.8.\n\n\
         Over all crops 76 to 84 are required, also in years of another climate, and in usual years 68 to 92 for each crop.\n\n\
         Where the figures come from: the seasons of the simulation deviate by 1.2 C and the model assumes 1.15; the evenness of cuts and\n\
         the persistence of a warm or cold spell were set by these tables, so they check the method, not those figures. Bud and colour\n\
         are drawn from the same bands as the forecast. Tables \"of another draw\" are of plantings not used to set any figure.\n"
    )
}

/// Coverage of the interval of first bloom.
pub fn of_bloom(title: &str, found: &ByCrop<Bloom>) -> String {
    let mut out = format!(
        "\n## First bloom: {title}\n\n\
         | crop | at planting | before it | days wide | three weeks later | before it | days wide | bud | colour |\n\
         |---|--:|--:|--:|--:|--:|--:|--:|--:|\n"
    );
    let all = ("all".to_owned(), all_bloom(found));
    for (name, of) in found.iter().chain([&all]) {
        let _ = writeln!(
            out,
            "| {name} | {:.1} | {:.1} | {:.1} | {:.1} | {:.1} | {:.1} | {:.1} | {:.1} |",
            of.planted.per_100(),
            of.planted.below_per_100(),
            of.planted.mean_width(),
            of.recorded.per_100(),
            of.recorded.below_per_100(),
            of.recorded.mean_width(),
            of.bud.per_100(),
            of.colour.per_100(),
        );
    }
    out
}

/// All crops together.
pub fn all_bloom(found: &ByCrop<Bloom>) -> Bloom {
    found
        .iter()
        .fold(Bloom::default(), |sum, (_, of)| sum.plus(*of))
}

/// Coverage of the interval of all marketable stems.
pub fn of_stems(title: &str, found: &ByCrop<Stems>) -> String {
    let mut out = format!("\n## Marketable stems of the season{title}\n\n");
    out += "Widths are fractions of the median.\n\n\
         | crop | at planting | below it | wide | a third cut | below it | wide | two thirds cut | below it | wide |\n\
         |---|--:|--:|--:|--:|--:|--:|--:|--:|--:|\n";
    let all = ("all".to_owned(), all_stems(found));
    for (name, of) in found.iter().chain([&all]) {
        let _ = write!(out, "| {name}");
        for held in [of.planted, of.third, of.two_thirds] {
            let (inside, below) = (held.per_100(), held.below_per_100());
            let _ = write!(
                out,
                " | {inside:.1} | {below:.1} | {:.2}",
                held.mean_width()
            );
        }
        out += " |\n";
    }
    out
}

/// All crops together.
pub fn all_stems(found: &ByCrop<Stems>) -> Stems {
    found
        .iter()
        .fold(Stems::default(), |sum, (_, of)| sum.plus(*of))
}
