//! Forms hold every fact they can show: text and fact go to each other and back.

mod book;

use chrono::NaiveDate;
use season::Fact;
use season::fact::*;
use season::ids::*;
use season::words::{Manner, Units};

use super::filled::{Filled, Texts, Wrong};
use super::revise::{correction, season_without};

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// One fact of every kind that has a form.
pub(super) fn one_of_each() -> Vec<Fact> {
    let date = day("2027-01-18");
    let sowing = || SowingId::new("s1").unwrap();
    let planting = || PlantingId::new("p1").unwrap();
    let variety = || VarietyId::new("v1").unwrap();
    let space = || SpaceId::new("sp1").unwrap();
    let bed = || BedId::new("b1").unwrap();
    let tray = Tray {
        what: CellKind::Block,
        rows: 6,
        columns: 10,
    };
    vec![
        SownFact {
            space: Some(space()),
            tray: Some(tray),
            dome: true,
            lot: Some(LotId::new("l1").unwrap()),
            planned: Some(PlannedId::new("pl1").unwrap()),
            for_space: Some(SpaceId::new("sp2").unwrap()),
            label: Some("A 1".into()),
            number: Some(41),
            ..SownFact::new(variety(), 60, date)
        }
        .into(),
        DirectSownFact {
            spacing_cm: Some(15.0),
            ..DirectSownFact::new(variety(), bed(), 100, date)
        }
        .into(),
        CountedFact::new(sowing(), 45, date).into(),
        MovedFact::new(sowing(), space(), date).into(),
        DomeLiftedFact::new(sowing(), date).into(),
        MatOffFact {
            space: Some(space()),
            ..MatOffFact::new(sowing(), date)
        }
        .into(),
        LostFact {
            sowing: Some(sowing()),
            ..LostFact::new(LossCause::DriedOut, 6, date)
        }
        .into(),
        PrickedOutFact::new(sowing(), 3, date).into(),
        PottedOnFact {
            tray: Some(tray),
            ..PottedOnFact::new(sowing(), date)
        }
        .into(),
        HardeningFact::new(sowing(), date).into(),
        TransplantedFact {
            spacing_cm: Some(15.0),
            ..TransplantedFact::new(sowing(), bed(), 48, date)
        }
        .into(),
        PinchedFact::new(planting(), date).into(),
        NettedFact::new(planting(), date).into(),
        WateredFact {
            sowing: Some(sowing()),
            regime: Some(WaterRegime::DryBetween),
            ..WateredFact::new(date)
        }
        .into(),
        FedFact {
            planting: Some(planting()),
            ..FedFact::new(date)
        }
        .into(),
        SeenFact::new(planting(), BloomStage::FirstColour, date).into(),
        TemperatureFact::new(-4.5, 6.0, date).into(),
        FrostFact {
            min_c: Some(-2.0),
            space: Some(space()),
            ..FrostFact::new(date)
        }
        .into(),
        CutFact {
            culls: 3,
            grade: Some(Grade::First),
            ..CutFact::new(planting(), 40, date)
        }
        .into(),
        BunchedFact::new(variety(), 4, 10, date).into(),
        DiscardedFact::new(variety(), 7, date).into(),
        SoldFact {
            order: Some(OrderId::new("o1").unwrap()),
            ..SoldFact::new(variety(), 30, date)
        }
        .into(),
        BoughtInFact {
            cost: season::money::Money::of_text("7.50"),
            ..BoughtInFact::new(variety(), 20, date)
        }
        .into(),
        AllocatedFact::new(OrderId::new("o1").unwrap(), variety(), 20, date).into(),
        HandedOverFact {
            skipped: true,
            ..HandedOverFact::new(OrderId::new("o1").unwrap(), date, date)
        }
        .into(),
        WarmedFact {
            variety: Some(variety()),
            cut: Some(date),
            ..WarmedFact::new(1.5, 24.0, date)
        }
        .into(),
        ConditionedFact::new(variety(), date).into(),
        LowExpectedFact::new(-2.0, date).into(),
        CoveredFact {
            planting: Some(planting()),
            ..CoveredFact::new(date)
        }
        .into(),
        DisbuddedFact::new(planting(), date).into(),
        FinishedFact {
            sowing: Some(sowing()),
            ..FinishedFact::new(date)
        }
        .into(),
        NoteFact {
            about: Some("s1".into()),
            ..NoteFact::new("Algae on the\nsecond row".into(), date)
        }
        .into(),
        OrderFact {
            done: Some(true),
            ..OrderFact::new(OrderId::new("o1").unwrap())
        }
        .into(),
    ]
}

