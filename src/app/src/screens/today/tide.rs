//! Stems to come in the next weeks, against what is wanted.

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;
use chrono::{NaiveDate, TimeDelta};
use season::coverage::Cover;
use season::forecast::Supply;
use season::words::Say;

/// Weeks that the gauge shows.
pub const WEEKS: usize = 12;

/// Stems of one week.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TideWeek {
    /// Which.
    pub week: IsoWeek,
    /// Stems expected.
    pub stems: Spread<f64>,
    /// Stems wanted by all targets.
    pub wanted: u32,
}

/// The next weeks, from this one on.
#[derive(Debug, Clone, PartialEq)]
pub struct Tide {
    /// Week by week.
    pub weeks: Vec<TideWeek>,
    /// The first week with stems, within the gauge or beyond.
    pub first: Option<IsoWeek>,
    /// The first week in which a target falls short, and by how many stems.
    pub short: Option<(IsoWeek, u32)>,
    /// The last week that is wanted.
    pub until: Option<IsoWeek>,
}

/// The gauge as of a day; `None` when nothing is expected and nothing is wanted.
pub fn tide(supply: &Supply, covers: &[Cover], today: NaiveDate) -> Option<Tide> {
    let all = supply.weeks(|_| true);
    let now = IsoWeek::of(today);
    let first = all
        .iter()
        .find(|(week, stems)| **week >= now && stems.p50 >= 1.0)
        .map(|(week, _)| *week);
    let mut wanted_weeks = covers.iter().flat_map(|cover| &cover.weeks).peekable();
    if first.is_none() && wanted_weeks.peek().is_none() {
        return None;
    }
    let until = wanted_weeks.map(|week| week.week).max();
    let weeks = (0..WEEKS)
        .map(|n| {
            let days = TimeDelta::try_days(7 * n as i64).unwrap_or_default();
            let week = IsoWeek::of(today.checked_add_signed(days).unwrap_or(today));
            let of_week = covers
                .iter()
                .flat_map(|c| &c.weeks)
                .filter(|w| w.week == week);
            TideWeek {
                week,
                stems: all.get(&week).copied().unwrap_or(Spread::exact(0.0)),
                wanted: of_week.fold(0, |sum: u32, w| sum.saturating_add(w.wanted)),
            }
        })
        .collect();
    // Weeks of several targets count together.
    let short_week = covers
        .iter()
        .flat_map(Cover::short_weeks)
        .map(|w| w.week)
        .min();
    let short = short_week.map(|week| {
        let short = covers
            .iter()
            .flat_map(Cover::short_weeks)
            .filter(|w| w.week == week);
        (
            week,
            short.fold(0, |sum: u32, w| sum.saturating_add(w.short())),
        )
    });
    Some(Tide {
        weeks,
        first,
        short,
        until,
    })
}

impl Tide {
    /// When stems come, and how far they go.
    pub fn say(&self, today: NaiveDate) -> (Say, Option<Say>) {
        let now = IsoWeek::of(today);
        let comes = match self.first {
            Some(week) if week == now => Say::new("tide.now"),
            Some(week) => Say::new("tide.first").with("week", week),
            None => Say::new("tide.none"),
        };
        let goes = match (self.short, self.until) {
            (Some((week, stems)), _) => {
                Some(Say::new("tide.short").with("week", week).with("n", stems))
            }
            (None, Some(week)) => Some(Say::new("tide.enough").with("week", week)),
            (None, None) => None,
        };
        (comes, goes)
    }

    /// The largest number that is drawn, at least 1.
    pub fn top(&self) -> f64 {
        self.weeks
            .iter()
            .map(|w| w.stems.p90.max(f64::from(w.wanted)))
            .fold(1.0, f64::max)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use agronomy::quantity::Chance;
    use season::coverage::WeekCover;
    use season::forecast::{Course, Source};
    use season::ids::{PlantingId, TargetId, VarietyId};

    fn week(n: u32) -> IsoWeek {
        IsoWeek::new(2027, n).unwrap()
    }

    fn supply(weeks: &[(u32, f64)]) -> Supply {
        let weeks = weeks
            .iter()
            .map(|(n, stems)| (week(*n), Spread::exact(*stems)));
        let course = Course::of_stems(VarietyId::new("v").unwrap(), weeks.collect());
        Supply {
            courses: [(Source::Planting(PlantingId::new("p").unwrap()), course)].into(),
            ..Supply::default()
        }
    }

    fn cover(weeks: &[(u32, u32, f64)]) -> Cover {
        Cover {
            target: TargetId::new("t").unwrap(),
            weeks: weeks
                .iter()
                .map(|(n, wanted, stems)| WeekCover {
                    week: week(*n),
                    wanted: *wanted,
                    stems: Spread::exact(*stems),
                    short_chance: Chance::new(if *stems < f64::from(*wanted) {
                        1.0
                    } else {
                        0.0
                    })
                    .unwrap(),
                })
                .collect(),
        }
    }

    /// Monday of 2027-W18 is 3 May (ISO 8601: 4 January 2027 is the Monday of W01).
    fn today() -> NaiveDate {
        NaiveDate::from_ymd_opt(2027, 5, 3).unwrap()
    }

    #[test]
    fn twelve_weeks_from_this_one_with_stems_and_wants() {
        let found = tide(
            &supply(&[(17, 9.0), (20, 30.0), (40, 5.0)]),
            &[
                cover(&[(20, 25, 30.0)]),
                cover(&[(20, 10, 10.0), (21, 10, 2.0)]),
            ],
            today(),
        )
        .unwrap();
        assert_eq!(found.weeks.len(), WEEKS);
        assert_eq!(found.weeks[0].week, week(18));
        assert_eq!(found.weeks[2].wanted, 35);
        assert!((found.weeks[2].stems.p50 - 30.0).abs() < 1e-9);
        assert_eq!(found.first, Some(week(20)), "what is past does not count");
        assert_eq!(found.short.map(|(w, _)| w), Some(week(21)));
        assert!((found.top() - 35.0).abs() < 1e-9);
        let (comes, goes) = found.say(today());
        assert_eq!(comes.key(), "tide.first");
        assert_eq!(goes.unwrap().key(), "tide.short");
    }

    #[test]
    fn an_empty_season_has_no_gauge() {
        assert_eq!(tide(&supply(&[]), &[], today()), None);
        let wanted = tide(&supply(&[]), &[cover(&[(30, 10, 0.0)])], today()).unwrap();
        assert_eq!(wanted.say(today()).0.key(), "tide.none");
    }
}
