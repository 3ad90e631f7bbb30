use super::*;
use crate::fact::*;
use crate::sample::Sample;
use crate::words::{Manner, Units, has};

/// Zinnia and snapdragon in the field, zinnia and ranunculus in the tunnel walked after it, a tray of zinnia hardening off.
fn place() -> Sample {
    let mut sample = Sample::new();
    let field = sample.bed("a-field", 10.0);
    for (id, what, walk) in [
        ("tunnel", SpaceKind::Tunnel, 5),
        ("porch", SpaceKind::Hardening, 9),
    ] {
        sample.add(SpaceFact {
            what: Some(what),
            name: Some(id.into()),
            walk: Some(walk),
            ..SpaceFact::new(SpaceId::new(id).unwrap())
        });
    }
    let tunnel = BedId::new("t-bed").unwrap();
    sample.add(BedFact {
        name: Some("t-bed".into()),
        length_m: Some(10.0),
        width_m: Some(1.2),
        space: SpaceId::new("tunnel").ok(),
        ..BedFact::new(tunnel.clone())
    });
    for (crop, bed) in [
        ("zinnia", &field),
        ("antirrhinum", &field),
        ("zinnia", &tunnel),
        ("ranunculus", &tunnel),
    ] {
        let variety = sample.variety(crop, crop, "white");
        sample.sown_in_bed(&variety, bed, "2027-04-01", 50);
    }
    let zinnia = VarietyId::new("zinnia").unwrap();
    let tray = sample.sown(&zinnia, "2027-04-01", 72);
    sample.counted(&tray, "2027-04-20", 70);
    let date = sample.day("2027-05-09");
    sample.add(HardeningFact {
        space: SpaceId::new("porch").ok(),
        ..HardeningFact::new(tray, date)
    });
    sample
}

fn low(sample: &mut Sample, date: &str, space: Option<&str>, min_c: f64) {
    let date = sample.day(date);
    sample.add(LowExpectedFact {
        space: space.map(|id| SpaceId::new(id).unwrap()),
        ..LowExpectedFact::new(min_c, date)
    });
}

fn of(sample: &Sample, date: &str) -> Option<Tonight> {
    let date = sample.day(date);
    let found = sample.with(|almanac| tonight(almanac, date));
    if let Some(tonight) = &found {
        for say in core::iter::once(&tonight.say).chain(tonight.items.iter().map(|item| &item.why))
        {
            assert!(has(say.key()) && !say.write(Manner::default()).contains(['{', '}']));
        }
    }
    found
}

/// What is listed, in order, with whether it would be killed.
fn listed(tonight: &Tonight) -> Vec<(&str, &str, bool)> {
    let place = |item: &CoverItem| {
        item.space.as_ref().map_or("", |id| {
            if id.as_str() == "field" {
                "field"
            } else if id.as_str() == "tunnel" {
                "tunnel"
            } else {
                "porch"
            }
        })
    };
    tonight
        .items
        .iter()
        .map(|item| (item.variety.as_str(), place(item), item.kills))
        .collect()
}

#[test]
fn a_forecast_low_lists_what_it_would_harm_in_walking_order() {
    let mut sample = place();
    assert_eq!(
        of(&sample, "2027-05-12"),
        None,
        "nothing is known of the night"
    );
    low(&mut sample, "2027-05-12", None, 1.0);
    let tonight = of(&sample, "2027-05-12").unwrap();
    // Two degrees to spare: -1 in the field, +0.3 in the tunnel, which holds zinnia back and does not kill it.
    assert_eq!(
        listed(&tonight),
        [
            ("zinnia", "field", true),
            ("zinnia", "tunnel", false),
            ("zinnia", "porch", true)
        ]
    );
    assert_eq!((tonight.low_c, tonight.from_frost), (1.0, false));
    assert!((tonight.items[1].low_c - 2.3).abs() < 1e-9);
    // The margin is a difference: 2 K are 4 °F, not 36.
    let us = Manner { units: Units::Us };
    assert_eq!(
        tonight.say.write(us),
        "34 °F is forecast for tonight. 3 lots to cover, with 4 °F to spare."
    );
    assert_eq!(
        tonight.items[0].why.write(us),
        "34 °F is to be expected here, 4 °F less on a clear night; it bears 45 °F. That would kill or scar it."
    );
    assert!(
        tonight.items[1]
            .why
            .write(Manner::default())
            .starts_with("2.3 °C is to be expected here, 2 °C less on a clear night")
    );
    assert_eq!(of(&sample, "2027-05-13"), None, "that night only");
    // A hard night: snapdragons at -4, and ranunculus in the tunnel, which is covered from -2 outdoors on.
    low(&mut sample, "2027-05-14", None, -3.0);
    let hard = of(&sample, "2027-05-14").unwrap();
    let crops: Vec<&str> = hard
        .items
        .iter()
        .map(|item| item.variety.as_str())
        .collect();
    assert_eq!(
        crops,
        ["zinnia", "antirrhinum", "zinnia", "ranunculus", "zinnia"]
    );
    // A mild one.
    low(&mut sample, "2027-05-15", None, 14.0);
    let mild = of(&sample, "2027-05-15").unwrap();
    assert_eq!((mild.items.len(), mild.say.key()), (0, "cover.none"));
}

