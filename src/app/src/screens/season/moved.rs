//! A planned sowing held in another week: what follows at once, until it is kept or put back.

use std::sync::Arc;

use agronomy::iso_week::IsoWeek;
use chrono::{Days, NaiveDate};
use leptos::prelude::*;
use season::almanac::Almanac;
use season::coverage::{Cover, coverage};
use season::fact::PlannedFact;
use season::forecast::{Change, Milestones, Supply, days_of, reforecast};
use season::ids::{PlannedId, SpaceId};
use season::occupancy::{SpaceUse, occupancy, occupancy_with};
use season::state::PlannedSowing;
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
    /// Its days as recorded.
    pub was: Milestones,
    /// Its days as moved.
    pub now: Milestones,
    /// The targets with it as moved.
    pub covers: Vec<Cover>,
    /// The spaces with it as moved.
    pub rooms: Vec<SpaceUse>,
    /// All stems with it as moved.
    pub supply: Arc<Supply>,
    /// What it comes to, in sentences.
    pub said: Vec<Say>,
    before: Before,
}

/// What it is held against: the season as recorded.
#[derive(Clone)]
struct Before {
    covers: Arc<Vec<Cover>>,
    rooms: Arc<Vec<SpaceUse>>,
}

impl Moved {
    /// Whether it lies in another place than recorded.
    pub fn is_elsewhere(&self) -> bool {
        self.now.sow != self.was.sow
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
            Some(held.now.sow)
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
        let outlook = untrack(|| self.store.outlook());
        let found = self
            .store
            .with_almanac_now(|almanac| moved(almanac, before, outlook.supply(), id, sow, today));
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
                sow: Some(held.now.sow),
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
    almanac: &Almanac<'_>,
    before: Option<Moved>,
    recorded: &Supply,
    id: &PlannedId,
    sow: NaiveDate,
    today: NaiveDate,
) -> Option<Moved> {
    use season::forecast::Source;
    let planned = almanac.season().planned.get(id)?;
    let change = Change::sown_on(sow);
    let outcome = reforecast(almanac, planned, &change, today)?;
    let (was, before, mut supply) = match before {
        Some(held) => (held.was, held.before, held.supply),
        None => {
            let line = recorded
                .lines
                .iter()
                .find(|line| matches!(&line.source, Source::Planned(of) if of == id))?;
            let before = Before {
                covers: Arc::new(coverage(almanac, recorded, today)),
                rooms: Arc::new(occupancy(almanac, recorded, &[], today)),
            };
            let was = days_of(almanac, planned, line, today)?;
            (was, before, Arc::new(recorded.clone()))
        }
    };
    Arc::make_mut(&mut supply).replace(outcome.line);
    let changed = change.of(planned);
    let covers = coverage(almanac, &supply, today);
    let rooms = occupancy_with(almanac, &supply, &[], Some(&changed), today);
    let mut moved = Moved {
        id: id.clone(),
        was,
        now: outcome.days,
        covers,
        rooms,
        supply,
        said: Vec::new(),
        before,
    };
    moved.said = said(almanac, &moved, &changed);
    Some(moved)
}

/// What a move comes to: its days, the weeks that lack stems by it, the spaces that it overfills, and the tray that can't wait.
fn said(almanac: &Almanac<'_>, moved: &Moved, changed: &PlannedSowing) -> Vec<Say> {
    let now = &moved.now;
    let mut said = vec![
        Say::new("year.move.days")
            .with("sow", now.sow)
            .with("plant", now.plant.best),
    ];
    if let Some(bloom) = now.bloom {
        let was = moved.was.bloom.map(|was| was.p50);
        let other = was.filter(|was| *was != bloom.p50);
        said.push(
            Say::new("year.move.first")
                .with("now", bloom.p50)
                .with_some("was", other),
        );
    }
    if moved.is_elsewhere() {
        said.extend(stems(almanac, &moved.before.covers, &moved.covers));
        said.extend(room(almanac, &moved.before.rooms, &moved.rooms));
    }
    let hold = tray_hold::of_planned(almanac, changed, now.sow, now.plant.best);
    said.extend(hold.map(|hold| hold.say));
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
