//! A course holds from the plan to the bed, for every crop of the reference, and every reader tells the same of it.

use std::collections::BTreeMap;

use agronomy::iso_week::IsoWeek;

use super::*;
use crate::almanac::Almanac;
use crate::bed_plan::bed_plan;
use crate::fact::*;
use crate::forecast::{Supply, supply, supply_after};
use crate::occupancy::rooms;
use crate::plan::plan;
use crate::sample::Sample;

const SOWN: &str = "2027-03-15";
const CELLS: u32 = 144;
const PLANTS: u32 = 60;

/// A mat, a shelf, a hardening spot and a bed, each with room for anything.
fn ground() -> Sample {
    let mut sample = Sample::new();
    for (id, what) in [
        ("mat", SpaceKind::Mat),
        ("shelf", SpaceKind::Shelf),
        ("step", SpaceKind::Hardening),
    ] {
        sample.add(SpaceFact {
            what: Some(what),
            name: Some(id.into()),
            room: Some(900),
            ..SpaceFact::new(SpaceId::new(id).expect("id"))
        });
    }
    sample.bed("bed", 900.0);
    sample
}

/// One variety of every crop that spends a time in trays (bulbs don't), each planned for one day; crop by planned sowing.
fn all_planned(sample: &mut Sample) -> BTreeMap<PlannedId, String> {
    let reference = culture::Reference::builtin().expect("reference");
    let mut found = BTreeMap::new();
    for crop in reference.crops() {
        let weeks = crop.typical("weeks_sow_to_transplant");
        if weeks.is_none_or(|weeks| weeks <= 0.0) {
            continue;
        }
        let crop = crop.id().as_str();
        let of = PlannedId::new(crop).expect("id");
        let variety = sample.variety(crop, crop, "white");
        let sow = Some(sample.day(SOWN));
        sample.add(PlannedFact {
            variety: Some(variety),
            sow,
            space: SpaceId::new("field").ok(),
            bed: BedId::new("bed").ok(),
            cells: Some(CELLS),
            plants: Some(PLANTS),
            ..PlannedFact::new(of.clone())
        });
        found.insert(of, crop.to_owned());
    }
    assert!(found.len() > 40, "{}", found.len());
    found
}

fn sow(sample: &mut Sample, planned: &PlannedId, crop: &str) -> SowingId {
    let date = sample.day(SOWN);
    sample
        .add(SownFact {
            space: SpaceId::new("mat").ok(),
            tray: Some(Tray {
                what: CellKind::Plug,
                rows: 6,
                columns: 12,
            }),
            planned: Some(planned.clone()),
            ..SownFact::new(VarietyId::new(crop).expect("id"), CELLS, date)
        })
        .into()
}

fn at(sample: &Sample, date: NaiveDate) -> Supply {
    sample.with(|almanac| supply(almanac, date))
}

fn phase(course: &Course, station: Station) -> Option<&Phase> {
    course.phases.iter().find(|phase| phase.station == station)
}

