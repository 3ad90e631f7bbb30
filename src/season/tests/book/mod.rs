//! A grower's book for tests: facts go in by day, and questions are asked of what they add up to.

#![allow(
    dead_code,
    clippy::expect_used,
    reason = "shared by tests that each use a part of it, and a test that cannot set up must stop"
)]

use chrono::{NaiveDate, NaiveTime};
use culture::Reference;
use season::almanac::Almanac;
use season::fact::*;
use season::forecast::Outlook;
use season::ids::*;
use season::tasks::{Task, TaskKind, tasks};
use season::{Log, Season, tasks as next};

/// A date written as 2027-01-16.
pub fn day(text: &str) -> NaiveDate {
    text.parse().expect("a date")
}

/// A season under way.
pub struct Book {
    /// All records.
    pub log: Log,
    /// The crop reference.
    pub reference: Reference,
    device: DeviceId,
    made: u128,
}

impl Default for Book {
    fn default() -> Self {
        Self {
            log: Log::new(),
            reference: Reference::builtin().expect("the reference reads"),
            device: DeviceId::new("bench-phone").expect("an id"),
            made: 0,
        }
    }
}

impl Book {
    /// A book of a place at 44 N with average frosts on 15 May and 1 October, a mat of 4 trays, shelves of 16, a hardening spot, a
    /// tunnel bed and two field beds.
    pub fn at_44_north() -> (Self, Spaces) {
        let mut book = Self::default();
        let date = "2027-01-10";
        let place = PlaceFact {
            name: Some("Oxbow bottom".into()),
            latitude: Some(44.0),
            last_frost: "05-15".parse().ok(),
            first_frost: "10-01".parse().ok(),
            ..PlaceFact::new(PlaceId::new("place").expect("an id"))
        };
        book.record(date, place);
        let spaces = Spaces {
            mat: book.space("mat", SpaceKind::Mat, Some(4)),
            shelf: book.space("shelf", SpaceKind::Shelf, Some(16)),
            frame: book.space("frame", SpaceKind::Hardening, Some(8)),
            tunnel: book.space("tunnel", SpaceKind::Tunnel, None),
            field: book.space("field", SpaceKind::Outdoors, None),
            cooler: book.space("cooler", SpaceKind::Cooler, Some(6)),
        };
        book.bed("tunnel-bed", &spaces.tunnel, 10.0);
        book.bed("field-1", &spaces.field, 15.0);
        book.bed("field-2", &spaces.field, 15.0);
        (book, spaces)
    }

    /// Records a fact on a day; a later call is a later stamp.
    pub fn record(&mut self, date: &str, fact: impl Into<Fact>) -> EntryId {
        self.made += 1;
        let noon = day(date).and_time(NaiveTime::MIN).and_utc();
        let now = u64::try_from(noon.timestamp_millis()).expect("after 1970");
        let entry = self
            .log
            .draft(&self.device, now, self.made, fact.into())
            .expect("an entry");
        let id = entry.id().clone();
        self.log.insert(entry);
        id
    }

    fn space(&mut self, name: &str, what: SpaceKind, room: Option<u32>) -> SpaceId {
        let of = SpaceId::new(name).expect("an id");
        let fact = SpaceFact {
            what: Some(what),
            name: Some(name.into()),
            room,
            walk: Some(what as i32),
            ..SpaceFact::new(of.clone())
        };
        self.record("2027-01-10", fact);
        of
    }

    fn bed(&mut self, name: &str, space: &SpaceId, length_m: f64) {
        let fact = BedFact {
            name: Some(name.into()),
            length_m: Some(length_m),
            width_m: Some(1.2),
            space: Some(space.clone()),
            ..BedFact::new(BedId::new(name).expect("an id"))
        };
        self.record("2027-01-10", fact);
    }

    /// A variety of a crop.
    pub fn variety(&mut self, name: &str, crop: &str, group: Option<u8>) -> VarietyId {
        let of = VarietyId::new(name).expect("an id");
        let fact = VarietyFact {
            crop: Some(crop.into()),
            name: Some(name.into()),
            group,
            ..VarietyFact::new(of.clone())
        };
        self.record("2027-01-10", fact);
        of
    }

    /// Stems wanted a week.
    pub fn target(
        &mut self,
        name: &str,
        wanted: Wanted,
        weeks: (&str, &str),
        stems: u32,
    ) -> TargetId {
        let of = TargetId::new(name).expect("an id");
        let fact = TargetFact {
            wanted: Some(wanted),
            from: Some(weeks.0.parse().expect("a week")),
            to: Some(weeks.1.parse().expect("a week")),
            stems: Some(stems),
            ..TargetFact::new(of.clone())
        };
        self.record("2027-01-10", fact);
        of
    }

    /// 60 soil blocks of a variety sown under a dome.
    pub fn sow(
        &mut self,
        date: &str,
        variety: &VarietyId,
        space: &SpaceId,
        bound_for: &SpaceId,
    ) -> SowingId {
        let fact = SownFact {
            space: Some(space.clone()),
            tray: Some(Tray {
                what: CellKind::Block,
                rows: 6,
                columns: 10,
            }),
            dome: true,
            for_space: Some(bound_for.clone()),
            ..SownFact::new(variety.clone(), 60, day(date))
        };
        self.record(date, fact).into()
    }

    /// Seedlings counted.
    pub fn count(&mut self, date: &str, sowing: &SowingId, up: u32) -> EntryId {
        let fact = CountedFact::new(sowing.clone(), up, day(date));
        self.record(date, fact)
    }

    /// What the records add up to; every one of them must.
    pub fn season(&self) -> Season {
        let season = Season::of(&self.log);
        assert_eq!(season.problems, [], "the story must add up");
        season
    }

    /// Asks the almanac of the season so far.
    pub fn ask<T>(&self, question: impl FnOnce(&Almanac<'_>) -> T) -> T {
        let season = self.season();
        question(&Almanac::new(&season, &self.reference))
    }

    /// Asks the outlook of the season so far on a day.
    pub fn on<T>(&self, today: &str, question: impl FnOnce(&Outlook<'_>) -> T) -> T {
        self.ask(|almanac| question(&Outlook::new(almanac.clone(), day(today))))
    }

    /// All tasks as of a day.
    pub fn tasks(&self, today: &str) -> Vec<Task> {
        self.on(today, |outlook| tasks(outlook).to_vec())
    }

    /// A sowing's task of a kind as of a day.
    pub fn tray_task(&self, today: &str, sowing: &SowingId, kind: TaskKind) -> Option<Task> {
        let about = next::Subject::Sowing(sowing.clone());
        self.tasks(today)
            .into_iter()
            .find(|task| task.kind == kind && task.subject == about)
    }

    /// A planting's task of a kind as of a day.
    pub fn bed_task(&self, today: &str, planting: &PlantingId, kind: TaskKind) -> Option<Task> {
        let about = next::Subject::Planting(planting.clone());
        self.tasks(today)
            .into_iter()
            .find(|task| task.kind == kind && task.subject == about)
    }
}

/// The spaces of [`Book::at_44_north`].
pub struct Spaces {
    /// Heat mat.
    pub mat: SpaceId,
    /// Shelf.
    pub shelf: SpaceId,
    /// Hardening spot.
    pub frame: SpaceId,
    /// Tunnel.
    pub tunnel: SpaceId,
    /// Field.
    pub field: SpaceId,
    /// Cooler.
    pub cooler: SpaceId,
}
