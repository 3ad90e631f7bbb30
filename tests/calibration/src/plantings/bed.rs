//! One bed's records: what a grower would enter, and the app's answers.

use chrono::NaiveDate;
use culture::{Crop, Reference};
use season::almanac::Almanac;
use season::fact::*;
use season::forecast::{BedForecast, of_planting};
use season::ids::*;
use season::month_day::MonthDay;
use season::{Log, Season};

/// Noon of the day on which everything is entered; only the dates within the facts matter.
const RECORDED_MS: u64 = 1_800_000_000_000;
/// Number of plants of a bed.
pub const PLANTS: u32 = 80;

/// One bed's records.
pub struct Bed<'a> {
    log: Log,
    device: DeviceId,
    reference: &'a Reference,
    /// Its planting.
    pub planting: PlantingId,
}

impl<'a> Bed<'a> {
    /// An outdoor bed, sown on a given day, at a place with late frost.
    ///
    /// # Panics
    /// If an id or an entry cannot be created.
    pub fn new(reference: &'a Reference, crop: &Crop, planted: NaiveDate) -> Self {
        let mut bed = Self {
            log: Log::new(),
            device: DeviceId::new("phone").expect("an id"),
            reference,
            planting: PlantingId::new("none-yet").expect("an id"),
        };
        bed.record(PlaceFact {
            name: Some("Here".into()),
            latitude: Some(34.0),
            last_frost: MonthDay::new(3, 1),
            first_frost: MonthDay::new(12, 25),
            ..PlaceFact::new(PlaceId::new("place").expect("an id"))
        });
        let space = SpaceId::new("field").expect("an id");
        bed.record(SpaceFact {
            what: Some(SpaceKind::Outdoors),
            name: Some("Field".into()),
            ..SpaceFact::new(space.clone())
        });
        let of = BedId::new("bed").expect("an id");
        bed.record(BedFact {
            name: Some("Bed".into()),
            length_m: Some(20.0),
            width_m: Some(1.2),
            space: Some(space),
            ..BedFact::new(of.clone())
        });
        let variety = VarietyId::new("v").expect("an id");
        bed.record(VarietyFact {
            crop: Some(crop.id().to_string()),
            name: Some("v".into()),
            ..VarietyFact::new(variety.clone())
        });
        bed.planting = bed
            .record(DirectSownFact::new(variety, of, PLANTS, planted))
            .into();
        bed
    }

    /// Records a fact.
    ///
    /// # Panics
    /// If an entry cannot be created.
    pub fn record(&mut self, fact: impl Into<Fact>) -> EntryId {
        let random = self.log.len() as u128;
        let entry = self
            .log
            .draft(&self.device, RECORDED_MS, random, fact.into())
            .expect("an entry");
        let id = entry.id().clone();
        self.log.insert(entry);
        id
    }

    /// The app's forecast on a given day.
    ///
    /// # Panics
    /// If nothing was planted.
    pub fn asked(&self, today: NaiveDate) -> BedForecast {
        let season = Season::of(&self.log);
        let almanac = Almanac::new(&season, self.reference);
        let planting = season.plantings.get(&self.planting).expect("planted");
        of_planting(&almanac, planting, today)
    }
}