#[test]
fn the_newest_low_counts_and_a_low_of_the_tunnel_is_the_tunnels() {
    let mut sample = place();
    low(&mut sample, "2027-05-12", None, 14.0);
    low(&mut sample, "2027-05-12", None, 1.0);
    low(&mut sample, "2027-05-12", Some("tunnel"), 12.0);
    let tonight = of(&sample, "2027-05-12").unwrap();
    assert_eq!(
        listed(&tonight),
        [("zinnia", "field", true), ("zinnia", "porch", true)]
    );
    // Of the tunnel alone nothing follows for the field.
    low(&mut sample, "2027-05-13", Some("tunnel"), 1.0);
    assert_eq!(
        listed(&of(&sample, "2027-05-13").unwrap()),
        [("zinnia", "tunnel", true)]
    );
}

#[test]
fn a_frost_this_morning_stands_for_the_night_that_follows_it() {
    let mut sample = place();
    let date = sample.day("2027-05-12");
    sample.add(FrostFact::new(date));
    let tonight = of(&sample, "2027-05-12").unwrap();
    assert!(tonight.from_frost && tonight.low_c == 0.0);
    assert_eq!(tonight.items.len(), 3);
    assert_eq!(of(&sample, "2027-05-13"), None);
    // A forecast for the same night is better.
    low(&mut sample, "2027-05-12", None, 14.0);
    assert!(!of(&sample, "2027-05-12").unwrap().from_frost);
}

#[test]
fn covering_settles_the_task_for_that_evening_only() {
    let mut sample = place();
    low(&mut sample, "2027-05-12", None, 1.0);
    low(&mut sample, "2027-05-13", None, 1.0);
    let tasks_on = |sample: &Sample, date: &str| -> Vec<(Task, Option<Fact>)> {
        let date = sample.day(date);
        sample.on(date, |outlook| {
            let almanac = outlook.almanac();
            let all = super::super::tasks(outlook);
            let cover = all.iter().filter(|task| task.kind == TaskKind::Cover);
            cover
                .map(|task| {
                    let fact = super::super::draft(almanac, task, date);
                    (task.clone(), fact)
                })
                .collect()
        })
    };
    let open = tasks_on(&sample, "2027-05-12");
    assert_eq!(open.len(), 3);
    for (task, fact) in open {
        assert_eq!(task.caution, Some("caution.cover"));
        sample.add(fact.expect("a draft"));
    }
    assert_eq!(tasks_on(&sample, "2027-05-12").len(), 0);
    let tonight = of(&sample, "2027-05-12").unwrap();
    assert!(tonight.items.iter().all(|item| item.covered));
    assert_eq!(tasks_on(&sample, "2027-05-13").len(), 3);
}

#[test]
fn seed_in_the_ground_and_trays_indoors_are_left_out() {
    let mut sample = place();
    let zinnia = VarietyId::new("zinnia").unwrap();
    let field = BedId::new("a-field").unwrap();
    sample.sown_in_bed(&zinnia, &field, "2027-05-11", 50);
    sample.sown(&zinnia, "2027-04-10", 72);
    low(&mut sample, "2027-05-12", None, 1.0);
    assert_eq!(of(&sample, "2027-05-12").unwrap().items.len(), 3);
}
