//! The forecasts of beds over 2,000 simulated plantings of 10 crops.

#![allow(
    clippy::expect_used,
    clippy::panic,
    reason = "a check that cannot be set up must stop"
)]

use std::sync::LazyLock;

use calibration_checks::plantings::Draw;
use calibration_checks::plantings::cutting::{self, Stems};
use calibration_checks::plantings::table;
use calibration_checks::plantings::way::{self, Bloom, Years};
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
        noted: false,
    })
});
static OTHER: LazyLock<Vec<(f64, ByCrop<Bloom>)>> = LazyLock::new(|| {
    let years = |moved| Years { moved, noted: true };
    MOVED.map(|moved| (moved, blooms(years(moved)))).into()
});
static STEMS: LazyLock<ByCrop<Stems>> = LazyLock::new(|| stems(Draw::WorkedOn));
/// Plantings that no figure was set by, in years of all the climates.
static FRESH: LazyLock<Vec<(f64, ByCrop<Bloom>)>> = LazyLock::new(|| {
    let years = |moved: f64| Years {
        moved,
        noted: moved != 0.0,
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
        way::of_crop(number, crop, years, draw)
    })
}

/// The interval that is told as 80 in 100 holds 76 to 84 in 100 over all crops.
fn over_all(what: &str, held: f64) {
    assert!((76.0..=84.0).contains(&held), "{what}: {held}");
}

#[test]
fn first_bloom_falls_in_its_interval_as_often_as_it_says() {
    let all = table::all_bloom(&USUAL);
    assert_eq!(all.planted.plantings, TRAYS * CROPS.len() as u32);
    over_all("at planting", all.planted.per_100());
    over_all("three weeks on", all.noted.per_100());
    over_all("bud", all.bud.per_100());
    over_all("colour", all.colour.per_100());
    for (crop, of) in USUAL.iter() {
        for held in [of.planted.per_100(), of.noted.per_100()] {
            assert!((68.0..=92.0).contains(&held), "{crop}: {held}");
        }
    }
    assert!(all.noted.mean_width() < all.planted.mean_width());
}

/// Years that are up to two degrees off, with temperatures noted daily.
#[test]
fn years_of_another_climate_are_followed_by_what_is_noted() {
    for (moved, found) in OTHER.iter() {
        let all = table::all_bloom(found);
        over_all(&format!("{moved} at planting"), all.planted.per_100());
        over_all(&format!("{moved} three weeks on"), all.noted.per_100());
    }
}

#[test]
fn stems_fall_in_their_interval_as_often_as_it_says() {
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

/// What holds for the plantings that the model was worked on with holds for others too.
#[test]
fn plantings_of_another_draw_hold_as_well() {
    for (moved, found) in FRESH.iter() {
        let all = table::all_bloom(found);
        over_all(&format!("{moved} at planting"), all.planted.per_100());
        over_all(&format!("{moved} three weeks on"), all.noted.per_100());
    }
    let all = table::all_stems(&FRESH_STEMS);
    over_all("at planting", all.planted.per_100());
    over_all("a third cut", all.third.per_100());
}

/// The tables as committed; `WRITE_RESULTS=1` writes them.
#[test]
fn the_tables_are_as_they_stand() {
    let mut tables = table::preface();
    tables += &table::of_bloom("nothing noted before planting", &USUAL);
    for (moved, found) in OTHER.iter() {
        let title = format!("years {moved:+.0} C off the normals, temperatures noted daily");
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
    let stand = std::fs::read_to_string(path).unwrap_or_default();
    assert!(
        stand == tables,
        "set WRITE_RESULTS=1 to write what is found:\n{tables}"
    );
}
