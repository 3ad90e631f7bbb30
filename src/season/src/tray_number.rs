//! Short numbers that sowings are called by: the next free one, and who has one already.
//!
//! A number is handed out by counting on, not by filling gaps: a label of a tray thrown away last month must not name another one
//! today. Devices that are apart may hand out the same number; then both sowings go by it, told apart by variety and date.

use std::collections::BTreeSet;

use chrono::{Days, NaiveDate};

use crate::ids::SowingId;
use crate::limits::TRAY_NUMBERS;
use crate::state::{Season, Sowing};

/// Days after its sowing in which a number is not given to another, even when its trays are gone: labels lie about for a season.
const RESTS_DAYS: u64 = 366;

/// The number for the next sowing: one more than the highest in use, or the lowest that is free where that would be beyond four
/// digits. `None` only when all are in use.
pub fn next_number(season: &Season, today: NaiveDate) -> Option<u32> {
    Free::on(season, today).take()
}

/// Numbers for sowings that have none, in the order of their sowing. Those that are numbered already, or are not there, are passed
/// over.
pub fn numbers_for<'a>(
    season: &Season,
    ids: impl IntoIterator<Item = &'a SowingId>,
    today: NaiveDate,
) -> Vec<(SowingId, u32)> {
    let mut free = Free::on(season, today);
    let mut bare: Vec<&Sowing> = ids
        .into_iter()
        .filter_map(|id| season.sowings.get(id))
        .filter(|sowing| sowing.number.is_none())
        .collect();
    bare.sort_by_key(|sowing| (sowing.date, &sowing.id));
    bare.dedup_by_key(|sowing| &sowing.id);
    bare.into_iter()
        .filter_map(|sowing| Some((sowing.id.clone(), free.take()?)))
        .collect()
}

/// A sowing still in trays that goes by a number; the newest where there are more.
pub fn standing_with(season: &Season, number: u32) -> Option<&Sowing> {
    season
        .sowings
        .values()
        .filter(|sowing| sowing.number == Some(number) && sowing.in_trays())
        .max_by_key(|sowing| (sowing.date, &sowing.id))
}

/// Numbers in use, and what comes after them.
struct Free {
    used: BTreeSet<u32>,
}

impl Free {
    fn on(season: &Season, today: NaiveDate) -> Self {
        let since = today.checked_sub_days(Days::new(RESTS_DAYS));
        let rests =
            |sowing: &&Sowing| since.is_none_or(|since| sowing.date >= since) || sowing.in_trays();
        Self {
            used: season
                .sowings
                .values()
                .filter(rests)
                .filter_map(|sowing| sowing.number)
                .collect(),
        }
    }

    fn take(&mut self) -> Option<u32> {
        let after = self
            .used
            .last()
            .map_or(TRAY_NUMBERS.record.0, |n| n.saturating_add(1));
        let next = if TRAY_NUMBERS.contains(&after) {
            after
        } else {
            TRAY_NUMBERS.range().find(|n| !self.used.contains(n))?
        };
        self.used.insert(next);
        Some(next)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fact::{FinishedFact, SownFact};
    use crate::sample::Sample;

    fn season(sample: &Sample) -> Season {
        sample.with(|almanac| almanac.season().clone())
    }

    fn sow(sample: &mut Sample, date: &str, number: Option<u32>) -> SowingId {
        let variety = sample.variety("v", "antirrhinum", "white");
        let date = sample.day(date);
        sample
            .add(SownFact {
                number,
                ..SownFact::new(variety, 60, date)
            })
            .into()
    }

    fn give_up(sample: &mut Sample, sowing: &SowingId, date: &str) {
        let date = sample.day(date);
        sample.add(FinishedFact {
            sowing: Some(sowing.clone()),
            ..FinishedFact::new(date)
        });
    }

    #[test]
    fn numbers_count_on_from_the_highest_in_use() {
        let mut sample = Sample::new();
        let today = sample.day("2027-02-20");
        assert_eq!(next_number(&season(&sample), today), Some(1));
        sow(&mut sample, "2027-01-15", Some(40));
        sow(&mut sample, "2027-02-01", None);
        sow(&mut sample, "2027-02-10", Some(12));
        assert_eq!(next_number(&season(&sample), today), Some(41));
    }

    #[test]
    fn a_number_rests_for_a_year_and_as_long_as_its_trays_stand() {
        let mut sample = Sample::new();
        let gone = sow(&mut sample, "2026-03-01", Some(70));
        give_up(&mut sample, &gone, "2026-04-01");
        sow(&mut sample, "2025-10-01", Some(30));
        let season = season(&sample);
        assert_eq!(next_number(&season, sample.day("2027-02-20")), Some(71));
        assert_eq!(next_number(&season, sample.day("2027-03-20")), Some(31));
        assert_eq!(standing_with(&season, 70), None);
        assert_eq!(standing_with(&season, 30).map(|s| s.cells), Some(60));
    }

    #[test]
    fn after_the_last_number_the_lowest_free_one_comes() {
        let mut sample = Sample::new();
        sow(&mut sample, "2027-01-15", Some(9_999));
        sow(&mut sample, "2027-01-15", Some(1));
        let today = sample.day("2027-02-20");
        assert_eq!(next_number(&season(&sample), today), Some(2));
    }

    #[test]
    fn sowings_without_a_number_get_theirs_in_the_order_they_were_sown() {
        let mut sample = Sample::new();
        let later = sow(&mut sample, "2027-02-10", None);
        let numbered = sow(&mut sample, "2027-02-01", Some(7));
        let earlier = sow(&mut sample, "2027-01-15", None);
        let season = season(&sample);
        let today = sample.day("2027-02-20");
        let given = numbers_for(&season, [&later, &numbered, &earlier, &later], today);
        assert_eq!(given, [(earlier, 8), (later, 9)]);
    }
}
