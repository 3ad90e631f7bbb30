//! Small seasons for tests.

use agronomy::iso_week::IsoWeek;
use chrono::NaiveDate;
use culture::Reference;

use crate::almanac::Almanac;
use crate::fact::*;
use crate::forecast::{Outlook, Supply};
use crate::ids::*;
use crate::log::Log;
use crate::month_day::MonthDay;
use crate::state::Season;

/// A log that grows fact by fact, at a place at 44 N.
pub struct Sample {
    log: Log,
    reference: Reference,
}

impl Sample {
    pub fn new() -> Self {
        let mut sample = Self {
            log: Log::new(),
            reference: Reference::builtin().expect("reference"),
        };
        sample.add(PlaceFact {
            name: Some("Here".into()),
            latitude: Some(44.0),
            last_frost: MonthDay::new(5, 15),
            first_frost: MonthDay::new(10, 1),
            ..PlaceFact::new(PlaceId::new("place").expect("id"))
        });
        sample
    }

    pub fn add(&mut self, fact: impl Into<Fact>) -> EntryId {
        let device = DeviceId::new("d").expect("id");
        let random = self.log.len() as u128;
        let entry = self
            .log
            .draft(&device, 1_800_000_000_000, random, fact.into())
            .expect("entry");
        let id = entry.id().clone();
        self.log.insert(entry);
        id
    }

    pub fn day(&self, text: &str) -> NaiveDate {
        text.parse().expect("date")
    }

    pub fn variety(&mut self, id: &str, crop: &str, colour: &str) -> VarietyId {
        let of = VarietyId::new(id).expect("id");
        self.add(VarietyFact {
            crop: Some(crop.into()),
            name: Some(format!("Variety {id}")),
            colour: Some(colour.into()),
            ..VarietyFact::new(of.clone())
        });
        of
    }

    pub fn target(
        &mut self,
        id: &str,
        wanted: Wanted,
        weeks: (&str, &str),
        stems: u32,
    ) -> TargetId {
        let of = TargetId::new(id).expect("id");
        let week = |text: &str| Some(text.parse::<IsoWeek>().expect("week"));
        self.add(TargetFact {
            wanted: Some(wanted),
            from: week(weeks.0),
            to: week(weeks.1),
            stems: Some(stems),
            ..TargetFact::new(of.clone())
        });
        of
    }

    /// A bed outdoors, 1.2 m wide.
    pub fn bed(&mut self, id: &str, length_m: f64) -> BedId {
        let space = SpaceId::new("field").expect("id");
        self.add(SpaceFact {
            what: Some(SpaceKind::Outdoors),
            name: Some("Field".into()),
            ..SpaceFact::new(space.clone())
        });
        let of = BedId::new(id).expect("id");
        self.add(BedFact {
            name: Some(id.into()),
            length_m: Some(length_m),
            width_m: Some(1.2),
            space: Some(space),
            ..BedFact::new(of.clone())
        });
        of
    }

    /// Sown into a bed at 20 cm: six rows, so 30 plants a metre.
    pub fn sown_in_bed(
        &mut self,
        variety: &VarietyId,
        bed: &BedId,
        date: &str,
        plants: u32,
    ) -> PlantingId {
        let date = self.day(date);
        self.add(DirectSownFact {
            spacing_cm: Some(20.0),
            ..DirectSownFact::new(variety.clone(), bed.clone(), plants, date)
        })
        .into()
    }

    /// Sown into plug trays of 72, one seed to a cell, under a dome.
    pub fn sown(&mut self, variety: &VarietyId, date: &str, cells: u32) -> SowingId {
        let date = self.day(date);
        self.add(SownFact {
            tray: Some(Tray {
                what: CellKind::Plug,
                rows: 6,
                columns: 12,
            }),
            dome: true,
            ..SownFact::new(variety.clone(), cells, date)
        })
        .into()
    }

    /// All cells counted.
    pub fn counted(&mut self, sowing: &SowingId, date: &str, up: u32) -> EntryId {
        let date = self.day(date);
        self.add(CountedFact::new(sowing.clone(), up, date))
    }

    pub fn on<R>(&self, today: NaiveDate, f: impl FnOnce(&Outlook<'_>) -> R) -> R {
        self.with(|almanac| f(&Outlook::new(almanac.clone(), today)))
    }

    /// With a forecast of its own.
    pub fn supplied<R>(
        &self,
        supply: &Supply,
        today: NaiveDate,
        f: impl FnOnce(&Outlook<'_>) -> R,
    ) -> R {
        self.with(|almanac| {
            f(&Outlook::with_supply(
                almanac.clone(),
                supply.clone(),
                today,
            ))
        })
    }

    pub fn with<R>(&self, f: impl FnOnce(&Almanac<'_>) -> R) -> R {
        let season = Season::of(&self.log);
        f(&Almanac::new(&season, &self.reference))
    }
}
