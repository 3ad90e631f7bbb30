//! Absurd numbers, again and again: the fold neither panics nor wraps around. The tests run with overflow checks on.

use proptest::prelude::*;
use season::ids::{PlantingId, SowingId};
use season::limits::{CELLS_MAX, PLANTS_MAX, STEMS_MAX};
use season::state::ProblemKind;
use season::{Entry, Log, Season};

use crate::generate::entries;

proptest! {
    #[test]
    fn every_season_can_be_asked(entries in entries()) {
        let log: Log = entries.into_iter().collect();
        let season = Season::of(&log);
        for sowing in season.sowings.values() {
            let now = sowing.standing_now();
            prop_assert!(now.up.is_none_or(|up| up <= now.cells) && now.cells <= sowing.cells);
            prop_assert!(sowing.trays() <= sowing.cells);
            prop_assert!(sowing.plantings.iter().all(|p| season.plantings.get(p).is_some_and(|p| p.sowing.as_ref() == Some(&sowing.id))));
            let _ = (sowing.in_trays(), sowing.space(), sowing.space_on(sowing.date));
        }
        for planting in season.plantings.values() {
            prop_assert!(planting.standing() <= planting.plants);
            prop_assert!(planting.stems_cut() >= planting.cuts.iter().map(|c| c.stems).max().unwrap_or(0));
            prop_assert!(planting.cuts.is_sorted_by_key(|c| c.date));
            if let Some(sowing) = &planting.sowing {
                prop_assert!(season.sowings[sowing].plantings.contains(&planting.id));
            }
        }
        prop_assert!(season.problems.is_sorted());
        prop_assert!(season.problems.iter().all(|p| log.get(&p.entry).is_some()));
        season.canonical().expect("a season is JSON");
    }
}

fn entry(n: usize, rest: &str) -> Entry {
    Entry::read(&format!(
        r#"{{"id":"e{n}","at":"2027-02-14T08:30:12.345Z/{n:04x}","device":"d",{rest}}}"#
    ))
    .expect("an entry")
}

/// The most that entries may say, as often as would overflow 32 bits.
#[test]
fn many_entries_at_their_limits_do_not_wrap() {
    let mut log = Log::new();
    let day = r#""date":"2027-03-01""#;
    log.insert(entry(
        0,
        &format!(r#""kind":"sown","variety":"v",{day},"cells":{CELLS_MAX}"#),
    ));
    log.insert(entry(
        1,
        &format!(r#""kind":"transplanted","sowing":"e0","bed":"b",{day},"plants":{PLANTS_MAX}"#),
    ));
    for n in 2..13_002 {
        let said = match n % 3 {
            0 => format!(
                r#""kind":"cut","planting":"e1",{day},"stems":{STEMS_MAX},"culls":{STEMS_MAX}"#
            ),
            1 => format!(
                r#""kind":"lost","planting":"e1",{day},"number":{PLANTS_MAX},"cause":"cold""#
            ),
            _ => format!(
                r#""kind":"transplanted","sowing":"e0","bed":"b",{day},"plants":{PLANTS_MAX}"#
            ),
        };
        log.insert(entry(n, &said));
    }
    let season = Season::of(&log);
    let planting = &season.plantings[&PlantingId::new("e1").expect("an id")];
    assert_eq!(planting.cuts.len(), 4_334 - 1);
    assert_eq!(planting.stems_cut(), u32::MAX, "saturates");
    assert_eq!(planting.standing(), 0);
    let sowing = season.sowings[&SowingId::new("e0").expect("an id")].standing_now();
    assert_eq!((sowing.cells, sowing.transplanted), (0, u32::MAX));
    assert!(
        season
            .problems
            .iter()
            .any(|p| p.what == ProblemKind::MoreThanThere)
    );
}

/// Beyond the limits an entry is kept and told, and has no effect.
#[test]
fn beyond_the_limits_is_kept_told_and_without_effect() {
    let day = r#""date":"2027-03-01""#;
    for said in [
        format!(
            r#""kind":"sown","variety":"v",{day},"cells":{}"#,
            CELLS_MAX + 1
        ),
        format!(r#""kind":"sown","variety":"v",{day},"cells":60,"seeds_per_cell":4294967295"#),
        r#""kind":"sown","variety":"v","date":"+262142-12-31","cells":60"#.to_owned(),
        r#""kind":"frost","date":"0001-01-01""#.to_owned(),
        r#""kind":"fed","date":"2027-03-01""#.to_owned(),
        r#""kind":"temperature","date":"2027-03-01","min_c":1e12,"max_c":2e12"#.to_owned(),
    ] {
        let mut log = Log::new();
        log.insert(entry(0, &said));
        let season = Season::of(&log);
        assert_eq!(season.problems.len(), 1, "{said}");
        assert_eq!(season.problems[0].what, ProblemKind::Unreadable, "{said}");
        assert!(
            season.events.is_empty() && season.sowings.is_empty(),
            "{said}"
        );
    }
}
