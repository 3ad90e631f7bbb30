//! Stamps: always forward, sorted alike as text, and true to what was known when, whatever the clocks show.

use proptest::prelude::*;
use season::fact::{Fact, NoteFact};
use season::ids::DeviceId;
use season::{Inserted, Log, Season, Stamp, file};

use crate::generate::{START_MS, season_text};
use crate::merge::file_text;

/// Any clock: right, years off, dead, absurd.
fn clock() -> impl Strategy<Value = u64> {
    prop_oneof![
        4 => START_MS - 100_000..START_MS + 100_000,
        2 => 700_000_000_000u64..7_000_000_000_000,
        1 => Just(0),
        1 => any::<u64>(),
    ]
}

fn stamp() -> impl Strategy<Value = Stamp> {
    (clock(), any::<u16>()).prop_filter_map("in range", |(ms, counter)| Stamp::at(ms, counter))
}

#[derive(Debug, Clone)]
enum Act {
    /// A device records, its clock showing this.
    Record(usize, u64),
    /// A device takes another one's file.
    Take(usize, usize),
}

fn acts() -> impl Strategy<Value = Vec<Act>> {
    proptest::collection::vec(
        prop_oneof![
            3 => (0usize..4, clock()).prop_map(|(d, ms)| Act::Record(d, ms)),
            1 => (0usize..4, 0usize..4).prop_map(|(a, b)| Act::Take(a, b)),
        ],
        1..40,
    )
}

fn note(n: usize) -> Fact {
    NoteFact::new(
        format!("note {n}"),
        chrono::NaiveDate::from_ymd_opt(2027, 2, 1).expect("a day"),
    )
    .into()
}

proptest! {
    #[test]
    fn the_next_stamp_is_later(last in proptest::option::of(stamp()), now in any::<u64>(), near in clock()) {
        for now in [now, near] {
            let next = Stamp::next(last, now);
            prop_assert!(Some(next) > last);
            prop_assert!(Stamp::next(Some(next), now) > next);
            // A clock that is believed and ahead is kept to.
            if let Some(shown) = Stamp::at(now, 0).filter(|shown| last.is_none_or(|last| shown.ms() > last.ms())) {
                prop_assert_eq!(next, shown);
            }
        }
    }

    #[test]
    fn texts_sort_as_stamps_do(a in stamp(), b in stamp()) {
        prop_assert_eq!(a.to_string().cmp(&b.to_string()), a.cmp(&b));
        prop_assert_eq!(a.to_string().parse::<Stamp>(), Ok(a));
    }

    #[test]
    fn no_text_but_its_own_reads_as_a_stamp(text in "[0-9TZ:./+a-fA-F -]{0,32}", stamp in stamp(), at in 0usize..29, with in any::<char>()) {
        if let Ok(read) = text.parse::<Stamp>() { prop_assert_eq!(read.to_string(), text); }
        let mut near: Vec<char> = stamp.to_string().chars().collect();
        near[at] = with;
        let near: String = near.into_iter().collect();
        if let Ok(read) = near.parse::<Stamp>() { prop_assert_eq!(read.to_string(), near); }
    }

    /// Whoever records knows what came before: its stamp is later than every one in its log, so no correction can be sorted
    /// before its target by a wrong clock.
    #[test]
    fn wrong_clocks_keep_cause_before_effect(acts in acts()) {
        let devices: Vec<DeviceId> = (0..4).map(|n| DeviceId::new(format!("d{n}")).expect("an id")).collect();
        let mut logs = vec![Log::new(); 4];
        let mut knew: Vec<(Stamp, Vec<Stamp>)> = Vec::new();
        for (n, act) in acts.iter().enumerate() {
            match *act {
                Act::Record(d, now) => {
                    let entry = logs[d].draft(&devices[d], now, n as u128, note(n)).expect("a note fits");
                    knew.push((entry.at(), logs[d].iter().map(|e| e.at()).collect()));
                    prop_assert_eq!(logs[d].insert(entry), Inserted::New);
                }
                Act::Take(to, from) => {
                    let read = file::read(file_text(&logs[from]).as_bytes()).expect("reads");
                    logs[to].extend(read.entries);
                }
            }
        }
        for (at, before) in knew {
            prop_assert!(before.iter().all(|earlier| *earlier < at));
        }
        let mut forward = Log::new();
        let mut backward = Log::new();
        for log in &logs { forward.extend(log.iter().cloned()); }
        for log in logs.iter().rev() { backward.extend(log.iter().cloned()); }
        prop_assert_eq!(season_text(&forward), season_text(&backward));
        prop_assert_eq!(Season::of(&forward).notes.len(), forward.len());
    }
}

/// At the very end of the years a stamp can still be followed, but not written: recording says so instead of panicking.
#[test]
fn the_end_of_the_years_is_an_error() {
    let last: Stamp = "2199-12-31T23:59:59.999Z/ffff"
        .parse()
        .expect("the last stamp");
    let beyond = Stamp::next(Some(last), START_MS);
    assert!(beyond > last);
    assert!(beyond.to_string().parse::<Stamp>().is_err());
    let device = DeviceId::new("d").expect("an id");
    let at = last.to_string();
    let mut log = Log::new();
    log.insert(
        season::Entry::read(&format!(
            r#"{{"id":"a","at":"{at}","device":"d","kind":"note","date":"2027-01-01","text":""}}"#
        ))
        .expect("an entry"),
    );
    assert!(log.draft(&device, START_MS, 1, note(1)).is_err());
}
