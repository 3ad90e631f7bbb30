//! A planned sowing held in another week: what follows at once, until it is kept or put back.

use std::sync::Arc;

use agronomy::iso_week::IsoWeek;
use chrono::{Days, NaiveDate};
use leptos::prelude::*;
use season::almanac::Almanac;
use season::coverage::{Cover, coverage};
use season::fact::PlannedFact;
use season::forecast::{Change, Course, Kept, Outlook, Source, reforecast};
use season::ids::{PlannedId, SpaceId};
use season::occupancy::{SpaceUse, rooms};
use season::tray_hold;
use season::words::Say;

use super::target;
use super::weeks::weeks;
use crate::forms::names;
use crate::parts::Saver;
use crate::store::Store;

/// How far ahead a sowing can be moved, weeks.
const AHEAD_WEEKS: u64 = 52;
/// Weeks that are told one by one when they lack stems; the rest is a number.
const WEEKS_TOLD: usize = 3;

/// A planned sowing in another week, not kept yet.
#[derive(Clone)]
pub struct Moved {
    /// Which.
    pub id: PlannedId,
    /// Its course as recorded.
    pub was: Course,
    /// Its course as moved.
    pub now: Course,
    /// What it comes to, in sentences.
    pub said: Vec<Say>,
    /// What follows from the season with it as moved.
    kept: Arc<Kept>,
}

impl Moved {
    /// Whether it lies in another place than recorded.
    pub fn is_elsewhere(&self) -> bool {
        self.now.sown != self.was.sown
    }

    /// The outlook with it as moved, of the one as recorded.
    pub fn as_moved<'a>(&self, recorded: &Outlook<'a>) -> Outlook<'a> {
        Outlook::on(
            recorded.almanac().clone(),
            recorded.today(),
            self.kept.clone(),
        )
    }
}

/// The one sowing that is held, if any.
#[derive(Clone, Copy)]
pub struct Mover {
    store: Store,
    held: RwSignal<Option<Moved>>,
    /// Saves what is kept.
    pub saver: Saver,
}

impl Mover {
    /// Holds nothing yet.
    pub fn new() -> Self {
        Self {
            store: Store::here(),
            held: RwSignal::new(None),
            saver: Saver::new(),
        }
    }

    /// Looks at what is held. Follows changes.
    pub fn with<R>(self, look: impl FnOnce(Option<&Moved>) -> R) -> R {
        self.held.with(|held| look(held.as_ref()))
    }

    /// The day of sowing of what is held, if it is this one. Does not follow changes.
    pub fn sow_now(self, id: &PlannedId) -> Option<NaiveDate> {
        self.held.with_untracked(|held| {
            let held = held.as_ref().filter(|held| held.id == *id)?;
            Some(held.now.sown)
        })
    }

    /// Holds a planned sowing at a day, or as near to it as can be; one that was held before is put back.
    pub fn hold(self, id: &PlannedId, sow: NaiveDate) {
        let today = self.store.today_now();
        let last = today
            .checked_add_days(Days::new(7 * AHEAD_WEEKS))
            .unwrap_or(today);
        let sow = sow.clamp(today, last);
        if self.sow_now(id) == Some(sow) {
            return;
        }
        let before = self.held.try_update_untracked(Option::take).flatten();
        let before = before.filter(|held| held.id == *id);
        let outlook = self.store.outlook_now();
        let found = outlook.with(|recorded| moved(recorded, before, id, sow));
        self.held.set(found);
    }

    /// Lets go of what is held.
    pub fn put_back(self) {
        self.held.set(None);
    }

    /// Records what is held, pinned; then calls back.
    pub fn keep(self, then: impl FnOnce() + 'static) {
        let fact = self.held.with_untracked(|held| {
            let held = held.as_ref()?;
            Some(PlannedFact {
                sow: Some(held.now.sown),
                pinned: Some(true),
                ..PlannedFact::new(held.id.clone())
            })
        });
        let Some(fact) = fact else { return };
        self.saver.check_and_save(vec![fact.into()], &[], move |_| {
            self.put_back();
            then();
        });
    }
}

fn moved(
    recorded: &Outlook<'_>,
    before: Option<Moved>,
    id: &PlannedId,
    sow: NaiveDate,
) -> Option<Moved> {
    let (almanac, today) = (recorded.almanac(), recorded.today());
    let source = Source::Planned(id.clone());
    let planned = almanac.season().planned.get(id)?;
    let change = Change::sown_on(sow);
    let now = reforecast(almanac, planned, &change, today)?;
    let was = recorded.supply().courses.get(&source)?.clone();
    // All other courses are those it was held against before.
    let others = match before {
        Some(held) => Outlook::on(almanac.clone(), today, held.kept),
        None => recorded.clone(),
    };
    let as_moved = others.with_course(source, now.clone());
    let mut said = days(&was, &now);
    if was.sown != now.sown {
        said.extend(stems(almanac, &coverage(recorded), &coverage(&as_moved)));
        said.extend(room(almanac, &rooms(recorded), &rooms(&as_moved)));
    }
    let changed = change.of(planned);
    let hold = now
        .planted()
        .and_then(|plant| tray_hold::of_planned(almanac, &changed, now.sown, plant));
    said.extend(hold.map(|hold| hold.say));
    Some(Moved {
        id: id.clone(),
        was,
        now,
        said,
        kept: as_moved.kept(),
    })
}

