//! The demo must hold together: it is what a newcomer judges the tool by.

use std::collections::BTreeSet;
use std::fs;

use culture::Reference;
use season::almanac::Almanac;
use season::availability::{By, availability};
use season::bill::bill;
use season::fact::{Fact, KINDS, SpaceKind};
use season::forecast::Outlook;
use season::money::Money;
use season::promise::{fills, promises};
use season::space::{bed_on, trays_on};
use season::stock::{stock, stock_today};
use season::{Log, Season, file};

use super::{bench, empty, season, today};
use crate::paths::workspace_root;

fn log_of(text: &str) -> Log {
    let file = file::read(text.as_bytes()).expect("the demo is a season file");
    file.entries.into_iter().collect()
}

fn demo() -> (Log, Season) {
    let log = log_of(&season().expect("made"));
    let season = Season::of(&log);
    (log, season)
}

#[test]
fn the_files_in_the_checkout_are_what_the_program_makes() {
    for (name, made) in [
        ("demo-season.json", season()),
        ("winter-bench.json", bench::bench()),
        ("empty.json", empty()),
    ] {
        let path = workspace_root().join("demo-data").join(name);
        let there = fs::read_to_string(&path).unwrap_or_default();
        assert!(
            there == made.expect("made"),
            "demo-data/{name} is out of date: run `cargo stemtide demo`"
        );
    }
}

#[test]
fn everything_in_it_adds_up() {
    let (log, season) = demo();
    assert_eq!(season.problems, [], "{} entries", log.len());
    assert_eq!(season.unknown, 0);
    let reference = Reference::builtin().expect("reference");
    let almanac = Almanac::new(&season, &reference);
    assert!(stock(&almanac, today()).unaccounted.is_empty());
    assert!(almanac.climate().is_ok() && !almanac.normals_assumed());
    for variety in season.varieties.keys() {
        assert!(almanac.crop(variety).is_some(), "{variety} has no crop");
    }
}

#[test]
fn no_space_and_no_bed_ever_holds_more_than_fits() {
    let (_, season) = demo();
    let reference = Reference::builtin().expect("reference");
    let almanac = Almanac::new(&season, &reference);
    let mut fullest = 0;
    let mut date = super::day(2026, 12, 1);
    while date <= today() {
        for (id, room) in trays_on(&season, date) {
            let free = room.free().expect("every space of trays says its room");
            assert!(free >= 0, "{} on {date}: {room:?}", season.spaces[&id].name);
            if season.spaces[&id].what == SpaceKind::Mat {
                fullest = fullest.max(room.trays);
            }
        }
        for bed in season.beds.values() {
            let free = bed_on(&almanac, bed, date).free_m().expect("length");
            assert!(free > -1e-9, "{} on {date}: {free} m", bed.name);
        }
        date = date + chrono::Days::new(1);
    }
    assert!(fullest >= 3, "the mat is hardly used: {fullest}");
    let shelves: u32 = season
        .spaces
        .values()
        .filter(|s| s.what == SpaceKind::Shelf)
        .filter_map(|s| s.room)
        .sum();
    assert_eq!(shelves, 16);
}

#[test]
fn it_shows_a_whole_season_half_way_through() {
    let (log, season) = demo();
    assert_eq!(season.varieties.len(), 14);
    let sown = season.sowings.len()
        + season
            .plantings
            .values()
            .filter(|p| p.sowing.is_none())
            .count();
    assert!((38..=46).contains(&sown), "{sown} sowings");
    let newest = season.events.values().filter_map(|e| e.fact.date()).max();
    assert_eq!(newest, Some(today()));
    assert_eq!(season.devices.len(), 2);
    let used: BTreeSet<_> = log.iter().map(season::Entry::device).collect();
    assert_eq!(used.len(), 2);
    let with = |found: fn(&Fact) -> bool| log.iter().filter(|e| found(e.fact())).count();
    assert_eq!(with(|f| matches!(f, Fact::Revised(_))), 1);
    assert_eq!(with(|f| matches!(f, Fact::Voided(_))), 1);
    assert!(with(|f| matches!(f, Fact::Cut(f) if f.culls > 0)) > 40);
    // A tray that fell was sown again for the same planned sowing.
    let again = season.planned.values().any(|p| {
        season
            .sowings
            .values()
            .filter(|s| s.planned.as_ref() == Some(&p.id))
            .count()
            == 2
    });
    assert!(again);
    assert!(
        season
            .planned
            .values()
            .any(|p| p.pinned && p.sown_as.is_none())
    );
    let event = season
        .orders
        .values()
        .filter(|o| !o.done)
        .filter_map(|o| Some((o.date? - today()).num_days()))
        .max();
    assert_eq!(event, Some(20));
    let kinds: BTreeSet<&str> = log.iter().map(season::Entry::kind).collect();
    let unused: Vec<&str> = KINDS
        .iter()
        .map(|kind| kind.name)
        .filter(|kind| !kinds.contains(kind))
        .collect();
    assert_eq!(unused, ["crop", "moved"]);
}

