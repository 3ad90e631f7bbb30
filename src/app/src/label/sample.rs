//! A small bench for tests of labels and of finding trays.

use chrono::NaiveDate;
use culture::Reference;
use season::almanac::Almanac;
use season::fact::*;
use season::ids::*;
use season::{Fact, Log, Season};

/// A log that grows sowing by sowing.
pub(crate) struct Bench {
    log: Log,
}

impl Bench {
    pub(crate) fn new() -> Self {
        let mut bench = Self { log: Log::new() };
        for (id, crop, name, colour) in [
            ("chalk", "antirrhinum", "Chalk spike", "white"),
            ("dusk", "antirrhinum", "Dusk spike", "crème"),
            ("cloth", "eustoma", "Old cloth", "rosé"),
        ] {
            bench.record(VarietyFact {
                crop: Some(crop.into()),
                name: Some(name.into()),
                colour: Some(colour.into()),
                ..VarietyFact::new(VarietyId::new(id).unwrap())
            });
        }
        bench.record(SeedLotFact {
            variety: VarietyId::new("chalk").ok(),
            name: Some("A 7".into()),
            year: Some(2027),
            ..SeedLotFact::new(LotId::new("l1").unwrap())
        });
        bench
    }

    pub(crate) fn record(&mut self, fact: impl Into<Fact>) -> EntryId {
        let device = DeviceId::new("d").unwrap();
        let n = self.log.len() as u128;
        let entry = self
            .log
            .draft(&device, 1_800_000_000_000, n, fact.into())
            .unwrap();
        let id = entry.id().clone();
        self.log.insert(entry);
        id
    }

    /// So many cells of a variety in trays of 6 by 10 soil blocks.
    pub(crate) fn sow(
        &mut self,
        variety: &str,
        date: &str,
        cells: u32,
        number: Option<u32>,
    ) -> SowingId {
        self.record(SownFact {
            tray: Some(Tray {
                what: CellKind::Block,
                rows: 6,
                columns: 10,
            }),
            lot: LotId::new("l1").ok(),
            number,
            ..SownFact::new(VarietyId::new(variety).unwrap(), cells, day(date))
        })
        .into()
    }

    pub(crate) fn end(&mut self, sowing: &SowingId, date: &str) {
        self.record(FinishedFact {
            sowing: Some(sowing.clone()),
            ..FinishedFact::new(day(date))
        });
    }

    pub(crate) fn with<R>(&self, f: impl FnOnce(&Almanac<'_>) -> R) -> R {
        let season = Season::of(&self.log);
        let reference = Reference::builtin().unwrap();
        f(&Almanac::new(&season, &reference))
    }
}

pub(crate) fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}
