//! Released files are read for ever. What they add up to is reckoned by hand and stated here; it never changes with the code.

#![allow(
    clippy::expect_used,
    reason = "a check that cannot be set up must stop"
)]

use season::fact::{Grade, LossCause};
use season::file;
use season::ids::{BedId, PlantingId, SowingId, SpaceId, VarietyId};
use season::{Log, Season};

/// Version 1. A sowing of 60 cells; 40 counted and corrected to 45; 6 dried out; 36 planted; two cuts, of which one was entered
/// twice and taken back; one entry of a kind that a later version may have.
const V1: &str = include_str!("season.v1.json");

#[test]
fn the_file_of_version_1_still_adds_up() {
    let read = file::read(V1.as_bytes()).expect("reads");
    assert_eq!(read.device.name, "Kitchen laptop");
    assert_eq!(read.exported_at, "2027-06-05T20:00:00.000Z");
    assert_eq!(read.entries.len(), 14);

    let log: Log = read.entries.into_iter().collect();
    let season = Season::of(&log);
    assert_eq!(season.problems, []);
    assert_eq!(season.unknown, 1);
    assert_eq!((season.sowings.len(), season.plantings.len()), (1, 1));
    // Sown, counted, lost, transplanted and two cuts: the third is taken back.
    assert_eq!(season.events.len(), 6);

    let variety = VarietyId::new("chalk").expect("an id");
    assert_eq!(season.varieties[&variety].name, "Chalk spike");
    assert_eq!(season.varieties[&variety].group, Some(1));
    let mat = SpaceId::new("mat").expect("an id");
    assert_eq!(season.spaces[&mat].room, Some(4));
    let west = BedId::new("west").expect("an id");
    assert_eq!(season.beds[&west].length_m, Some(9.0));

    let sowing = &season.sowings[&SowingId::new("05").expect("an id")];
    assert_eq!((&sowing.variety, sowing.cells), (&variety, 60));
    assert_eq!((sowing.seeds_per_cell, sowing.dome), (1, true));
    assert_eq!(sowing.tray.map(|tray| tray.cells()), Some(60));
    assert_eq!(sowing.last_count().map(|count| count.up), Some(45));
    let day = |text: &str| text.parse().expect("a date");
    let lost = sowing.losses[0];
    assert_eq!(
        (sowing.losses.len(), lost.date, lost.number, lost.cause),
        (1, day("2027-02-03"), 6, LossCause::DriedOut)
    );
    // 45 up of 60; less 6 lost: 39 of 54; less 36 planted: 3 of 18.
    let before = sowing.standing(day("2027-03-19"));
    assert_eq!((before.cells, before.up), (54, Some(39)));
    let now = sowing.standing_now();
    assert_eq!((now.cells, now.up), (18, Some(3)));
    assert_eq!((now.emerged, now.lost, now.transplanted), (45, 6, 36));

    let planting = &season.plantings[&PlantingId::new("09").expect("an id")];
    assert_eq!((&planting.bed, planting.standing()), (&west, 36));
    assert_eq!(planting.first_cut(), Some(day("2027-06-01")));
    // 30 and 22.
    assert_eq!(planting.stems_cut(), 52);
    assert_eq!(planting.cuts.iter().map(|cut| cut.culls).sum::<u32>(), 4);
    assert_eq!(
        planting
            .cuts
            .iter()
            .map(|cut| cut.grade)
            .collect::<Vec<_>>(),
        [Some(Grade::First), None]
    );
}

#[test]
fn the_file_of_version_1_is_passed_on_untouched() {
    let read = file::read(V1.as_bytes()).expect("reads");
    let log: Log = read.entries.iter().cloned().collect();
    for (line, entry) in V1.lines().skip(1).zip(log.iter()) {
        assert_eq!(line.trim_end_matches(','), entry.json());
    }
    assert_eq!(V1.lines().count(), log.len() + 2);
}