#[test]
fn a_planned_sowing_keeps_its_days_when_it_is_sown_and_planted_as_planned() {
    let mut sample = ground();
    let crops = all_planned(&mut sample);
    let day = sample.day(SOWN);
    let planned = at(&sample, day);
    let sowings: BTreeMap<&PlannedId, SowingId> = crops
        .iter()
        .map(|(id, crop)| (id, sow(&mut sample, id, crop)))
        .collect();
    let sown = at(&sample, day);
    let (mut several, mut with_bloom) = (0, 0);
    for (id, crop) in &crops {
        let before = &planned.courses[&Source::Planned(id.clone())];
        let after = &sown.courses[&Source::Sowing(sowings[id].clone())];
        assert_eq!(before.sown, after.sown, "{crop}");
        assert_eq!(before.plant, after.plant, "{crop}");
        assert_eq!(before.bloom, after.bloom, "{crop}");
        assert_eq!(before.flushes, after.flushes, "{crop}");
        assert_eq!(before.bed, after.bed, "{crop}");
        let beds = before.in_bed().zip(after.in_bed()).expect("beds");
        assert_eq!((beds.0.from, beds.0.to), (beds.1.from, beds.1.to), "{crop}");
        let hardens = [before, after].map(|course| phase(course, Station::Hardening));
        if let [Some(before), Some(after)] = hardens {
            assert_eq!(before.to, after.to, "{crop}");
        }
        several += usize::from(before.flushes.len() > 1);
        with_bloom += usize::from(before.bloom.is_some());
    }
    assert!(several >= 10 && with_bloom > 40, "{several} {with_bloom}");

    // Planted on the day: the band of first bloom narrows; its middle and the day on which the bed is free stay.
    for (id, sowing) in sowings {
        let date = planned.courses[&Source::Planned(id.clone())].planted();
        sample.add(TransplantedFact::new(
            sowing,
            BedId::new("bed").expect("id"),
            PLANTS,
            date.expect("planted"),
        ));
    }
    sample.with(|almanac| {
        let plantings = &almanac.season().plantings;
        assert_eq!(plantings.len(), crops.len());
        for planting in plantings.values() {
            let crop = planting.variety.as_str();
            let id = PlannedId::new(crop).expect("id");
            let before = &planned.courses[&Source::Planned(id)];
            let forecast = crate::forecast::of_planting(almanac, planting, planting.date);
            let after = of_planting(almanac, planting, &forecast, planting.date);
            assert_eq!(before.sown, after.sown, "{crop}");
            let middle = |course: &Course| course.bloom.map(|bloom| bloom.p50);
            assert_eq!(middle(before), middle(&after), "{crop}");
            let last = |course: &Course| course.last().map(|last| last.p50);
            assert_eq!(last(before), last(&after), "{crop}");
            let bed = |course: &Course| course.in_bed().map(|bed| (bed.from, bed.to));
            assert_eq!(bed(before), bed(&after), "{crop}");
        }
    });
}

/// Metres of the field and trays of each kind that courses take up on some day of a week.
fn most_in_week(courses: &[&Course], station: Station, week: IsoWeek) -> f64 {
    let days = (0..7).map(|n| shifted(week.monday(), n));
    let on = |day: NaiveDate| -> f64 {
        let phases = courses.iter().filter_map(|course| course.phase_on(day));
        let there = phases.filter(|phase| phase.station == station);
        there.map(|phase| phase.needs).sum()
    };
    days.map(on).fold(0.0, f64::max)
}

#[test]
fn rooms_and_beds_through_the_year_are_those_of_the_courses() {
    let mut sample = ground();
    let crops = all_planned(&mut sample);
    for (id, crop) in crops.iter().step_by(2) {
        sow(&mut sample, id, crop);
    }
    let today = sample.day(SOWN);
    sample.on(today, |outlook| {
        let supply = outlook.supply();
        let courses: Vec<&Course> = supply.courses.values().collect();
        assert_eq!(courses.len(), crops.len());
        let mut compared = 0;
        for space in rooms(outlook).iter() {
            let station = match space.what {
                SpaceKind::Mat => Station::Mat,
                SpaceKind::Shelf => Station::Shelf,
                SpaceKind::Hardening => Station::Hardening,
                _ => Station::Bed,
            };
            for week in &space.weeks {
                let expected = most_in_week(&courses, station, week.week);
                assert!(
                    (week.used - expected).abs() < 1e-6,
                    "{:?} {week:?} {expected}",
                    space.what
                );
                compared += usize::from(expected > 0.0);
            }
        }
        assert!(compared > 60, "{compared}");

        let plan = bed_plan(outlook);
        let bars: Vec<_> = plan.beds.iter().flat_map(|row| &row.bars).collect();
        assert!(bars.len() >= crops.len());
        for bar in bars {
            let bed = supply.courses[&bar.what].in_bed().expect("a bed");
            let weeks = (IsoWeek::of(bed.from), IsoWeek::of(shifted(bed.to, -1)));
            assert_eq!(bar.weeks, (weeks.0, weeks.1.min(plan.weeks.1)), "{bar:?}");
        }
    });
}

