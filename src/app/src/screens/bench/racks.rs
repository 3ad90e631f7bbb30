//! Trays by the space they stand in.

use chrono::NaiveDate;
use season::Season;
use season::forecast::{Source, Supply};
use season::ids::{SowingId, SpaceId};
use season::state::Space;
use season::tasks::{Subject, Task, TaskKind};

/// Slots of a space that are drawn one by one.
pub const SLOTS_MOST: u32 = 60;

/// Trays of one space.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rack {
    /// Where; `None` for trays of which it was not said.
    pub space: Option<SpaceId>,
    /// Trays that stand there.
    pub trays: u32,
    /// Room, as far as said.
    pub room: Option<u32>,
    /// The sowings, oldest first.
    pub sowings: Vec<SowingId>,
    /// Which sowing stands in each slot that is taken, tray by tray; of sowings without a grid one slot.
    pub slots: Vec<SowingId>,
}

impl Rack {
    /// Slots that are free; `None` where the room was not said.
    pub fn free(&self) -> Option<u32> {
        self.room.map(|room| room.saturating_sub(self.trays))
    }

    /// When trays that stand here are next due to go on, and how many: off the mat, out to harden, into the bed.
    pub fn next_to_go(&self, tasks: &[Task]) -> Option<(NaiveDate, usize)> {
        let goes_on = |kind| {
            matches!(
                kind,
                TaskKind::MatOff | TaskKind::Harden | TaskKind::Transplant | TaskKind::CannotWait
            )
        };
        let day_of = |id: &SowingId| {
            tasks
                .iter()
                .filter(|task| goes_on(task.kind) && task.subject == Subject::Sowing(id.clone()))
                .map(|task| task.window.best)
                .min()
        };
        let first = self.sowings.iter().filter_map(day_of).min()?;
        let trays = self.slots.iter().filter(|id| day_of(id) == Some(first));
        Some((first, trays.count()))
    }
}

/// The bench on a day.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Racks {
    /// Spaces for trays in walking order, the empty ones too; last, trays that stand nowhere said.
    pub racks: Vec<Rack>,
    /// Sowings of which nothing is left in trays, newest first.
    pub ended: Vec<SowingId>,
}

impl Racks {
    /// Whether nothing was ever sown.
    pub fn is_empty(&self) -> bool {
        self.ended.is_empty() && self.racks.iter().all(|rack| rack.sowings.is_empty())
    }

    /// Sowings and trays that stand.
    pub fn tally(&self) -> (usize, u32) {
        let sowings = self.racks.iter().map(|rack| rack.sowings.len()).sum();
        let trays = self
            .racks
            .iter()
            .fold(0, |sum: u32, rack| sum.saturating_add(rack.trays));
        (sowings, trays)
    }
}

/// Trays by space today, by their courses.
pub fn racks(season: &Season, supply: &Supply, today: NaiveDate) -> Racks {
    let (mut standing, mut ended): (Vec<_>, Vec<_>) = season
        .sowings
        .values()
        .filter(|sowing| sowing.date <= today)
        .partition(|sowing| sowing.in_trays());
    standing.sort_by_key(|s| (s.date, s.id.clone()));
    ended.sort_by_key(|s| (core::cmp::Reverse(s.date), s.id.clone()));
    let known = |id: &&SpaceId| season.spaces.get(*id).is_some_and(|s| !s.retired);
    let standing: Vec<(&SowingId, Option<&SpaceId>, u32)> = standing
        .into_iter()
        .map(|sowing| {
            let course = supply.courses.get(&Source::Sowing(sowing.id.clone()));
            let phase = course.and_then(|course| course.phase_on(today));
            let space = phase.and_then(|phase| phase.space.as_ref()).filter(known);
            let trays = phase.map_or(0, |phase| phase.needs as u32);
            (&sowing.id, space, trays)
        })
        .collect();
    let in_space = |space: Option<&SpaceId>| -> Vec<(SowingId, u32)> {
        let here = standing.iter().filter(|(_, there, _)| *there == space);
        here.map(|(id, _, trays)| ((*id).clone(), *trays)).collect()
    };
    let rack = |space: Option<&Space>, trays: Vec<(SowingId, u32)>| Rack {
        space: space.map(|space| space.id.clone()),
        trays: trays
            .iter()
            .fold(0, |sum: u32, (_, trays)| sum.saturating_add(*trays)),
        room: space.and_then(|space| space.room),
        slots: space.map_or_else(Vec::new, |_| slots(&trays)),
        sowings: trays.into_iter().map(|(id, _)| id).collect(),
    };
    let mut racks: Vec<Rack> = season
        .spaces_in_order()
        .into_iter()
        .map(|space| (space, in_space(Some(&space.id))))
        .filter(|(space, trays)| space.holds_trays() || !trays.is_empty())
        .map(|(space, trays)| rack(Some(space), trays))
        .collect();
    let nowhere = in_space(None);
    if !nowhere.is_empty() {
        racks.push(rack(None, nowhere));
    }
    Racks {
        racks,
        ended: ended.into_iter().map(|s| s.id.clone()).collect(),
    }
}

