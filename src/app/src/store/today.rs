//! Which day it is, and who says so.

use chrono::NaiveDate;
use season::Log;
use season::ids::DeviceId;

/// The day that the app works with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Today {
    /// The civil date.
    pub date: NaiveDate,
    /// Who says so.
    pub from: DayFrom,
}

/// Who says which day it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DayFrom {
    /// The device's calendar.
    Calendar,
    /// The page's address: `?today=2027-02-15`, for trying out how a season looks on another day.
    Address,
    /// The demo season, which stays at the day on which its grower last recorded something.
    Demo,
}

/// The day that an address asks for: `?today=2027-02-15`.
pub fn day_in_query(query: &str) -> Option<NaiveDate> {
    query
        .trim_start_matches('?')
        .split('&')
        .find_map(|pair| pair.strip_prefix("today="))
        .and_then(|day| day.parse().ok())
        .filter(|day: &NaiveDate| season::limits::YEARS.contains(&chrono::Datelike::year(day)))
}

/// The latest day that others than `own` recorded something on.
pub fn last_day_of_others(log: &Log, own: &DeviceId) -> Option<NaiveDate> {
    log.iter()
        .filter(|entry| entry.device() != own)
        .filter_map(|entry| entry.fact().date())
        .max()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_is_read_from_the_query_and_nonsense_is_not() {
        let day = NaiveDate::from_ymd_opt(2027, 2, 15);
        assert_eq!(day_in_query("?today=2027-02-15"), day);
        assert_eq!(day_in_query("?a=b&today=2027-02-15&c"), day);
        for query in [
            "",
            "?",
            "?today=",
            "?today=2027-02-30",
            "?today=9999-01-01",
            "?xtoday=2027-02-15",
        ] {
            assert_eq!(day_in_query(query), None, "{query}");
        }
    }
}