/// What is promised, put aside, bought in and paid for: enough of each that every screen of the second half has something to show.
#[test]
fn it_shows_a_trade_with_a_shortage_and_a_way_out() {
    let (log, season) = demo();
    let reference = Reference::builtin().expect("reference");
    let almanac = Almanac::new(&season, &reference);
    let outlook = Outlook::new(almanac.clone(), today());
    let (stock, promised) = (stock_today(&outlook), promises(&outlook));

    let event = promised
        .orders
        .iter()
        .find(|cover| cover.date == super::day(2027, 8, 8))
        .expect("the event");
    let short: Vec<_> = event.lines.iter().filter(|line| line.short() > 0).collect();
    assert_eq!(short.len(), 1, "{:?}", event.lines);
    let stand_ins = fills(&almanac, &promised, short[0], event.date);
    assert!(!stand_ins.is_empty(), "{:?}", short[0]);

    let free = availability(&outlook, By::Variety, 6);
    assert!(free.iter().filter(|line| line.has_any()).count() > 2);

    let florist = season
        .orders
        .values()
        .find(|order| order.is_standing())
        .expect("a standing order");
    let closed: Vec<_> = florist.closed.keys().copied().collect();
    assert_eq!(closed.len(), 2);
    for due in closed {
        let bill = bill(&almanac, florist, Some(due));
        assert!(bill.invoiceable() > Money::ZERO && bill.unpriced == 0);
    }
    let next = florist.date.map(|first| first + chrono::Days::new(14));
    assert!(stock.aside.contains_key(&(florist.id.clone(), next)));
    let income = |fact: &Fact| matches!(fact, Fact::Sold(sold) if sold.income.is_some());
    assert!(log.iter().filter(|entry| income(entry.fact())).count() > 20);
    let learned = season.varieties.values().filter(|v| !v.learned.is_empty());
    assert_eq!(learned.count(), 1);
}

/// Seedlings come when and as many as the crop reference says: first day to most day, poor lot to good lot.
#[test]
fn seedlings_come_as_the_crop_figures_say() {
    let (_, season) = demo();
    let reference = Reference::builtin().expect("reference");
    let almanac = Almanac::new(&season, &reference);
    let mut looked_at = 0;
    for sowing in season.sowings.values() {
        let crop = almanac.crop(&sowing.variety).expect("crop");
        let usual = crop.emergence_usual().expect("seed");
        let name = almanac.variety_name(&sowing.variety);
        let days = |date: chrono::NaiveDate| (date - sowing.date).num_days() as f64;
        let Some(half) = sowing
            .counts
            .iter()
            .find(|c| f64::from(c.up) >= 0.4 * f64::from(sowing.cells))
        else {
            continue;
        };
        assert!(
            days(half.date) >= usual.first_day * 0.8,
            "{name}: too early"
        );
        assert!(days(half.date) <= usual.most_day * 1.2, "{name}: too late");
        let last = sowing.last_count().expect("counted");
        if days(last.date) >= usual.most_day {
            let up = f64::from(sowing.standing(last.date).emerged) / f64::from(sowing.cells);
            let high = 1.0 - (1.0 - usual.germination_high).powi(sowing.seeds_per_cell as i32);
            assert!(
                up >= usual.germination_low - 0.13 && up <= high + 0.1,
                "{name}: {up}"
            );
            looked_at += 1;
        }
    }
    assert!(looked_at > 15, "{looked_at}");
}

#[test]
fn the_winter_bench_asks_what_day_ten_asks() {
    let log = log_of(&bench::bench().expect("made"));
    let season = Season::of(&log);
    assert_eq!(season.problems, []);
    let mut up: Vec<u32> = season
        .sowings
        .values()
        .filter_map(|s| s.last_count())
        .map(|c| c.up)
        .collect();
    up.sort_unstable();
    assert_eq!(up, [21, 45, 56]);
}

#[test]
fn the_empty_season_is_empty() {
    assert!(log_of(&empty().expect("made")).is_empty());
}