fn find(kind: &str) -> Fact {
    one_of_each()
        .into_iter()
        .find(|fact| fact.kind() == Some(kind))
        .unwrap()
}

/// The form of a kind with one text changed, read.
fn read(kind: &str, changes: &[(&'static str, &str)]) -> Result<Fact, Wrong> {
    let filled = Filled::of(&find(kind), false).unwrap();
    let mut texts: Texts = filled.texts(Manner::default());
    for (name, text) in changes {
        assert!(texts.insert(name, (*text).into()).is_some(), "{name}");
    }
    filled.read(&texts, Manner::default())
}

fn wrong(kind: &str, changes: &[(&'static str, &str)]) -> Vec<(&'static str, &'static str)> {
    let wrong = read(kind, changes).unwrap_err();
    wrong
        .into_iter()
        .map(|(name, say)| (name, say.key()))
        .collect()
}

#[test]
fn every_form_reads_back_the_fact_it_was_opened_with_in_both_units() {
    for fact in one_of_each() {
        for units in [Units::Metric, Units::Us] {
            let manner = Manner { units };
            for corrected in [false, true] {
                let filled = Filled::of(&fact, corrected).unwrap();
                let texts = filled.texts(manner);
                let back = filled.read(&texts, manner).unwrap();
                assert_near(&back, &fact);
            }
        }
    }
}

/// Alike but for what a field's decimals in other units can't hold: half a tenth of an inch, half a tenth of a degree F.
fn assert_near(one: &Fact, other: &Fact) {
    let (a, b) = (one.fields().unwrap(), other.fields().unwrap());
    assert_eq!(a.keys().collect::<Vec<_>>(), b.keys().collect::<Vec<_>>());
    for (name, value) in &a {
        match (value.as_f64(), b[name].as_f64()) {
            (Some(x), Some(y)) => assert!((x - y).abs() <= 0.13, "{name}: {x} {y}"),
            _ => assert_eq!(value, &b[name], "{name}"),
        }
    }
}

#[test]
fn what_a_form_does_not_ask_stays_as_it_began() {
    let Ok(Fact::Sown(sown)) = read("sown", &[("cells", "120"), ("dome", ""), ("lot", "")]) else {
        panic!("reads");
    };
    assert_eq!(sown.cells, 120);
    assert!(!sown.dome && sown.lot.is_none());
    assert_eq!(sown.planned.unwrap().as_str(), "pl1");
    assert_eq!(sown.variety.as_str(), "v1");
}

#[test]
fn fields_that_files_leave_out_show_their_usual_value() {
    let filled = Filled::of(&find("sown"), false).unwrap();
    let texts = filled.texts(Manner::default());
    assert_eq!(texts["seeds_per_cell"], "1");
    assert_eq!(texts["dome"], "yes");
    assert!(!texts.contains_key("variety"), "settled before");
    assert!(
        Filled::of(&find("sown"), true)
            .unwrap()
            .texts(Manner::default())
            .contains_key("variety")
    );
}

#[test]
fn a_tray_has_rows_and_columns_or_neither() {
    let none = read("sown", &[("tray.rows", ""), ("tray.columns", "")]).unwrap();
    assert!(matches!(none, Fact::Sown(f) if f.tray.is_none()));
    assert_eq!(
        wrong("sown", &[("tray.rows", "")]),
        [("tray.rows", "typed.no_count")]
    );
    assert_eq!(
        wrong("sown", &[("tray.columns", "0")]),
        [("tray.columns", "typed.out_of_range")]
    );
    assert_eq!(
        wrong("potted_on", &[("tray.what", "")]),
        [("tray.what", "typed.not_picked")]
    );
}

#[test]
fn nonsense_is_told_at_its_field_and_all_of_it_at_once() {
    assert_eq!(
        wrong("counted", &[("up", "-3"), ("date", "")]),
        [("up", "typed.out_of_range"), ("date", "typed.no_date")]
    );
    assert_eq!(
        wrong("counted", &[("up", "many")]),
        [("up", "typed.not_whole")]
    );
    assert_eq!(
        wrong("counted", &[("up", "99999999999")]),
        [("up", "typed.out_of_range")]
    );
    assert_eq!(
        wrong("lost", &[("cause", "")]),
        [("cause", "typed.not_picked")]
    );
    assert_eq!(
        wrong("moved", &[("space", "")]),
        [("space", "typed.not_picked")]
    );
    assert_eq!(
        wrong("note", &[("text", "  ")]),
        [("text", "check.note_empty")]
    );
    assert_eq!(
        wrong("temperature", &[("min_c", "cold"), ("max_c", "999")]),
        [
            ("min_c", "typed.not_number"),
            ("max_c", "typed.out_of_range")
        ]
    );
    assert_eq!(
        wrong("transplanted", &[("date", "2027-02-30")]),
        [("date", "typed.not_date")]
    );
}

/// 23 F is -5 C and 6 in are 15.24 cm, by definition of the degree Fahrenheit and the inch.
#[test]
fn quantities_are_read_in_the_growers_units() {
    let us = Manner { units: Units::Us };
    let filled = Filled::of(&find("frost"), false).unwrap();
    let mut texts = filled.texts(us);
    texts.insert("min_c", "23".into());
    let Ok(Fact::Frost(frost)) = filled.read(&texts, us) else {
        panic!("reads");
    };
    assert_eq!(frost.min_c, Some(-5.0));
    let filled = Filled::of(&find("transplanted"), false).unwrap();
    let mut texts = filled.texts(us);
    texts.insert("spacing_cm", "6".into());
    let Ok(Fact::Transplanted(set)) = filled.read(&texts, us) else {
        panic!("reads");
    };
    assert_eq!(set.spacing_cm, Some(15.24));
}

#[test]
fn a_correction_holds_what_changed_and_nothing_else() {
    let before = find("lost");
    let Ok(after) = read("lost", &[("number", "10"), ("date", "2027-01-19")]) else {
        panic!("reads");
    };
    let entry = EntryId::new("e1").unwrap();
    let Some(Fact::Revised(revised)) = correction(&entry, &before, &after) else {
        panic!("a correction");
    };
    assert_eq!(revised.entry, entry);
    let set: Vec<String> = revised
        .set
        .iter()
        .map(|(k, v)| format!("{k}={v}"))
        .collect();
    assert_eq!(set, ["date=\"2027-01-19\"", "number=10"]);
    assert!(correction(&entry, &before, &before).is_none());
}

#[test]
fn a_field_that_is_emptied_is_taken_away_by_the_correction() {
    let before = find("mat_off");
    let after = read("mat_off", &[("space", "")]).unwrap();
    let entry = EntryId::new("e1").unwrap();
    let Some(Fact::Revised(revised)) = correction(&entry, &before, &after) else {
        panic!("a correction");
    };
    assert_eq!(revised.set["space"], serde_json::Value::Null);
}

#[test]
fn an_earlier_record_is_held_against_the_season_without_it() {
    let device = DeviceId::new("d1").unwrap();
    let mut log = season::Log::new();
    let mut record = |fact: Fact| {
        let n = log.len() as u128;
        let entry = log.draft(&device, 1_800_000_000_000, n, fact).unwrap();
        log.insert(entry.clone());
        entry.id().clone()
    };
    let sown = record(find("sown"));
    let sowing = SowingId::from(sown);
    let lost = record(
        LostFact {
            sowing: Some(sowing.clone()),
            ..LostFact::new(LossCause::DriedOut, 50, day("2027-01-20"))
        }
        .into(),
    );
    let whole = season::Season::of(&log);
    assert_eq!(whole.sowings[&sowing].standing_now().cells, 10);
    let without = season_without(&log, &lost);
    assert_eq!(without.sowings[&sowing].standing_now().cells, 60);
    assert_eq!(log.len(), 2, "nothing is stored");
}