/// A slot for every tray, oldest sowing first; no more than are drawn.
fn slots(sowings: &[(SowingId, u32)]) -> Vec<SowingId> {
    sowings
        .iter()
        .flat_map(|(id, trays)| core::iter::repeat_n(id, (*trays).min(SLOTS_MOST) as usize))
        .take(SLOTS_MOST as usize)
        .cloned()
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use season::fact::*;
    use season::ids::*;
    use season::{Fact, Log};

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn record(log: &mut Log, fact: impl Into<Fact>) -> EntryId {
        let device = DeviceId::new("d").unwrap();
        let n = log.len() as u128;
        let entry = log
            .draft(&device, 1_800_000_000_000, n, fact.into())
            .unwrap();
        let id = entry.id().clone();
        log.insert(entry);
        id
    }

    fn space(log: &mut Log, id: &str, what: SpaceKind, room: u32, walk: i32) {
        record(
            log,
            SpaceFact {
                what: Some(what),
                name: Some(id.into()),
                room: Some(room),
                walk: Some(walk),
                ..SpaceFact::new(SpaceId::new(id).unwrap())
            },
        );
    }

    fn sow(log: &mut Log, date: &str, space: Option<&str>) -> SowingId {
        record(
            log,
            SownFact {
                space: space.map(|id| SpaceId::new(id).unwrap()),
                tray: Some(Tray {
                    what: CellKind::Block,
                    rows: 6,
                    columns: 10,
                }),
                dome: true,
                ..SownFact::new(VarietyId::new("v").unwrap(), 120, day(date))
            },
        )
        .into()
    }

    #[test]
    fn trays_stand_in_walking_order_and_the_ended_ones_apart() {
        let mut log = Log::new();
        space(&mut log, "shelf", SpaceKind::Shelf, 16, 2);
        space(&mut log, "mat", SpaceKind::Mat, 4, 1);
        space(&mut log, "cooler", SpaceKind::Cooler, 9, 0);
        let second = sow(&mut log, "2027-01-20", Some("mat"));
        let first = sow(&mut log, "2027-01-10", Some("mat"));
        let stray = sow(&mut log, "2027-01-12", None);
        let gone = sow(&mut log, "2027-01-05", Some("shelf"));
        let later = sow(&mut log, "2027-03-01", Some("shelf"));
        record(
            &mut log,
            FinishedFact {
                sowing: Some(gone.clone()),
                ..FinishedFact::new(day("2027-01-25"))
            },
        );
        let season = Season::of(&log);
        let reference = culture::Reference::builtin().unwrap();
        let almanac = season::almanac::Almanac::new(&season, &reference);
        let outlook = season::forecast::Outlook::new(almanac, day("2027-02-01"));
        let tasks = season::tasks::tasks(&outlook);
        let found = racks(&season, outlook.supply(), day("2027-02-01"));
        let shape: Vec<(Option<&str>, u32, Vec<SowingId>)> = found
            .racks
            .iter()
            .map(|r| {
                (
                    r.space.as_ref().map(SpaceId::as_str),
                    r.trays,
                    r.sowings.clone(),
                )
            })
            .collect();
        assert_eq!(
            shape,
            [
                (Some("mat"), 4, vec![first, second]),
                (Some("shelf"), 0, vec![]),
                (None, 2, vec![stray]),
            ]
        );
        let [mat, shelf, _] = found.racks.as_slice() else {
            panic!("three racks");
        };
        assert_eq!(mat.slots.len(), 4, "a slot for every tray");
        assert_eq!((mat.free(), shelf.free()), (Some(0), Some(16)));
        assert_eq!(mat.next_to_go(&tasks), None, "no crop, no cue");
        assert_eq!(found.ended, [gone]);
        assert_eq!(found.tally(), (3, 6));
        assert!(!found.ended.contains(&later), "not sown yet");
        let none = racks(&Season::default(), &Supply::default(), day("2027-02-01"));
        assert!(none.is_empty());
    }
}
