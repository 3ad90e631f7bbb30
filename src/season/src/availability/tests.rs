use super::*;
use crate::fact::{CutFact, OrderFact, OrderLine, Wanted};
use crate::forecast::{Course, Supply};
use crate::sample::Sample;
use crate::words::{Manner, Say};

const TODAY: &str = "2027-06-14";

/// 30 white spikes in the cooler; 100 more of them in this week and 200 in the next, from one planting; 100 white ones of another
/// sowing in the next week.
fn season() -> (Sample, VarietyId, Supply) {
    let mut sample = Sample::new();
    let spike = sample.variety("a", "antirrhinum", "white");
    let other = sample.variety("b", "antirrhinum", "White ");
    let bed = sample.bed("bed", 5.0);
    let planting = sample.sown_in_bed(&spike, &bed, "2027-03-01", 60);
    let date = sample.day("2027-06-13");
    sample.add(CutFact::new(planting.clone(), 30, date));
    let stems = |middle: f64| Spread {
        p10: middle * 0.6,
        p50: middle,
        p90: middle * 1.8,
    };
    let week = |text: &str| text.parse().expect("week");
    let course =
        |source, variety: &VarietyId, weeks| (source, Course::of_stems(variety.clone(), weeks));
    let supply = Supply {
        courses: BTreeMap::from([
            course(
                Source::Planting(planting),
                &spike,
                vec![
                    (week("2027-W24"), stems(100.0)),
                    (week("2027-W25"), stems(200.0)),
                ],
            ),
            course(
                Source::Planned(PlannedId::new("p").expect("id")),
                &other,
                vec![(week("2027-W25"), stems(100.0))],
            ),
        ]),
        ..Supply::default()
    };
    (sample, spike, supply)
}

fn lines(sample: &Sample, supply: &Supply, by: By) -> Vec<Line> {
    let today = sample.day(TODAY);
    sample.supplied(supply, today, |outlook| availability(outlook, by, 4))
}

#[test]
fn a_share_of_the_forecast_can_be_promised_and_all_that_is_cut() {
    let (sample, _, supply) = season();
    let lines = lines(&sample, &supply, By::RoleAndColour);
    assert_eq!(lines.len(), 1, "one role, one colour however it is written");
    let weeks = &lines[0].weeks;
    // 65 in 100 of 100, and 30 in the cooler.
    assert_eq!((weeks[0].free, weeks[0].in_stock), (95, 30));
    assert!(weeks[0].is_thin());
    // 65 in 100 of 300, from two sowings.
    assert_eq!((weeks[1].free, weeks[1].sources), (195, 2));
    assert!(!weeks[1].is_thin());
    // Half of the variance of each is the year's: 80 and 40 below the middle, 120 if both were one.
    let below = ((80.0f64.powi(2) + 40.0f64.powi(2) + 120.0f64.powi(2)) / 2.0).sqrt();
    assert!((weeks[1].stems.p10 - (300.0 - below)).abs() < 1e-9);
    assert_eq!((weeks[2].free, weeks[3].free), (0, 0));
}

#[test]
fn what_is_promised_is_not_offered_again() {
    let (mut sample, spike, supply) = season();
    let date = Some(sample.day("2027-06-27"));
    sample.add(OrderFact {
        date,
        lines: Some(vec![OrderLine::new(
            Wanted {
                variety: Some(spike),
                ..Wanted::default()
            },
            230,
        )]),
        ..OrderFact::new(OrderId::new("o").expect("id"))
    });
    let by_variety = lines(&sample, &supply, By::Variety);
    let free: Vec<Vec<u32>> = by_variety
        .iter()
        .map(|line| line.weeks.iter().map(|week| week.free).collect())
        .collect();
    // The order's day is twelve days off: stems of the cooler and of early this week don't keep, so it takes the next week's.
    let taken: f64 = by_variety[0].weeks.iter().map(|week| week.promised).sum();
    assert!((200.0..=230.0 + 1e-9).contains(&taken), "{taken}");
    assert_eq!(free[0][1], 0, "{free:?}");
    assert_eq!(free[1][1], 65, "{free:?}");
}

#[test]
fn the_list_for_florists_names_weeks_and_stems_and_says_when_there_is_nothing() {
    let (sample, _, supply) = season();
    let all = lines(&sample, &supply, By::RoleAndColour);
    let title = Say::new("avail.title");
    let name = |_: &Line| Say::new("avail.title");
    let text = list(&all, &title, name, Manner::default());
    assert!(text.contains("95") && text.contains("195"), "{text}");
    assert_eq!(
        text.lines().filter(|line| line.is_empty()).count(),
        2,
        "two weeks"
    );
    let none = list(&[], &title, name, Manner::default());
    assert!(
        none.ends_with(crate::words::text("avail.list.none")),
        "{none}"
    );
}