#[test]
fn a_proposal_has_the_course_that_it_has_once_it_is_accepted() {
    let mut sample = ground();
    for (id, crop) in [("a", "antirrhinum"), ("z", "zinnia"), ("d", "daucus")] {
        let variety = sample.variety(id, crop, "white");
        let wanted = Wanted {
            variety: Some(variety),
            ..Wanted::default()
        };
        sample.target(id, wanted, ("2027-W28", "2027-W32"), 30);
    }
    let today = sample.day("2027-02-01");
    let proposed = sample.on(today, |outlook| {
        let plan = plan(outlook).expect("plan");
        let courses = plan.proposals.iter().map(|proposal| {
            let course = proposal.course(outlook).expect("course");
            (proposal.clone(), course)
        });
        courses.collect::<Vec<_>>()
    });
    assert!(proposed.len() >= 3, "{}", proposed.len());
    for (n, (proposal, course)) in proposed.into_iter().enumerate() {
        let of = PlannedId::new(format!("p{n}")).expect("id");
        sample.add(proposal.accept(of.clone()));
        let accepted = at(&sample, today);
        let accepted = &accepted.courses[&Source::Planned(of)];
        let window = accepted.plant;
        assert_eq!(window.map(|window| window.best), course.planted());
        let course = Course {
            plant: window,
            ..course
        };
        assert_eq!(*accepted, course);
    }
}

/// What a record changed: courses that differ, came or went.
fn changed(before: &Supply, after: &Supply) -> Vec<Source> {
    let all = before.courses.keys().chain(after.courses.keys());
    let mut found: Vec<Source> = all
        .filter(|source| before.courses.get(source) != after.courses.get(source))
        .cloned()
        .collect();
    found.sort();
    found.dedup();
    found
}

#[test]
fn a_record_about_one_sowing_changes_no_course_but_its_own() {
    let mut sample = ground();
    let crops = all_planned(&mut sample);
    let sowings: Vec<SowingId> = crops
        .iter()
        .step_by(2)
        .map(|(id, crop)| sow(&mut sample, id, crop))
        .collect();
    let of = sowings[3].clone();
    let day = sample.day(SOWN);
    let planted = TransplantedFact::new(
        of.clone(),
        BedId::new("bed").expect("id"),
        40,
        shifted(day, 40),
    );
    let counted =
        |day_after: i64, up: u32| CountedFact::new(of.clone(), up, shifted(day, day_after));
    let moved = MovedFact::new(
        of.clone(),
        SpaceId::new("shelf").expect("id"),
        shifted(day, 14),
    );
    let facts: [Fact; 4] = [
        counted(9, 30).into(),
        counted(12, 80).into(),
        moved.into(),
        planted.into(),
    ];
    let today = shifted(day, 40);
    let mut before = at(&sample, today);
    for fact in facts {
        let kind = format!("{fact:?}");
        sample.add(fact);
        let after = at(&sample, today);
        let changed = changed(&before, &after);
        assert!(!changed.is_empty(), "{kind}");
        sample.with(|almanac| {
            let own = |source: &Source| match source {
                Source::Sowing(id) => *id == of,
                Source::Planting(id) => almanac.season().plantings[id].sowing.as_ref() == Some(&of),
                Source::Planned(_) => false,
            };
            assert!(changed.iter().all(own), "{kind}: {changed:?}");
        });
        before = after;
    }
}

/// The last records of the demo, one after the other: what is taken over is what would be worked out anew.
#[test]
fn a_forecast_that_goes_on_from_the_one_before_is_the_one_worked_out_anew() {
    const DEMO: &str = include_str!("../../../../../demo-data/demo-season.json");
    const RECORDS: usize = 60;
    let read = crate::file::read(DEMO.as_bytes()).expect("the demo");
    let reference = culture::Reference::builtin().expect("reference");
    let today: NaiveDate = "2027-07-19".parse().expect("date");
    let entries = read.entries;
    let begin = entries.len() - RECORDS;
    let mut log: crate::Log = entries.iter().take(begin).cloned().collect();
    let mut season = crate::Season::of(&log);
    let mut known = supply(&Almanac::new(&season, &reference), today);
    let mut kept = 0;
    for entry in entries.into_iter().skip(begin) {
        log.insert(entry);
        let next = crate::Season::of(&log);
        let (then, now) = (
            Almanac::new(&season, &reference),
            Almanac::new(&next, &reference),
        );
        let anew = supply(&now, today);
        let after = supply_after((&then, &known), &now, today);
        assert_eq!(after.courses, anew.courses);
        let written = |supply: &Supply| format!("{:?} {:?}", supply.trays, supply.beds);
        assert_eq!(written(&after), written(&anew));
        let all = sources(&now);
        let same = |source: &&Source| Inputs::of(&then, source) == Inputs::of(&now, source);
        kept += usize::from(all.iter().filter(same).count() + 2 >= all.len());
        (season, known) = (next, anew);
    }
    // Most records are about one sowing or one planting, or about none.
    assert!(kept > RECORDS / 2, "{kept}");
}

