//! The log: a set of entries, merged by union, read in stamp order.

use std::collections::{BTreeMap, HashMap};

use crate::entry::{Entry, EntryError};
use crate::fact::Fact;
use crate::ids::{DeviceId, EntryId};
use crate::stamp::Stamp;

/// Stamp first, then device and id, so that any two devices agree on one order.
type Key = (Stamp, DeviceId, EntryId);

/// All entries that this device knows.
#[derive(Debug, Clone, Default)]
pub struct Log {
    entries: BTreeMap<Key, Entry>,
    by_id: HashMap<EntryId, Key>,
}

/// What became of an entry that was put in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Inserted {
    /// It was not known.
    New,
    /// It was known already, to the letter.
    Known,
    /// Another entry has its id (a device restored from a copy went its own way); the log keeps what it had.
    Clash,
}

impl Log {
    /// An empty log.
    pub fn new() -> Self {
        Self::default()
    }

    /// Puts an entry in, unless its id is taken.
    pub fn insert(&mut self, entry: Entry) -> Inserted {
        if let Some(key) = self.by_id.get(entry.id()) {
            let same = self
                .entries
                .get(key)
                .is_some_and(|known| known.json() == entry.json());
            return if same {
                Inserted::Known
            } else {
                Inserted::Clash
            };
        }
        let key = (entry.at(), entry.device().clone(), entry.id().clone());
        self.by_id.insert(entry.id().clone(), key.clone());
        self.entries.insert(key, entry);
        Inserted::New
    }

    /// What putting an entry in would do.
    pub fn compare(&self, entry: &Entry) -> Inserted {
        match self.get(entry.id()) {
            None => Inserted::New,
            Some(known) if known.json() == entry.json() => Inserted::Known,
            Some(_) => Inserted::Clash,
        }
    }

    /// The entry with an id.
    pub fn get(&self, id: &EntryId) -> Option<&Entry> {
        self.entries.get(self.by_id.get(id)?)
    }

    /// All entries, earliest stamp first.
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = &Entry> {
        self.entries.values()
    }

    /// The entries themselves, earliest stamp first.
    pub fn into_entries(self) -> impl Iterator<Item = Entry> {
        self.entries.into_values()
    }

    /// How many entries.
    pub fn len(&self) -> usize {
        self.entries.len()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }

    /// The latest stamp seen.
    pub fn last_stamp(&self) -> Option<Stamp> {
        self.entries
            .last_key_value()
            .map(|((stamp, _, _), _)| *stamp)
    }

    /// Makes the next entry of a device: its stamp is later than all that the log has seen. Not put in: that is for the
    /// caller, once the entry is stored.
    ///
    /// `now_ms` is the wall clock (ms since 1970), `random` gives the id its unguessable part.
    pub fn draft(
        &self,
        device: &DeviceId,
        now_ms: u64,
        random: u128,
        fact: Fact,
    ) -> Result<Entry, EntryError> {
        let at = Stamp::next(self.last_stamp(), now_ms);
        Entry::new(EntryId::mint(at.ms(), random), at, device.clone(), fact)
    }
}

/// Two logs are equal when they hold the same entries.
impl PartialEq for Log {
    fn eq(&self, other: &Self) -> bool {
        self.len() == other.len()
            && self
                .iter()
                .zip(other.iter())
                .all(|(a, b)| a.json() == b.json())
    }
}

impl Eq for Log {}

impl Extend<Entry> for Log {
    fn extend<I: IntoIterator<Item = Entry>>(&mut self, entries: I) {
        for entry in entries {
            self.insert(entry);
        }
    }
}

impl FromIterator<Entry> for Log {
    fn from_iter<I: IntoIterator<Item = Entry>>(entries: I) -> Self {
        let mut log = Self::new();
        log.extend(entries);
        log
    }
}
