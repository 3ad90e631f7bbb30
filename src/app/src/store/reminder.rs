//! When to remind of an export: the file is the only copy outside this browser.

/// Days after the last export from which a reminder may come.
const DAYS: u64 = 7;
/// Entries since the last export above which it comes.
const ENTRIES: usize = 20;
const DAY_MS: u64 = 24 * 60 * 60 * 1_000;

/// Entries that stand in no export of this device, if it is time to say so.
///
/// `exported_ms` is when the last export was made (ms since 1970), `recorded_ms` when each entry was recorded. Without any
/// export the days count from the first entry.
pub fn export_due(
    now_ms: u64,
    exported_ms: Option<u64>,
    recorded_ms: impl Iterator<Item = u64>,
) -> Option<usize> {
    let mut first = u64::MAX;
    let mut since = 0;
    for ms in recorded_ms {
        first = first.min(ms);
        since += usize::from(exported_ms.is_none_or(|exported| ms > exported));
    }
    let from = exported_ms.unwrap_or(first);
    (since > ENTRIES && now_ms.saturating_sub(from) > DAYS * DAY_MS).then_some(since)
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOW: u64 = 1_800_000_000_000;

    fn entries(n: u64, from: u64) -> impl Iterator<Item = u64> {
        (0..n).map(move |i| from + i)
    }

    #[test]
    fn it_takes_both_the_days_and_the_entries() {
        let eight_days_ago = NOW - 8 * DAY_MS;
        let check = |exported, n| export_due(NOW, exported, entries(n, eight_days_ago));
        assert_eq!(check(None, 21), Some(21));
        assert_eq!(check(None, 20), None);
        assert_eq!(check(Some(eight_days_ago - 1), 21), Some(21));
        assert_eq!(check(Some(eight_days_ago), 21), None, "one was exported");
        assert_eq!(check(Some(NOW - DAY_MS), 100), None);
        assert_eq!(export_due(NOW, None, entries(100, NOW - DAY_MS)), None);
        assert_eq!(export_due(NOW, None, entries(0, 0)), None);
    }

    #[test]
    fn a_clock_set_back_reminds_of_nothing() {
        assert_eq!(export_due(0, Some(NOW), entries(100, NOW + 1)), None);
    }
}
