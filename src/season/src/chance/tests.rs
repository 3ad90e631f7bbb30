use chrono::NaiveDate;
use planner::chance::{Run, expected};

use super::*;
use crate::coverage::coverage;
use crate::fact::{OrderFact, OrderLine, PlannedFact, Role};
use crate::sample::Sample;

const TODAY: &str = "2027-02-15";

fn played(asked: &Asked) -> ByChance {
    let mut run = Run::new(&asked.case).expect("case");
    assert!(run.advance(u32::MAX));
    asked.read(&run.outcome().expect("outcome"))
}

fn planned(
    sample: &mut Sample,
    id: &str,
    variety: &VarietyId,
    sow: &str,
    (cells, plants): (u32, u32),
) {
    let fact = PlannedFact {
        variety: Some(variety.clone()),
        sow: Some(sample.day(sow)),
        cells: Some(cells),
        plants: Some(plants),
        ..PlannedFact::new(PlannedId::new(id).expect("id"))
    };
    sample.add(fact);
}

/// Spikes in a bed, more in the plan, a filler in the plan; a target for the spikes.
fn season() -> (Sample, TargetId) {
    let mut sample = Sample::new();
    let spike = sample.variety("a", "antirrhinum", "white");
    let other = sample.variety("b", "antirrhinum", "red");
    let bed = sample.bed("b", 20.0);
    sample.sown_in_bed(&spike, &bed, "2027-02-01", 150);
    planned(&mut sample, "n1", &spike, "2027-02-20", (160, 100));
    planned(&mut sample, "n2", &other, "2027-03-05", (160, 100));
    let wanted = Wanted {
        role: Some(Role::Spike),
        ..Wanted::default()
    };
    let target = sample.target("t", wanted, ("2027-W22", "2027-W36"), 60);
    (sample, target)
}

/// The seasons played and the forecast agree: over the season, the mean is that of a log-normal about the forecast's middle to 2 in
/// 100; in full weeks, the middle is the forecast's to 12 in 100. The forecast weighs three days of bloom, the seasons play all.
#[test]
fn the_seasons_played_agree_with_the_forecast() {
    let (sample, target) = season();
    let today = sample.day(TODAY);
    sample.on(today, |outlook| {
        let supply = outlook.supply();
        let mut asked = ask(outlook, &[], 7);
        asked.case.seasons = 4000;
        let mean: f64 = expected(&asked.case).expect("case").iter().sum();
        let first = IsoWeek::of(today);
        let last = first.plus(asked.case.weeks as i32 - 1);
        let forecast: f64 = supply
            .weeks(|_| true)
            .range(..=last)
            .map(|(_, stems)| stems.p50)
            .sum();
        let about = mean / (1.0 + agronomy::yields::variation_between_years(0).powi(2)).sqrt();
        assert!(
            forecast > 500.0 && (about / forecast - 1.0).abs() < 0.02,
            "{about} {forecast}"
        );

        let found = played(&asked);
        let cover = coverage(outlook);
        let weeks = &found.targets[&target];
        let mut compared = 0;
        let most = cover[0]
            .weeks
            .iter()
            .map(|week| week.stems.p50)
            .fold(0.0, f64::max);
        for (cover, week) in cover[0].weeks.iter().zip(weeks) {
            assert_eq!((cover.week, cover.wanted), (week.week, week.wanted));
            if cover.stems.p50 > 0.5 * most {
                println!(
                    "{} {:?} {:?} {} {}",
                    cover.week,
                    cover.stems,
                    week.outcome.stems,
                    cover.short_chance.get(),
                    week.outcome.short.value
                );
                compared += 1;
                let ratio = week.outcome.stems.p50 / cover.stems.p50;
                assert!((ratio - 1.0).abs() < 0.12, "{}: {ratio}", cover.week);
                let (ours, theirs) = (week.outcome.short.value, cover.short_chance.get());
                assert!(
                    (ours - theirs).abs() < 0.2,
                    "{}: {ours} {theirs}",
                    cover.week
                );
            }
        }
        assert!(compared >= 3, "{compared}");
    });
}

#[test]
fn what_is_proposed_is_played_beside_what_there_is() {
    let (sample, target) = season();
    let today = sample.day(TODAY);
    sample.on(today, |outlook| {
        let supply = outlook.supply();
        let course = supply
            .courses
            .values()
            .find(|course| course.bloom.is_some())
            .expect("course");
        let proposed = Course {
            sown: today,
            space: SpaceId::new("field").ok(),
            cells: 150,
            plants: 100,
            ..course.clone()
        };
        let without = played(&ask(outlook, &[], 7));
        let with = played(&ask(outlook, &[proposed], 7));
        let short = |found: &ByChance| -> f64 {
            found.targets[&target]
                .iter()
                .map(|week| week.outcome.short.value)
                .sum()
        };
        assert!(
            short(&with) < short(&without) - 0.5,
            "{} {}",
            short(&with),
            short(&without)
        );
    });
}

#[test]
fn an_order_goes_first_and_counts_what_is_cut_in_time_only() {
    let (mut sample, target) = season();
    let today = sample.day(TODAY);
    let before = sample.on(today, |outlook| played(&ask(outlook, &[], 7)));
    let best = before.targets[&target]
        .iter()
        .max_by(|a, b| a.outcome.mean.value.total_cmp(&b.outcome.mean.value))
        .expect("week");
    let order = |id: &str, date: NaiveDate, stems: u32| OrderFact {
        date: Some(date),
        lines: Some(vec![OrderLine::new(
            Wanted {
                role: Some(Role::Spike),
                ..Wanted::default()
            },
            stems,
        )]),
        ..OrderFact::new(OrderId::new(id).expect("id"))
    };
    let few = (best.outcome.stems.p10 / 2.0) as u32;
    sample.add(order("good", best.week.sunday(), few));
    sample.add(order("early", sample.day("2027-03-20"), 10));
    let after = sample.on(today, |outlook| played(&ask(outlook, &[], 7)));
    let chance = |id: &str| after.orders[&OrderId::new(id).expect("id")].filled.value;
    assert!(
        chance("good") > 0.9 && chance("early") < 0.01,
        "{} {}",
        chance("good"),
        chance("early")
    );
    let mean = |found: &ByChance| -> f64 {
        found.targets[&target]
            .iter()
            .map(|week| week.outcome.mean.value)
            .sum()
    };
    let taken = mean(&before) - mean(&after);
    assert!(
        (taken - f64::from(few)).abs() < 0.2 * f64::from(few),
        "{taken} of {few}"
    );
}

#[test]
fn it_travels_as_json_and_an_empty_season_can_be_asked() {
    let (sample, _) = season();
    let today = sample.day(TODAY);
    sample.on(today, |outlook| {
        let asked = ask(outlook, &[], 7);
        let text = serde_json::to_string(&asked.case).expect("text");
        assert_eq!(
            serde_json::from_str::<Case>(&text).expect("case"),
            asked.case
        );
    });
    let empty = Sample::new();
    empty.on(today, |outlook| {
        let found = played(&ask(outlook, &[], 1));
        assert!(found.targets.is_empty() && found.orders.is_empty());
        assert_eq!((found.seasons, found.seed), (SEASONS, 1));
    });
}
