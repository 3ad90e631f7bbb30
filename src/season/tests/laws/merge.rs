//! Merging is set union, and an entry is never changed.

use std::collections::BTreeSet;

use proptest::prelude::*;
use season::file::{self, Origin};
use season::ids::DeviceId;
use season::{Entry, Inserted, Log};

use crate::generate::*;

pub fn origin() -> Origin {
    Origin {
        id: DeviceId::new("d0").expect("an id"),
        name: "Bench phone".into(),
    }
}

pub fn file_text(log: &Log) -> String {
    file::write(log, &origin(), "2027-03-01T07:00:00.000Z").expect("writes")
}

fn union(a: &Log, b: &Log) -> Log {
    let mut out = a.clone();
    out.extend(b.iter().cloned());
    out
}

fn texts(log: &Log) -> BTreeSet<String> {
    log.iter().map(|e| e.json().to_owned()).collect()
}

/// Which of three devices hold an entry: at least one.
fn held() -> impl Strategy<Value = Vec<u8>> {
    proptest::collection::vec(1u8..8, 64)
}

fn part(entries: &[Entry], held: &[u8], device: u8) -> Log {
    log_of(
        entries
            .iter()
            .zip(held)
            .filter(|(_, mask)| **mask & (1 << device) != 0)
            .map(|(entry, _)| entry),
    )
}

proptest! {
    #[test]
    fn merging_is_set_union(entries in entries(), held in held()) {
        let [a, b, c] = [0, 1, 2].map(|device| part(&entries, &held, device));
        let all: BTreeSet<String> = entries.iter().map(|e| e.json().to_owned()).collect();
        let ab_c = union(&union(&a, &b), &c);
        let a_bc = union(&a, &union(&b, &c));
        let cba = union(&union(&c, &b), &a);
        prop_assert_eq!(texts(&ab_c), all, "a plain set of the texts says the same");
        prop_assert_eq!(&ab_c, &a_bc);
        prop_assert_eq!(&ab_c, &cba);
        prop_assert_eq!(&union(&ab_c, &ab_c), &ab_c);
        prop_assert_eq!(&union(&ab_c, &b), &ab_c);
        prop_assert_eq!(season_text(&ab_c), season_text(&cba));
        prop_assert_eq!(file_text(&ab_c), file_text(&cba));
    }

    #[test]
    fn the_order_of_arrival_leaves_no_trace(
        (entries, again) in entries().prop_flat_map(|e| (Just(e.clone()), Just(e).prop_shuffle())),
    ) {
        let (one, other) = (log_of(&entries), log_of(&again));
        prop_assert_eq!(season_text(&one), season_text(&other));
        prop_assert_eq!(file_text(&one), file_text(&other));
        let order: Vec<_> = one.iter().map(|e| (e.at(), e.device().clone(), e.id().clone())).collect();
        prop_assert!(order.is_sorted(), "a log is read in stamp order");
    }

    #[test]
    fn an_entry_is_never_changed(entries in entries()) {
        let mut log = Log::new();
        for entry in &entries {
            prop_assert_eq!(log.insert(entry.clone()), Inserted::New);
            prop_assert_eq!(log.insert(entry.clone()), Inserted::Known);
        }
        let read = file::read(file_text(&log).as_bytes()).expect("reads what it wrote");
        for entry in &entries {
            let kept = log.get(entry.id()).expect("kept");
            prop_assert_eq!(kept.json(), entry.json());
            prop_assert_eq!(&Entry::read(entry.json()).expect("reads its own text"), entry);
            prop_assert_eq!(&Entry::read_stored(entry.json().to_owned()).expect("reads stored text"), entry);
            let travelled = read.entries.iter().find(|e| e.id() == entry.id()).expect("travels");
            prop_assert_eq!(travelled.json(), entry.json());
        }
        prop_assert_eq!(read.entries.len(), entries.len());
    }

    /// What nobody knows yet stands in the text value for value.
    #[test]
    fn unknown_fields_survive(value in any_json(), kind in "[a-z_]{1,20}") {
        let text = serde_json::json!({
            "id": "a", "at": "2027-02-14T08:30:12.345Z/0000", "device": "d", "kind": kind, "new_field": value,
        });
        let mut log = Log::new();
        log.insert(Entry::read(&text.to_string()).expect("an entry"));
        let read = file::read(file_text(&log).as_bytes()).expect("reads");
        let back: serde_json::Value = serde_json::from_str(read.entries[0].json()).expect("JSON");
        prop_assert!(alike(&back["new_field"], &value), "{} became {}", value, back["new_field"]);
    }

    /// A device restored from a copy may reuse an id: the log keeps what it had and says so.
    #[test]
    fn a_taken_id_changes_nothing(entries in entries(), said in said(), at in stamp(), pick in any::<prop::sample::Index>()) {
        let log = log_of(&entries);
        prop_assume!(!log.is_empty());
        let known = pick.get(&entries);
        let Some(double) = entry(known.id().as_str(), at, "d7", &said) else { return Ok(()) };
        let mut after = log.clone();
        prop_assert_eq!(after.compare(&double), Inserted::Clash);
        prop_assert_eq!(after.insert(double), Inserted::Clash);
        prop_assert_eq!(&after, &log);
    }
}

/// Equal as JSON says: 1 and 1.0 are one number.
fn alike(a: &serde_json::Value, b: &serde_json::Value) -> bool {
    use serde_json::Value::*;
    match (a, b) {
        (Number(a), Number(b)) => a.as_f64() == b.as_f64(),
        (Array(a), Array(b)) => a.len() == b.len() && a.iter().zip(b).all(|(a, b)| alike(a, b)),
        (Object(a), Object(b)) => {
            a.len() == b.len() && a.iter().all(|(k, a)| b.get(k).is_some_and(|b| alike(a, b)))
        }
        (a, b) => a == b,
    }
}
