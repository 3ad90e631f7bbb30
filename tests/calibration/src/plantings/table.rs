//! The results of plantings as tables in Markdown.

use std::fmt::Write as _;

use super::cutting::Stems;
use super::way::Bloom;
use crate::TRAYS;
use crate::table::ByCrop;

/// What the tables are.
pub fn preface() -> String {
    format!(
        "# What simulated plantings say\n\n\
         Made by `cargo test -p calibration-checks` with `WRITE_RESULTS=1` set; without it the test holds this file to what it\n\
         finds. {TRAYS} plantings of each crop, by fixed seeds, drawn from the ranges of the crop reference at three places. How the\n\
         truth is drawn stands in `src/plantings`. Each figure says how many plantings in 100 lie in the interval that is told as\n\
         80 in 100, ends included; whole days make it hold a little more than it says. By chance alone 2,000 plantings would give\n\
         80 with a standard error of 0.9, and 200 of one crop with one of 2.8.\n\n\
         Over all crops 76 to 84 are asked for, in years of another climate too, and in usual years 68 to 92 of each crop.\n\n\
         How the figures came about: the seasons of the simulation stray by 1.2 C and the model reckons with 1.15; the evenness of cuts and\n\
         how long a warm or cold spell is believed were set by these tables, so they check the working, not those figures. Bud and colour\n\
         are drawn from the very bands that are forecast. Tables \"of another draw\" are of plantings that no figure was set by.\n"
    )
}

/// How often the interval of first bloom holds the truth.
pub fn of_bloom(title: &str, found: &ByCrop<Bloom>) -> String {
    let mut out = format!(
        "\n## First bloom: {title}\n\n\
         | crop | at planting | before it | days wide | three weeks on | before it | days wide | bud | colour |\n\
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
            of.noted.per_100(),
            of.noted.below_per_100(),
            of.noted.mean_width(),
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

/// How often the interval of all saleable stems holds the truth.
pub fn of_stems(title: &str, found: &ByCrop<Stems>) -> String {
    let mut out = format!("\n## Saleable stems of the season{title}\n\n");
    out += "Widths are parts of the middle.\n\n\
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
