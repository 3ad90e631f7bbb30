//! Facts to entries, ready to be stored.

use season::ids::{DeviceId, EntryId};
use season::{Entry, EntryError, Fact, Stamp};

/// Makes entries of facts, in their order, each stamped later than `last` and than the one before it.
///
/// `now_ms` is the wall clock (ms since 1970); `random` is asked once for each entry.
pub fn draft_all(
    device: &DeviceId,
    last: Option<Stamp>,
    now_ms: u64,
    mut random: impl FnMut() -> u128,
    facts: Vec<Fact>,
) -> Result<Vec<Entry>, EntryError> {
    let mut last = last;
    facts
        .into_iter()
        .map(|fact| {
            let at = Stamp::next(last, now_ms);
            last = Some(at);
            Entry::new(EntryId::mint(at.ms(), random()), at, device.clone(), fact)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use season::Log;
    use season::fact::{NoteFact, VoidedFact};

    fn note(text: &str) -> Fact {
        NoteFact::new(
            text.into(),
            chrono::NaiveDate::from_ymd_opt(2027, 2, 15).unwrap(),
        )
        .into()
    }

    fn draft(last: Option<Stamp>, facts: Vec<Fact>) -> Vec<Entry> {
        let mut n = 0;
        let random = || {
            n += 1;
            n
        };
        let device = DeviceId::new("d1").unwrap();
        draft_all(&device, last, 1_800_000_000_000, random, facts).unwrap()
    }

    #[test]
    fn entries_of_one_batch_keep_their_order_on_a_clock_that_stands() {
        let facts: Vec<Fact> = (0..50).map(|n| note(&n.to_string())).collect();
        let entries = draft(None, facts);
        let log: Log = entries.iter().rev().cloned().collect();
        let texts: Vec<&str> = log.iter().map(Entry::json).collect();
        assert!(entries.iter().map(Entry::json).eq(texts));
        assert_eq!(log.len(), 50);
    }

    #[test]
    fn an_entry_is_later_than_all_that_was_seen_even_from_a_clock_ahead() {
        let ahead = Stamp::at(1_900_000_000_000, 7).unwrap();
        let first = draft(Some(ahead), vec![note("x")]).remove(0);
        assert!(first.at() > ahead);
        let void = VoidedFact::new(first.id().clone());
        let second = draft(Some(first.at()), vec![void.into()]).remove(0);
        assert!(second.at() > first.at());
    }

    #[test]
    fn one_fact_that_does_not_fit_makes_no_entry_at_all() {
        let device = DeviceId::new("d1").unwrap();
        let long = note(&"x".repeat(season::limits::NOTE_LENGTH_MAX + 1));
        let drafted = draft_all(&device, None, 0, || 1, vec![note("a"), long]);
        assert_eq!(drafted, Err(EntryError::BadField("text")));
    }
}
