//! The forecasts of beds over 2,000 simulated plantings of 10 crops.

#![allow(
    clippy::expect_used,
    clippy::panic,
    reason = "a check that cannot be set up must stop"
)]

use std::sync::LazyLock;

use calibration_checks::plantings::Draw;
use calibration_checks::plantings::cutting::{self, Stems};
use calibration_checks::plantings::development::{self, Bloom, Years};
use calibration_checks::plantings::table;
use calibration_checks::table::ByCrop;
use calibration_checks::{CROPS, TRAYS, over_crops};
use culture::Reference;

static REFERENCE: LazyLock<Reference> =
    LazyLock::new(|| Reference::builtin().expect("the reference reads"));

/// Degrees by which years are warmer than the normals.
const MOVED: [f64; 4] = [-2.0, -1.0, 1.0, 2.0];

static USUAL: LazyLock<ByCrop<Bloom>> = LazyLock::new(|| {
    blooms(Years {
        moved: 0.0,
        recorded: false,
    })
});
static OTHER: LazyLock<Vec<(f64, ByCrop<Bloom>)>> = LazyLock::new(|| {
    let years = |moved| Years {
        moved,
        recorded: true,
    };
    MOVED.map(|moved| (moved, blooms(years(moved)))).into()
});
static STEMS: LazyLock<ByCrop<Stems>> = LazyLock::new(|| stems(Draw::WorkedOn));
/// Plantings that were not used to set any figure, in years of all the climates.
static FRESH: LazyLock<Vec<(f64, ByCrop<Bloom>)>> = LazyLock::new(|| {
    let years = |moved: f64| Years {
        moved,
        recorded: moved != 0.0,
    };
    let of = |moved| (moved, blooms_of(years(moved), Draw::Afresh));
    [0.0, MOVED[0], MOVED[3]].map(of).into()
});
static FRESH_STEMS: LazyLock<ByCrop<Stems>> = LazyLock::new(|| stems(Draw::Afresh));

fn stems(draw: Draw) -> ByCrop<Stems> {
    over_crops(&REFERENCE, |number, crop| {
        cutting::of_crop(&REFERENCE, number, crop, draw)
    })
}

fn blooms(years: Years) -> ByCrop<Bloom> {
    blooms_of(years, Draw::WorkedOn)
}

fn blooms_of(years: Years, draw: Draw) -> ByCrop<Bloom> {
    over_crops(&REFERENCE, |number, crop| {
        development::of_crop(number, crop, years, draw)
    })
}

/// The 80 % interval covers 76 to 84 % over all crops.
fn over_all(what: &str, held: f64) {
    assert!((76.0..=84.0).contains(&held), "{what}: {held}");
}

#[test]
fn first_bloom_interval_has_its_nominal_coverage() {
    let all = table::all_bloom(&USUAL);
    assert_eq!(all.planted.plantings, TRAYS * CROPS.len() as u32);
    over_all("at planting", all.planted.per_100());
    over_all("three weeks later", all.recorded.per_100());
    over_all("bud", all.bud.per_100());
    over_all("colour", all.colour.per_100());
    for (crop, of) in USUAL.iter() {
        for held in [of.planted.per_100(), of.recorded.per_100()] {
            assert!((68.0..=92.0).contains(&held), "{crop}: {held}");
        }
    }
    assert!(all.recorded.mean_width() < all.planted.mean_width());
}

/// Years that deviate by up to two degrees, with temperatures recorded daily.
#[test]
fn recorded_temperatures_correct_for_a_shifted_climate() {
    for (moved, found) in OTHER.iter() {
        let all = table::all_bloom(found);
        over_all(&format!("{moved} at planting"), all.planted.per_100());
        over_all(
            &format!("{moved} three weeks later"),
            all.recorded.per_100(),
        );
    }
}

#[test]
fn stems_interval_has_its_nominal_coverage() {
    let all = table::all_stems(&STEMS);
    over_all("at planting", all.planted.per_100());
    over_all("a third cut", all.third.per_100());
    for (crop, of) in STEMS.iter() {
        for held in [of.planted.per_100(), of.third.per_100()] {
            assert!((68.0..=92.0).contains(&held), "{crop}: {held}");
        }
    }
    assert!(all.third.mean_width() < 0.6 * all.planted.mean_width());
}

/// The coverage for the plantings used in development also holds for others.
#[test]
fn coverage_holds_for_an_independent_draw() {
    for (moved, found) in FRESH.iter() {
        let all = table::all_bloom(found);
        over_all(&format!("{moved} at planting"), all.planted.per_100());
        over_all(
            &format!("{moved} three weeks later"),
            all.recorded.per_100(),
        );
    }
    let all = table::all_stems(&FRESH_STEMS);
    over_all("at planting", all.planted.per_100());
    over_all("a third cut", all.third.per_100());
}

/// The committed tables; `WRITE_RESULTS=1` writes them.
#[test]
fn the_committed_tables_are_current() {
    let mut tables = table::preface();
    tables += &table::of_bloom("nothing recorded before planting", &USUAL);
    for (moved, found) in OTHER.iter() {
        let title = format!("years {moved:+.0} C off the normals, temperatures recorded daily");
        tables += &table::of_bloom(&title, found);
    }
    for (moved, found) in FRESH.iter() {
        let title = format!("of another draw, years {moved:+.0} C off the normals");
        tables += &table::of_bloom(&title, found);
    }
    tables += &table::of_stems("", &STEMS);
    tables += &table::of_stems(", of another draw", &FRESH_STEMS);
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/PLANTINGS.md");
    if std::env::var_os("WRITE_RESULTS").is_some() {
        std::fs::write(path, &tables).expect("written");
    }
    let committed = std::fs::read_to_string(path).unwrap_or_default();
    assert!(
        committed == tables,
        "set WRITE_RESULTS=1 to write the new tables:\n{tables}"
    );
}
