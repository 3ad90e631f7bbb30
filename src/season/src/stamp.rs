//! Hybrid logical clock stamps: wall time where clocks agree, order of knowledge where they don't.
//!
//! A stamp is written `2027-02-14T08:30:12.345Z/0003`: the wall time in UTC to the millisecond and a counter in four hex
//! digits. Texts of stamps sort as the stamps do. After Kulkarni, Demirbas, Madeppa, Avva & Leone 2014, "Logical physical
//! clocks" (from memory), without the drift bound: a file from last month, or from a phone whose clock is wrong, is the normal
//! case here and is never refused for it.

use core::fmt;
use core::str::FromStr;

use chrono::{DateTime, Datelike};
use serde::{Deserialize, Serialize};

use crate::limits::YEARS;

/// When something was recorded: by wall clock as far as that is known, and always after what the device had seen before.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Stamp {
    ms: u64,
    counter: u16,
}

/// Why a text is no stamp.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BadStamp(pub String);

impl fmt::Display for BadStamp {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "not a stamp like 2027-02-14T08:30:12.345Z/0003: {:?}",
            self.0
        )
    }
}

impl core::error::Error for BadStamp {}

impl Stamp {
    /// A stamp at a wall time in milliseconds since 1970; `None` outside the years that dates may lie in, since one absurd
    /// stamp would drag every later one after it.
    pub fn at(ms: u64, counter: u16) -> Option<Self> {
        let when = DateTime::from_timestamp_millis(i64::try_from(ms).ok()?)?;
        YEARS.contains(&when.year()).then_some(Self { ms, counter })
    }

    /// The next stamp of a device that has seen `last` and whose clock shows `now_ms`.
    ///
    /// Always greater than `last`. A clock outside the years of [`YEARS`] is not believed.
    pub fn next(last: Option<Self>, now_ms: u64) -> Self {
        let now = Self::at(now_ms, 0);
        match (last, now) {
            (None, Some(now)) => now,
            (Some(last), Some(now)) if now.ms > last.ms => now,
            (Some(last), _) => match last.counter.checked_add(1) {
                Some(counter) => Self {
                    ms: last.ms,
                    counter,
                },
                None => Self {
                    ms: last.ms + 1,
                    counter: 0,
                },
            },
            // 1 January 2000: a clock that shows nothing believable, on a device that has seen nothing.
            (None, None) => Self {
                ms: 946_684_800_000,
                counter: 0,
            },
        }
    }

    /// The wall time in milliseconds since 1970.
    pub fn ms(self) -> u64 {
        self.ms
    }

    /// The wall time, for showing.
    pub fn wall(self) -> Option<DateTime<chrono::Utc>> {
        DateTime::from_timestamp_millis(i64::try_from(self.ms).ok()?)
    }
}

impl fmt::Display for Stamp {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.wall() {
            Some(wall) => write!(
                f,
                "{}/{:04x}",
                wall.format("%Y-%m-%dT%H:%M:%S%.3fZ"),
                self.counter
            ),
            None => write!(f, "{}/{:04x}", self.ms, self.counter),
        }
    }
}

impl FromStr for Stamp {
    type Err = BadStamp;

    fn from_str(text: &str) -> Result<Self, BadStamp> {
        let bad = || BadStamp(text.chars().take(64).collect());
        // One spelling only, so that texts sort as stamps do: checked by writing it out again.
        let (wall, counter) = text.split_once('/').ok_or_else(bad)?;
        let ms = DateTime::parse_from_rfc3339(wall)
            .map_err(|_| bad())?
            .timestamp_millis();
        let ms = u64::try_from(ms).map_err(|_| bad())?;
        let counter = u16::from_str_radix(counter, 16).map_err(|_| bad())?;
        let stamp = Self::at(ms, counter).ok_or_else(bad)?;
        if stamp.to_string() == text {
            Ok(stamp)
        } else {
            Err(bad())
        }
    }
}

impl TryFrom<String> for Stamp {
    type Error = BadStamp;
    fn try_from(text: String) -> Result<Self, BadStamp> {
        text.parse()
    }
}

impl From<Stamp> for String {
    fn from(stamp: Stamp) -> String {
        stamp.to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOW: u64 = 1_802_596_212_345;

    #[test]
    fn text_and_stamp_agree_both_ways_and_sort_alike() {
        let a = Stamp::at(NOW, 3).expect("in range");
        let b = Stamp::at(NOW, 0x10).expect("in range");
        let c = Stamp::at(NOW + 1, 0).expect("in range");
        for s in [a, b, c] {
            assert_eq!(s.to_string().parse::<Stamp>().expect("reads back"), s);
        }
        assert!(a < b && b < c);
        assert!(a.to_string() < b.to_string() && b.to_string() < c.to_string());
    }

    #[test]
    fn a_clock_that_jumps_back_cannot_reorder_what_was_seen() {
        let seen = Stamp::at(NOW, 7).expect("in range");
        let next = Stamp::next(Some(seen), NOW - 86_400_000);
        assert!(next > seen);
        assert_eq!(next.ms(), NOW);
    }

    #[test]
    fn a_full_counter_carries_into_the_millisecond() {
        let seen = Stamp::at(NOW, u16::MAX).expect("in range");
        assert_eq!(
            Stamp::next(Some(seen), 0),
            Stamp::at(NOW + 1, 0).expect("in range")
        );
    }

    #[test]
    fn absurd_clocks_are_not_believed() {
        assert!(Stamp::at(0, 0).is_none(), "1970");
        assert!(Stamp::at(u64::MAX, 0).is_none());
        assert!(Stamp::next(None, u64::MAX).ms() < NOW);
        for text in [
            "",
            "2027-02-14",
            "2027-02-14T08:30:12Z/0003",
            "9999-02-14T08:30:12.345Z/0003",
            "2027-02-14T08:30:12.345Z/3",
        ] {
            assert!(text.parse::<Stamp>().is_err(), "{text}");
        }
    }
}
