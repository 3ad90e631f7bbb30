//! Beds of a small season.

use super::*;
use crate::fact::PlannedFact;
use crate::sample::Sample;

const TODAY: &str = "2027-03-01";

fn planned(
    sample: &mut Sample,
    id: &str,
    variety: &VarietyId,
    (space, bed): (Option<&str>, Option<&str>),
) -> PlannedId {
    let of = PlannedId::new(id).expect("id");
    let sow = Some(sample.day("2027-03-02"));
    sample.add(PlannedFact {
        variety: Some(variety.clone()),
        sow,
        space: space.map(|id| SpaceId::new(id).expect("id")),
        bed: bed.map(|id| BedId::new(id).expect("id")),
        cells: Some(120),
        plants: Some(90),
        ..PlannedFact::new(of.clone())
    });
    of
}

fn laid(sample: &Sample) -> Arc<BedPlan> {
    let today = sample.day(TODAY);
    sample.on(today, bed_plan)
}

fn bed_of(plan: &BedPlan, id: &PlannedId) -> Vec<String> {
    let mine = |row: &&BedRow| {
        row.bars
            .iter()
            .any(|bar| bar.what == Source::Planned(id.clone()))
    };
    plan.beds
        .iter()
        .filter(mine)
        .map(|row| row.bed.to_string())
        .collect()
}

/// 60 plants at 20 cm in six rows take 2 m, 90 at the crop's 15 cm in eight 1.8 m: 0.3 m more than a bed of 3.5 m has.
#[test]
fn what_stands_stays_and_the_plan_fills_the_rest() {
    let mut sample = Sample::new();
    let spike = sample.variety("a", "antirrhinum", "white");
    let (one, _) = (sample.bed("b1", 3.5), sample.bed("b2", 4.0));
    let stands = sample.sown_in_bed(&spike, &one, "2027-02-20", 60);
    let free = planned(&mut sample, "n1", &spike, (Some("field"), None));
    let given = planned(&mut sample, "n2", &spike, (Some("field"), Some("b1")));
    let plan = laid(&sample);
    let standing = plan.beds[0]
        .bars
        .iter()
        .find(|bar| bar.what == Source::Planting(stands.clone()));
    assert!(standing.is_some_and(|bar| bar.fixed && (bar.to_m - bar.from_m - 2.0).abs() < 1e-9));
    assert_eq!(bed_of(&plan, &free), ["b2"]);
    assert_eq!(bed_of(&plan, &given), ["b1"]);
    let [conflict] = plan.conflicts.as_slice() else {
        panic!("{:?}", plan.conflicts);
    };
    assert_eq!(
        (conflict.what.clone(), conflict.place.as_str()),
        (Source::Planned(given.clone()), "b1")
    );
    assert!((conflict.metres - 0.3).abs() < 1e-9, "{conflict:?}");
    let said = conflict
        .say(Say::new("name.variety").with("name", "White"))
        .write(crate::words::Manner::default());
    assert!(said.contains("White") && said.contains("b1"), "{said}");

    // A space without a bed leaves it to the plan again.
    planned(&mut sample, "n2", &spike, (Some("field"), None));
    let plan = laid(&sample);
    assert!(plan.conflicts.is_empty(), "{:?}", plan.conflicts);
}

#[test]
fn a_space_without_a_sized_bed_is_told() {
    let mut sample = Sample::new();
    let spike = sample.variety("a", "antirrhinum", "white");
    let bed = sample.bed("b1", 4.0);
    planned(&mut sample, "n1", &spike, (Some("field"), None));
    sample.add(crate::fact::BedFact {
        retired: Some(true),
        ..crate::fact::BedFact::new(bed)
    });
    let plan = laid(&sample);
    assert!(plan.beds.is_empty());
    assert!(plan.conflicts.len() == 1 && plan.conflicts[0].no_bed);
    assert!(plan.weeks.0 <= plan.conflicts[0].weeks.0 && plan.conflicts[0].weeks.1 <= plan.weeks.1);
    assert!(laid(&Sample::new()).conflicts.is_empty());
}
