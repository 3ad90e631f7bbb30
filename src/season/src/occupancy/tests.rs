use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;

use super::*;
use crate::fact::{PlannedFact, SownFact, SpaceFact, Tray};
use crate::forecast::{Change, Intent, Source, intended, reforecast};
use crate::sample::Sample;

const TODAY: &str = "2027-02-01";

fn space(sample: &mut Sample, id: &str, what: SpaceKind, room: Option<u32>, walk: i32) -> SpaceId {
    let of = SpaceId::new(id).expect("id");
    sample.add(SpaceFact {
        what: Some(what),
        name: Some(id.into()),
        room,
        walk: Some(walk),
        ..SpaceFact::new(of.clone())
    });
    of
}

/// Snapdragons to be sown a fortnight from now, 60 cells to a tray.
fn planned(sample: &mut Sample, id: &str, cells: u32, plants: u32) -> PlannedId {
    let of = PlannedId::new(id).expect("id");
    let (variety, sow) = (
        sample.variety("v", "antirrhinum", "white"),
        Some(sample.day("2027-02-15")),
    );
    sample.add(PlannedFact {
        variety: Some(variety),
        sow,
        cells: Some(cells),
        plants: Some(plants),
        ..PlannedFact::new(of.clone())
    });
    of
}

fn found(sample: &Sample, proposed: &[Course]) -> Vec<SpaceUse> {
    let today = sample.day(TODAY);
    sample.on(today, |outlook| occupancy(outlook, proposed))
}

fn of<'a>(all: &'a [SpaceUse], space: &str) -> &'a SpaceUse {
    all.iter()
        .find(|one| one.space.as_str() == space)
        .expect("space")
}

fn used(one: &SpaceUse, week: &str) -> f64 {
    let week: IsoWeek = week.parse().expect("week");
    one.weeks
        .iter()
        .find(|w| w.week == week)
        .expect("week")
        .used
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

#[test]
fn what_is_to_be_sown_goes_where_there_is_room_and_overfills_the_first_where_there_is_none() {
    let mut sample = Sample::new();
    space(&mut sample, "mat", SpaceKind::Mat, Some(2), 0);
    space(&mut sample, "mat2", SpaceKind::Mat, Some(1), 1);
    space(&mut sample, "shelf", SpaceKind::Shelf, None, 2);
    planned(&mut sample, "p", 5 * 60, 200);
    let all = found(&sample, &[]);
    // Five trays: two and one fit, two more are put on the first mat all the same.
    assert!(close(used(of(&all, "mat"), "2027-W07"), 4.0));
    assert!(close(used(of(&all, "mat2"), "2027-W07"), 1.0));
    assert_eq!(of(&all, "mat2").over().count(), 0);
    assert!(of(&all, "mat").over().count() >= 1);
    // Before it is sown, and once it is up, the mat is free; then the trays stand on the shelf, whose room nobody said.
    assert!(close(used(of(&all, "mat"), "2027-W06"), 0.0));
    assert!(close(used(of(&all, "mat"), "2027-W13"), 0.0));
    assert!(close(used(of(&all, "shelf"), "2027-W11"), 5.0));
    assert_eq!(
        (of(&all, "shelf").room, of(&all, "shelf").over().count()),
        (None, 0)
    );
    assert!(
        close(of(&all, "shelf").weeks[8].firm, 0.0),
        "nothing is sown yet"
    );
}

/// 180 plants at 20 cm in a bed 1.2 m wide: six rows, 30 plants a metre, so 6 m (square spacing, the check of `agronomy::spacing`).
#[test]
fn beds_are_taken_up_from_planting_to_the_end_of_harvest() {
    let mut sample = Sample::new();
    let bed = sample.bed("b1", 8.0);
    let stock = sample.variety("s", "matthiola", "");
    sample.sown_in_bed(&stock, &bed, "2027-01-20", 180);
    let all = found(&sample, &[]);
    let field = of(&all, "field");
    assert_eq!((field.what, field.room), (SpaceKind::Outdoors, Some(8.0)));
    assert!(close(used(field, "2027-W05"), 6.0), "{:?}", field.weeks[0]);
    assert!(close(field.weeks[0].firm, 6.0));
    assert!(close(field.weeks[59].used, 0.0), "cleared by next spring");
    assert_eq!(field.over().count(), 0);
}

#[test]
fn trays_that_stand_are_counted_where_they_stand_and_a_proposal_beside_them() {
    let mut sample = Sample::new();
    space(&mut sample, "mat", SpaceKind::Mat, Some(1), 0);
    let shelf = space(&mut sample, "shelf", SpaceKind::Shelf, Some(1), 1);
    space(&mut sample, "step", SpaceKind::Hardening, Some(9), 2);
    sample.bed("b1", 8.0);
    let variety = sample.variety("v", "antirrhinum", "white");
    let date = sample.day("2027-01-25");
    sample.add(SownFact {
        space: Some(shelf),
        tray: Some(Tray {
            what: crate::fact::CellKind::Plug,
            rows: 10,
            columns: 10,
        }),
        ..SownFact::new(variety.clone(), 100, date)
    });
    let all = found(&sample, &[]);
    let on_shelf = of(&all, "shelf");
    assert!(close(on_shelf.weeks[0].used, 1.0) && close(on_shelf.weeks[0].firm, 1.0));
    assert!(close(of(&all, "mat").most(), 0.0), "it never stood there");
    assert!(close(of(&all, "step").most(), 1.0), "later it hardens off");
    assert!(of(&all, "field").most() > 0.0, "and then needs a bed");
    let intent = Intent {
        variety,
        sow: sample.day("2027-02-01"),
        plant: sample.day("2027-04-12"),
        bloom: Some(Spread::exact(sample.day("2027-06-20"))),
        space: SpaceId::new("field").ok(),
        cells: 100,
        plants: 60,
    };
    let proposed = sample.with(|almanac| intended(almanac, &intent, sample.day(TODAY)));
    let both = found(&sample, &[proposed.expect("course")]);
    // The crop is sown in trays of 100 here, so the proposal takes one more; the shelf has room for one.
    assert!(close(used(of(&both, "shelf"), "2027-W09"), 2.0));
    assert!(of(&both, "shelf").over().count() >= 1);
    assert!(close(used(of(&both, "mat"), "2027-W05"), 1.0));
}

/// Moved alone it takes the same room as it would in a season in which the move is recorded.
#[test]
fn a_moved_sowing_takes_its_room_with_it() {
    let mut sample = Sample::new();
    space(&mut sample, "mat", SpaceKind::Mat, Some(2), 0);
    sample.bed("b1", 8.0);
    let id = planned(&mut sample, "p", 120, 90);
    let (today, later) = (sample.day(TODAY), sample.day("2027-03-15"));
    let change = Change::sown_on(later);
    let moved = sample.with(|almanac| {
        let planned = &almanac.season().planned[&id];
        let course = reforecast(almanac, planned, &change, today).expect("course");
        let outlook = Outlook::new(almanac.clone(), today);
        rooms(&outlook.with_course(Source::Planned(id.clone()), course)).to_vec()
    });
    sample.add(PlannedFact {
        sow: Some(later),
        ..PlannedFact::new(id)
    });
    assert_eq!(moved, found(&sample, &[]));
    assert!(close(used(of(&moved, "mat"), "2027-W11"), 2.0));
    assert!(close(used(of(&moved, "mat"), "2027-W08"), 0.0));
}
