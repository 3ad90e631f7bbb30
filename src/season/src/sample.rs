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
            of: PlaceId::new("place").expect("id"),
            name: Some("Here".into()),
            latitude: Some(44.0),
            tmin: None,
            tmax: None,
            last_frost: MonthDay::new(5, 15),
            last_frost_10: None,
            last_frost_90: None,
            first_frost: MonthDay::new(10, 1),
            first_frost_10: None,
            first_frost_90: None,
            retired: None,
            currency: None,
            buy_in_days: None,
            promise_share: None,
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
            of: of.clone(),
            crop: Some(crop.into()),
            name: Some(format!("Variety {id}")),
            colour: Some(colour.into()),
            group: None,
            role: None,
            figures: Figures::new(),
            packet_seeds: None,
            packet_price: None,
            retired: None,
            learned: Default::default(),
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
            of: of.clone(),
            wanted: Some(wanted),
            space: None,
            from: week(weeks.0),
            to: week(weeks.1),
            stems: Some(stems),
            chance: None,
            retired: None,
        });
        of
    }

    /// A bed outdoors, 1.2 m wide.
    pub fn bed(&mut self, id: &str, length_m: f64) -> BedId {
        let space = SpaceId::new("field").expect("id");
        self.add(SpaceFact {
            of: space.clone(),
            name: Some("Field".into()),
            what: Some(SpaceKind::Outdoors),
            room: None,
            walk: None,
            frost_risk: None,
            retired: None,
            ppfd: None,
            lamp_hours: None,
        });
        let of = BedId::new(id).expect("id");
        self.add(BedFact {
            of: of.clone(),
            space: Some(space),
            name: Some(id.into()),
            length_m: Some(length_m),
            width_m: Some(1.2),
            walk: None,
            in_use_from: None,
            in_use_to: None,
            retired: None,
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
            variety: variety.clone(),
            lot: None,
            date,
            bed: bed.clone(),
            plants,
            spacing_cm: Some(20.0),
            planned: None,
        })
        .into()
    }

    /// Sown into plug trays of 72, one seed to a cell, under a dome.
    pub fn sown(&mut self, variety: &VarietyId, date: &str, cells: u32) -> SowingId {
        let date = self.day(date);
        self.add(SownFact {
            variety: variety.clone(),
            lot: None,
            date,
            space: None,
            cells,
            seeds_per_cell: 1,
            tray: Some(Tray {
                what: CellKind::Plug,
                rows: 6,
                columns: 12,
            }),
            dome: true,
            planned: None,
            for_space: None,
            label: None,
            again_for: None,
            number: None,
        })
        .into()
    }

    /// All cells counted.
    pub fn counted(&mut self, sowing: &SowingId, date: &str, up: u32) -> EntryId {
        let date = self.day(date);
        self.add(CountedFact {
            sowing: sowing.clone(),
            date,
            up,
            of: None,
            doubles: None,
            about: false,
            map: None,
        })
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
