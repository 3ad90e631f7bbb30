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
            variety: variety(),
            lot: Some(LotId::new("l1").unwrap()),
            date,
            space: Some(space()),
            cells: 60,
            seeds_per_cell: 1,
            tray: Some(tray),
            dome: true,
            planned: Some(PlannedId::new("pl1").unwrap()),
            for_space: Some(SpaceId::new("sp2").unwrap()),
            label: Some("A 1".into()),
            number: Some(41),
            again_for: None,
        }
        .into(),
        DirectSownFact {
            variety: variety(),
            lot: None,
            date,
            bed: bed(),
            plants: 100,
            spacing_cm: Some(15.0),
            planned: None,
        }
        .into(),
        CountedFact {
            sowing: sowing(),
            date,
            up: 45,
            of: None,
            doubles: None,
            about: false,
            map: None,
        }
        .into(),
        MovedFact {
            sowing: sowing(),
            date,
            space: space(),
        }
        .into(),
        DomeLiftedFact {
            sowing: sowing(),
            date,
        }
        .into(),
        MatOffFact {
            sowing: sowing(),
            date,
            space: Some(space()),
        }
        .into(),
        LostFact {
            sowing: Some(sowing()),
            planting: None,
            date,
            number: 6,
            cause: LossCause::DriedOut,
            up: None,
            tray: None,
        }
        .into(),
        PrickedOutFact {
            sowing: sowing(),
            date,
            cells: 3,
        }
        .into(),
        PottedOnFact {
            sowing: sowing(),
            date,
            tray: Some(tray),
        }
        .into(),
        HardeningFact {
            sowing: sowing(),
            date,
            space: None,
        }
        .into(),
        TransplantedFact {
            sowing: sowing(),
            date,
            bed: bed(),
            plants: 48,
            spacing_cm: Some(15.0),
        }
        .into(),
        PinchedFact {
            planting: planting(),
            date,
        }
        .into(),
        NettedFact {
            planting: planting(),
            date,
        }
        .into(),
        WateredFact {
            sowing: Some(sowing()),
            planting: None,
            date,
            regime: Some(WaterRegime::DryBetween),
        }
        .into(),
        FedFact {
            sowing: None,
            planting: Some(planting()),
            date,
        }
        .into(),
        SeenFact {
            planting: planting(),
            date,
            stage: BloomStage::FirstColour,
        }
        .into(),
        TemperatureFact {
            space: None,
            date,
            min_c: -4.5,
            max_c: 6.0,
            mean_c: None,
        }
        .into(),
        FrostFact {
            space: Some(space()),
            date,
            min_c: Some(-2.0),
        }
        .into(),
        CutFact {
            planting: planting(),
            date,
            stems: 40,
            grade: Some(Grade::First),
            culls: 3,
        }
        .into(),
        BunchedFact {
            variety: variety(),
            date,
            bunches: 4,
            stems_each: 10,
        }
        .into(),
        DiscardedFact {
            variety: variety(),
            date,
            stems: 7,
        }
        .into(),
        SoldFact {
            variety: variety(),
            date,
            stems: 30,
            order: Some(OrderId::new("o1").unwrap()),
            due: None,
            income: None,
        }
        .into(),
        BoughtInFact {
            variety: variety(),
            date,
            stems: 20,
            cost: season::money::Money::of_text("7.50"),
        }
        .into(),
        AllocatedFact {
            order: OrderId::new("o1").unwrap(),
            due: None,
            variety: variety(),
            date,
            stems: 20,
        }
        .into(),
        HandedOverFact {
            order: OrderId::new("o1").unwrap(),
            due: date,
            date,
            skipped: true,
        }
        .into(),
        WarmedFact {
            variety: Some(variety()),
            cut: Some(date),
            date,
            hours: 1.5,
            temp_c: 24.0,
        }
        .into(),
        ConditionedFact {
            variety: variety(),
            date,
        }
        .into(),
        LowExpectedFact {
            space: None,
            date,
            min_c: -2.0,
        }
        .into(),
        CoveredFact {
            sowing: None,
            planting: Some(planting()),
            date,
        }
        .into(),
        DisbuddedFact {
            planting: planting(),
            date,
        }
        .into(),
        FinishedFact {
            sowing: Some(sowing()),
            planting: None,
            date,
        }
        .into(),
        NoteFact {
            about: Some("s1".into()),
            date,
            text: "Algae on the\nsecond row".into(),
        }
        .into(),
        OrderFact {
            of: OrderId::new("o1").unwrap(),
            who: None,
            date: None,
            lines: None,
            pieces: None,
            done: Some(true),
            retired: None,
            every_days: None,
            until: None,
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
            planting: None,
            date: day("2027-01-20"),
            number: 50,
            cause: LossCause::DriedOut,
            up: None,
            tray: None,
        }
        .into(),
    );
    let whole = season::Season::of(&log);
    assert_eq!(whole.sowings[&sowing].standing_now().cells, 10);
    let without = season_without(&log, &lost);
    assert_eq!(without.sowings[&sowing].standing_now().cells, 60);
    assert_eq!(log.len(), 2, "nothing is stored");
}
