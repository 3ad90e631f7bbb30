//! Which flush a planting is in, by its cuts.

use chrono::NaiveDate;

use crate::forecast::shifted;
use crate::state::CutRecord;

/// Days without stems that part two flushes at the least, and the share of the usual interval that does (common practice: cut at
/// least once a week while there is something to cut).
const GAP_DAYS: i64 = 10;
const GAP_SHARE: f64 = 0.3;
/// A flush has tailed off when what is cut a day has fallen below this share of its best.
const TAIL: f64 = 0.5;

/// A flush that the cuts show.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FlushTold {
    /// Which one, the first is 1.
    pub number: u8,
    /// Its first cut.
    pub began: NaiveDate,
    /// Its last cut, once it is over.
    pub ended: Option<NaiveDate>,
    /// When the next one is due, by the crop's usual interval; `None` for the last one that is usual.
    pub next: Option<NaiveDate>,
}

/// The flush that a planting is in, or came out of last, as of a day; `None` before the first cut. Days without stems part two
/// flushes only after the cuts have tailed off: a week of rain in the middle of one does not.
pub(super) fn flush_told(
    cuts: &[CutRecord],
    flushes: f64,
    interval_days: f64,
    today: NaiveDate,
) -> Option<FlushTold> {
    let given: Vec<(NaiveDate, f64)> = cuts
        .iter()
        .filter(|cut| cut.date <= today && cut.stems.saturating_add(cut.culls) > 0)
        .map(|cut| (cut.date, f64::from(cut.stems) + f64::from(cut.culls)))
        .collect();
    let gap = GAP_DAYS.max((GAP_SHARE * interval_days).round() as i64);
    let first = given.first()?.0;
    let mut told = FlushTold {
        number: 1,
        began: first,
        ended: None,
        next: None,
    };
    let mut last = first;
    let (mut best, mut rate) = (0.0_f64, 0.0_f64);
    for (date, stems) in given {
        let days = (date - last).num_days();
        if days >= gap && rate < TAIL * best {
            told = FlushTold {
                number: told.number.saturating_add(1),
                began: date,
                ..told
            };
            (best, rate) = (0.0, 0.0);
        } else if days > 0 {
            rate = stems / days as f64;
            best = best.max(rate);
        } else {
            // The first cut of a flush, or a second one on the day: what stood there for a few days.
            rate = rate.max(stems / 3.0);
            best = best.max(rate);
        }
        last = date;
    }
    if (today - last).num_days() >= gap && rate < TAIL * best {
        told.ended = Some(last);
    }
    if f64::from(told.number) < flushes.ceil() {
        let due = shifted(told.began, interval_days.round() as i64);
        told.next = Some(if told.ended.is_some() {
            due.max(today)
        } else {
            due
        });
    }
    Some(told)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ids::EntryId;

    fn day(text: &str) -> NaiveDate {
        text.parse().expect("a date")
    }

    fn cuts(of: &[(&str, u32)]) -> Vec<CutRecord> {
        of.iter()
            .map(|(date, stems)| CutRecord {
                entry: EntryId::new("e").expect("an id"),
                date: day(date),
                stems: *stems,
                culls: 0,
                grade: None,
            })
            .collect()
    }

    const FIRST: [(&str, u32); 6] = [
        ("2027-06-01", 12),
        ("2027-06-04", 30),
        ("2027-06-07", 33),
        ("2027-06-10", 31),
        ("2027-06-14", 18),
        ("2027-06-18", 6),
    ];

    #[test]
    fn a_gap_after_a_tail_ends_a_flush_and_says_when_the_next_is_due() {
        let seen = cuts(&FIRST);
        let told = |today| flush_told(&seen, 2.0, 40.0, day(today)).expect("cuts");
        assert_eq!(told("2027-06-20").ended, None);
        assert_eq!(told("2027-06-20").next, Some(day("2027-07-11")));
        let over = told("2027-07-02");
        assert_eq!((over.number, over.ended), (1, Some(day("2027-06-18"))));
        assert_eq!(over.next, Some(day("2027-07-11")));
        // What is overdue is due from today.
        assert_eq!(told("2027-07-20").next, Some(day("2027-07-20")));
        let one = flush_told(&seen, 1.0, 40.0, day("2027-07-02")).expect("cuts");
        assert_eq!(one.next, None);
    }

    #[test]
    fn stems_after_the_gap_are_the_second_flush() {
        let mut all = FIRST.to_vec();
        all.push(("2027-07-12", 9));
        all.push(("2027-07-15", 14));
        let told = flush_told(&cuts(&all), 2.0, 40.0, day("2027-07-16")).expect("cuts");
        assert_eq!((told.number, told.began), (2, day("2027-07-12")));
        assert_eq!((told.ended, told.next), (None, None));
    }

    #[test]
    fn a_fortnight_of_rain_in_full_flush_parts_nothing() {
        let mut all = FIRST[..4].to_vec();
        all.push(("2027-06-25", 40));
        let told = flush_told(&cuts(&all), 2.0, 40.0, day("2027-06-26")).expect("cuts");
        assert_eq!(told.number, 1);
        assert_eq!(flush_told(&[], 2.0, 40.0, day("2027-06-26")), None);
    }
}
