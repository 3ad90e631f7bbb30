//! One tray's records: what a grower would enter, and the app's answers.

use chrono::{NaiveDate, TimeDelta};
use culture::Reference;
use season::almanac::Almanac;
use season::fact::*;
use season::forecast::{Outlook, TrayForecast, of_sowing};
use season::ids::*;
use season::tasks::{Subject, Task, TaskKind, tasks};
use season::{Log, Season};

/// Noon of the day on which everything is entered; only the dates within the facts matter.
const RECORDED_MS: u64 = 1_800_000_000_000;

/// A season of one tray on a mat under a dome.
pub struct Book<'a> {
    log: Log,
    device: DeviceId,
    reference: &'a Reference,
    sowing: SowingId,
    sown: NaiveDate,
}

impl<'a> Book<'a> {
    /// A tray of a crop with a number of cells, sown on 1 March 2027.
    ///
    /// # Panics
    /// If an id or an entry cannot be created.
    pub fn sown(reference: &'a Reference, crop: &str, cells: u32) -> Self {
        let sown = NaiveDate::from_ymd_opt(2027, 3, 1).expect("a date");
        let mut book = Self {
            log: Log::new(),
            device: DeviceId::new("phone").expect("an id"),
            reference,
            sowing: SowingId::new("none-yet").expect("an id"),
            sown,
        };
        let mat = SpaceId::new("mat").expect("an id");
        book.record(SpaceFact {
            what: Some(SpaceKind::Mat),
            name: Some("mat".into()),
            ..SpaceFact::new(mat.clone())
        });
        let variety = VarietyId::new("v").expect("an id");
        book.record(VarietyFact {
            crop: Some(crop.into()),
            name: Some("v".into()),
            ..VarietyFact::new(variety.clone())
        });
        book.sowing = book
            .record(SownFact {
                space: Some(mat),
                dome: true,
                ..SownFact::new(variety, cells, sown)
            })
            .into();
        book
    }

    fn record(&mut self, fact: impl Into<Fact>) -> EntryId {
        let random = self.log.len() as u128;
        let entry = self
            .log
            .draft(&self.device, RECORDED_MS, random, fact.into())
            .expect("an entry");
        let id = entry.id().clone();
        self.log.insert(entry);
        id
    }

    fn date(&self, day: i64) -> NaiveDate {
        self.sown + TimeDelta::days(day)
    }

    /// Records a count of emerged seedlings on a day after sowing.
    pub fn count(&mut self, day: i64, up: u32) {
        let fact = CountedFact::new(self.sowing.clone(), up, self.date(day));
        self.record(fact);
    }

    /// Records that the dome was lifted.
    pub fn lift_dome(&mut self, day: i64) {
        let fact = DomeLiftedFact::new(self.sowing.clone(), self.date(day));
        self.record(fact);
    }

    /// Records that the mat was removed.
    pub fn mat_off(&mut self, day: i64) {
        let fact = MatOffFact::new(self.sowing.clone(), self.date(day));
        self.record(fact);
    }

    /// The forecast on a given day.
    pub fn forecast(&self, day: i64) -> TrayForecast {
        let season = Season::of(&self.log);
        let almanac = Almanac::new(&season, self.reference);
        of_sowing(&almanac, &season.sowings[&self.sowing], self.date(day))
    }

    /// The tray's tasks on a given day, each with the best day after sowing.
    ///
    /// # Panics
    /// If the records are inconsistent.
    pub fn due(&self, day: i64) -> Vec<(TaskKind, i64)> {
        let season = Season::of(&self.log);
        assert_eq!(season.problems, [], "the records must add up");
        let almanac = Almanac::new(&season, self.reference);
        let own = |task: &Task| task.subject == Subject::Sowing(self.sowing.clone());
        tasks(&Outlook::new(almanac, self.date(day)))
            .iter()
            .filter(|task| own(task))
            .map(|task| (task.kind, (task.window.best - self.sown).num_days()))
            .collect()
    }
}