/// The days of a move.
fn days(was: &Course, now: &Course) -> Vec<Say> {
    let mut said = vec![
        Say::new("year.move.days")
            .with("sow", now.sown)
            .with_some("plant", now.planted()),
    ];
    if let Some(bloom) = now.bloom {
        let was = was.bloom.map(|was| was.p50);
        let other = was.filter(|was| *was != bloom.p50);
        said.push(
            Say::new("year.move.first")
                .with("now", bloom.p50)
                .with_some("was", other),
        );
    }
    said
}

/// A week that lacks more stems, or fewer, than it did.
#[derive(Debug, Clone, PartialEq)]
struct Lack {
    target: season::ids::TargetId,
    week: IsoWeek,
    now: u32,
    more: i64,
}

fn lacks(before: &[Cover], after: &[Cover]) -> Vec<Lack> {
    let was = |cover: &Cover, week: IsoWeek| {
        let old = before.iter().find(|old| old.target == cover.target);
        old.and_then(|old| old.weeks.iter().find(|w| w.week == week))
            .map_or(0, season::coverage::WeekCover::short)
    };
    after
        .iter()
        .flat_map(|cover| cover.weeks.iter().map(move |week| (cover, week)))
        .map(|(cover, week)| Lack {
            target: cover.target.clone(),
            week: week.week,
            now: week.short(),
            more: i64::from(week.short()) - i64::from(was(cover, week.week)),
        })
        .filter(|lack| lack.more != 0)
        .collect()
}

fn stems(almanac: &Almanac<'_>, before: &[Cover], after: &[Cover]) -> Vec<Say> {
    let all = lacks(before, after);
    let (mut worse, better): (Vec<Lack>, Vec<Lack>) =
        all.into_iter().partition(|lack| lack.more > 0);
    worse.sort_by_key(|lack| core::cmp::Reverse(lack.more));
    let more: i64 = worse.iter().skip(WEEKS_TOLD).map(|lack| lack.more).sum();
    let further = worse.len().saturating_sub(WEEKS_TOLD);
    worse.truncate(WEEKS_TOLD);
    worse.sort_by_key(|lack| (lack.target.clone(), lack.week));
    let mut said: Vec<Say> = worse
        .iter()
        .map(|lack| {
            Say::new("year.move.lacks")
                .with("week", lack.week.week())
                .with("n", lack.now)
                .with("wanted", target::name(almanac, &lack.target))
        })
        .collect();
    if further > 0 {
        said.push(
            Say::new("year.move.lacks_more")
                .with("weeks", further)
                .with("n", more),
        );
    }
    let gained: i64 = better.iter().map(|lack| -lack.more).sum();
    if gained > 0 {
        said.push(
            Say::new("year.move.gains")
                .with("weeks", better.len())
                .with("n", gained),
        );
    }
    if said.is_empty() {
        said.push(Say::new("year.move.no_lack"));
    }
    said
}

/// Spaces that are too full in weeks in which they were not.
fn room(almanac: &Almanac<'_>, before: &[SpaceUse], after: &[SpaceUse]) -> Vec<Say> {
    let over = |all: &[SpaceUse], space: &SpaceId| -> Vec<IsoWeek> {
        let of = all.iter().filter(|one| one.space == *space);
        of.flat_map(SpaceUse::over).map(|week| week.week).collect()
    };
    after
        .iter()
        .filter_map(|one| {
            let was = over(before, &one.space);
            let new: Vec<IsoWeek> = one
                .over()
                .map(|week| week.week)
                .filter(|week| !was.contains(week))
                .collect();
            (!new.is_empty()).then(|| {
                Say::new("year.move.full")
                    .with("space", names::space(almanac, &one.space))
                    .with("weeks", weeks(&new, season::words::Manner::default()))
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use agronomy::quantity::{Chance, Spread};
    use season::coverage::WeekCover;
    use season::ids::TargetId;

    fn cover(stems: &[(&str, f64)]) -> Vec<Cover> {
        let week = |(week, stems): &(&str, f64)| WeekCover {
            week: week.parse().unwrap(),
            wanted: 40,
            stems: Spread::exact(*stems),
            short_chance: Chance::EVEN,
        };
        vec![Cover {
            target: TargetId::new("t").unwrap(),
            weeks: stems.iter().map(week).collect(),
        }]
    }

    #[test]
    fn only_weeks_that_changed_are_told_and_by_how_much() {
        let before = cover(&[("2027-W25", 40.0), ("2027-W26", 40.0), ("2027-W27", 10.0)]);
        let after = cover(&[("2027-W25", 40.0), ("2027-W26", 26.0), ("2027-W27", 24.0)]);
        let found: Vec<(u32, u32, i64)> = lacks(&before, &after)
            .iter()
            .map(|lack| (lack.week.week(), lack.now, lack.more))
            .collect();
        assert_eq!(found, [(26, 14, 14), (27, 16, -14)]);
        assert!(lacks(&before, &before).is_empty());
    }
}
