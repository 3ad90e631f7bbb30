//! Undo is a void, a void can itself be voided, and a revision sets fields and nothing else.

use std::collections::BTreeMap;

use proptest::prelude::*;
use season::fact::Fact;
use season::limits::YEARS;
use season::state::ProblemKind;
use season::{Entry, Log, Season, Stamp};
use serde_json::{Map, Value, json};

use crate::generate::*;

/// A stamp after all that [`entries`] makes.
fn late(minutes: u64) -> Stamp {
    Stamp::at(START_MS + 86_400_000 + minutes * 60_000, 0).expect("in range")
}

/// A stamp before all that [`entries`] makes.
fn early() -> Stamp {
    Stamp::at(START_MS - 86_400_000, 0).expect("in range")
}

fn correction(id: &str, at: Stamp, fields: Value) -> Entry {
    let Value::Object(map) = fields else {
        panic!("not an object")
    };
    let kind = if map.contains_key("set") {
        "revised"
    } else {
        "voided"
    };
    entry(id, at, "d5", &(kind.into(), map)).expect("a correction")
}

fn with(log: &Log, more: &[&Entry]) -> Log {
    let mut out = log.clone();
    out.extend(more.iter().map(|e| (*e).clone()));
    out
}

/// The definition, straight: an entry lives unless a living void that is later in the log names it.
fn lives<'a>(entry: &'a Entry, log: &'a Log, known: &mut BTreeMap<&'a str, bool>) -> bool {
    if let Some(lives) = known.get(entry.id().as_str()) {
        return *lives;
    }
    let key = |e: &Entry| (e.at(), e.device().clone(), e.id().clone());
    let dead = log.iter().any(|other| {
        matches!(other.fact(), Fact::Voided(f) if &f.entry == entry.id())
            && key(other) > key(entry)
            && lives(other, log, known)
    });
    known.insert(entry.id().as_str(), !dead);
    !dead
}

proptest! {
    #[test]
    fn what_lives_is_what_no_living_void_names(entries in entries()) {
        let log = log_of(&entries);
        let season = Season::of(&log);
        let mut known = BTreeMap::new();
        let mut unknown = 0;
        for entry in log.iter() {
            let alive = lives(entry, &log, &mut known);
            unknown += usize::from(alive && matches!(entry.fact(), Fact::Unknown));
            if !alive {
                prop_assert!(!season.events.contains_key(entry.id()));
            } else if let Some(event) = season.events.get(entry.id()) {
                prop_assert!(event.revised || event.fact.as_ref() == entry.fact());
                prop_assert!(event.fact.date().is_some_and(|d| YEARS.contains(&chrono::Datelike::year(&d))));
            } else {
                let revised = log.iter().any(|e| matches!(e.fact(), Fact::Revised(f) if &f.entry == entry.id()));
                prop_assert!(revised || entry.fact().date().is_none());
            }
        }
        prop_assert_eq!(season.unknown, unknown);
    }

    #[test]
    fn undo_is_a_void_and_a_void_of_it_restores(entries in entries(), said in said(), at in stamp()) {
        let before = log_of(&entries);
        let Some(new) = entry("fresh", at, "d1", &said) else { return Ok(()) };
        let void = correction("undo", late(1), json!({"entry": "fresh"}));
        let redo = correction("redo", late(2), json!({"entry": "undo"}));
        let done = with(&before, &[&new]);
        // A correction that is itself taken back leaves no trace either.
        let undone = with(&before, &[&new, &void]);
        let redone = with(&before, &[&new, &void, &redo]);
        prop_assert_eq!(season_text(&undone), season_text(&before));
        prop_assert_eq!(&Season::of(&undone).events, &Season::of(&before).events);
        prop_assert_eq!(season_text(&redone), season_text(&done));
        prop_assert_eq!(&Season::of(&redone).events, &Season::of(&done).events);
    }

    /// Revising gives what recording the corrected fields in the first place would have given; the head stays.
    #[test]
    fn a_revision_sets_fields_and_never_the_head(entries in entries(), said in said(), at in stamp(), more in said()) {
        let before = log_of(&entries);
        prop_assume!(!matches!(said.0.as_str(), "revised" | "voided"));
        let Some(new) = entry("fresh", at, "d1", &said) else { return Ok(()) };
        let mut set = more.1.clone();
        for (name, value) in [("id", "e0"), ("at", "2001-01-01T00:00:00.000Z/0000"), ("device", "d9"), ("kind", "voided")] {
            set.insert(name.into(), value.into());
        }
        let fields = Map::from_iter([("entry".into(), json!("fresh")), ("set".into(), json!(set))]);
        // A value that no entry may hold can't be set either.
        let Some(revised) = entry("fix", late(1), "d5", &("revised".into(), fields)) else { return Ok(()) };
        let mut fields: Map<String, Value> = said.1.clone();
        for (name, value) in &more.1 {
            if value.is_null() { fields.remove(name); } else { fields.insert(name.clone(), value.clone()); }
        }
        let Some(straight) = entry("fresh", at, "d1", &(said.0.clone(), fields)) else { return Ok(()) };
        prop_assert_eq!(
            season_text(&with(&before, &[&new, &revised])),
            season_text(&with(&before, &[&straight]))
        );
    }

    #[test]
    fn the_later_revision_wins(entries in entries(), a in 0u32..100, b in 0u32..100) {
        let before = log_of(&entries);
        let note = |stems: u32| entry("fresh", late(0), "d1", &("sold".into(), Map::from_iter([
            ("variety".into(), json!("v1")), ("date".into(), json!("2027-05-01")), ("stems".into(), json!(stems)),
        ]))).expect("an entry");
        let first = correction("fix1", late(1), json!({"entry": "fresh", "set": {"stems": a}}));
        let second = correction("fix2", late(2), json!({"entry": "fresh", "set": {"stems": b}}));
        let both = with(&before, &[&note(7), &second, &first]);
        prop_assert_eq!(season_text(&both), season_text(&with(&before, &[&note(b)])));
        let undo = correction("undo", late(3), json!({"entry": "fix2"}));
        prop_assert_eq!(season_text(&with(&both, &[&undo])), season_text(&with(&before, &[&note(a)])));
    }

    #[test]
    fn a_correction_before_its_target_is_a_problem_and_nothing_else(
        entries in entries(), pick in any::<prop::sample::Index>(), revise in any::<bool>(),
    ) {
        let before = log_of(&entries);
        prop_assume!(!entries.is_empty());
        let target = pick.get(&entries).id().as_str();
        let set = if revise { json!({"entry": target, "set": {"date": "2027-01-01"}}) } else { json!({"entry": target}) };
        let too_early = correction("fix", early(), set);
        let (was, mut is) = (Season::of(&before), Season::of(&with(&before, &[&too_early])));
        let told = is.problems.iter().position(|p| p.entry.as_str() == "fix" && p.what == ProblemKind::BeforeItsTarget);
        prop_assert!(told.is_some());
        is.problems.remove(told.expect("told"));
        prop_assert_eq!(is, was);
    }
}
