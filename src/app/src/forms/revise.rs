//! Correcting an earlier record: what changed, and the season without the record, against which the new one is held.

use season::entry::Entry;
use season::fact::{RevisedFact, VoidedFact};
use season::ids::EntryId;
use season::state::Season;
use season::{Fact, Log, Stamp};
use serde_json::{Map, Value};

/// The correction that makes one fact of another of the same kind; `None` when nothing changed.
pub fn correction(entry: &EntryId, before: &Fact, after: &Fact) -> Option<Fact> {
    let (before, after) = (before.fields()?, after.fields()?);
    let mut set: Map<String, Value> = after
        .iter()
        .filter(|(name, value)| before.get(*name) != Some(value))
        .map(|(name, value)| (name.clone(), value.clone()))
        .collect();
    for name in before.keys().filter(|name| !after.contains_key(*name)) {
        set.insert(name.clone(), Value::Null);
    }
    let revised = RevisedFact::new(entry.clone(), set);
    (!revised.set.is_empty()).then(|| revised.into())
}

/// The season as it would be had an entry not been recorded. Nothing is stored.
pub fn season_without(log: &Log, entry: &EntryId) -> Season {
    let mut log = log.clone();
    let void = VoidedFact::new(entry.clone());
    let taken_back = log.get(entry).and_then(|aim| {
        let device = aim.device().clone();
        let id = EntryId::new("taken-back").ok()?;
        Entry::new(id, Stamp::next(log.last_stamp(), 0), device, void.into()).ok()
    });
    log.extend(taken_back);
    Season::of(&log)
}