fn sources(almanac: &Almanac<'_>) -> Vec<Source> {
    let season = almanac.season();
    let sowings = season.sowings.keys().cloned().map(Source::Sowing);
    let plantings = season.plantings.keys().cloned().map(Source::Planting);
    sowings.chain(plantings).collect()
}

/// The course of what is in a bed.
fn planted(sample: &Sample, planting: &PlantingId, today: &str) -> Course {
    let all = at(sample, sample.day(today));
    all.courses[&Source::Planting(planting.clone())].clone()
}

/// Lisianthus has a flush and a half, 50 days apart, each cut for 24 days (crop reference): the half flush is a thin one, so the last
/// stems come 74 days after the first, as the stems by week have it.
#[test]
fn the_last_flush_counts_whole_where_it_is_only_half_as_thick() {
    let mut sample = ground();
    let variety = sample.variety("v", "eustoma", "white");
    let bed = BedId::new("bed").expect("id");
    let planting = sample.sown_in_bed(&variety, &bed, "2027-01-10", 60);
    let course = planted(&sample, &planting, "2027-01-10");
    let (first, last) = (course.flushes[0], course.flushes[1]);
    let days = |from: NaiveDate, to: NaiveDate| (to - from).num_days();
    assert_eq!(days(first.from.p50, first.to.p50), 24);
    assert_eq!(days(first.from.p50, last.from.p50), 50);
    assert!(days(last.from.p50, last.to.p50) <= 24);
    assert_eq!(course.last(), Some(last.to));
}

#[test]
fn frost_ends_the_stay_in_a_bed_as_it_ends_the_stems() {
    let mut sample = ground();
    let variety = sample.variety("v", "zinnia", "white");
    let bed = BedId::new("bed").expect("id");
    let planting = sample.sown_in_bed(&variety, &bed, "2027-07-10", 60);
    let course = planted(&sample, &planting, "2027-07-10");
    let free = course.in_bed().expect("bed").to;
    // The average first frost is 1 October; zinnias bear none, and are cut for two months where they may.
    assert!(
        free > sample.day("2027-09-20") && free < sample.day("2027-10-12"),
        "{free}"
    );
    let (last, _) = course
        .weeks
        .iter()
        .rfind(|(_, stems)| stems.p50 >= 1.0)
        .expect("stems");
    assert!(shifted(last.sunday(), 15) > free, "{last}");
}

#[test]
fn what_is_not_cleared_is_there_today_and_what_cannot_be_forecast_for_twelve_weeks() {
    let mut sample = ground();
    let bed = BedId::new("bed").expect("id");
    let variety = sample.variety("v", "matthiola", "white");
    let spent = sample.sown_in_bed(&variety, &bed, "2027-03-01", 60);
    let unknown = VarietyId::new("nobody-knows").expect("id");
    let unknown = sample.sown_in_bed(&unknown, &bed, "2027-03-01", 60);
    for (date, stems) in [("2027-06-01", 30), ("2027-06-08", 25), ("2027-06-15", 3)] {
        let date = sample.day(date);
        sample.add(CutFact::new(spent.clone(), stems, date));
    }
    let free = |planting, today| planted(&sample, planting, today).in_bed().expect("bed").to;
    assert_eq!(free(&spent, "2027-11-20"), sample.day("2027-11-21"));
    assert_eq!(free(&unknown, "2027-03-10"), sample.day("2027-05-24"));
    assert_eq!(free(&unknown, "2027-07-01"), sample.day("2027-07-02"));
}

#[test]
fn trays_of_which_nobody_noted_where_they_are_fill_no_shelf_but_need_their_bed() {
    let mut sample = ground();
    let variety = sample.variety("v", "antirrhinum", "white");
    sample.sown(&variety, SOWN, 144);
    let spaces = sample.on(sample.day("2027-03-20"), |outlook| rooms(outlook).to_vec());
    let most = |what| {
        let of = spaces.iter().find(|space| space.what == what);
        of.expect("space").most()
    };
    assert!(most(SpaceKind::Shelf) < 1e-9 && most(SpaceKind::Mat) < 1e-9);
    assert!(most(SpaceKind::Hardening) > 1.0 && most(SpaceKind::Outdoors) > 0.5);
}
