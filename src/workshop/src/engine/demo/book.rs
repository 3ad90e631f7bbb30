//! Records with stamps and ids as two devices would have made them.

use std::collections::BTreeMap;

use chrono::{NaiveDate, NaiveTime};
use season::fact::{DeviceFact, Fact};
use season::file::{self, Origin};
use season::ids::{DeviceId, EntryId};
use season::{Entry, Log, Stamp};

use super::super::Trouble;
use super::chance::Chance;

/// Which device a record is made on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Device {
    /// The laptop indoors: plans, orders, set-up.
    Laptop,
    /// The phone that goes along: everything at bench and bed.
    Phone,
}

/// The records made so far.
pub struct Book {
    entries: Vec<Entry>,
    /// Records made in each millisecond, so that no two have one stamp.
    used: BTreeMap<u64, u16>,
    laptop: DeviceId,
    phone: DeviceId,
    /// Draws for all that happens.
    pub chance: Chance,
    /// Draws for ids, apart from the others: one record more must not change what grows.
    ids: Chance,
    /// The number of the last sowing that was given one.
    numbered: u32,
}

fn inside(error: impl std::fmt::Display) -> Trouble {
    Trouble::Inside(error.to_string())
}

impl Book {
    /// An empty book.
    pub fn new(seed: u64) -> Self {
        let mut ids = Chance::new(seed ^ 0x00C0_FFEE);
        let start = 1_796_000_000_000;
        let mut device = || DeviceId::mint(start, random(&mut ids));
        let (laptop, phone) = (device(), device());
        Self {
            entries: Vec::new(),
            used: BTreeMap::new(),
            laptop,
            phone,
            chance: Chance::new(seed),
            ids,
            numbered: 0,
        }
    }

    /// The next number for a sowing's labels.
    pub fn next_tray(&mut self) -> u32 {
        self.numbered += 1;
        self.numbered
    }

    /// Names both devices on a day.
    pub fn name_devices(&mut self, date: NaiveDate) -> Result<(), Trouble> {
        for (device, of, name) in [
            (Device::Laptop, self.laptop.clone(), "Kitchen laptop"),
            (Device::Phone, self.phone.clone(), "Bench phone"),
        ] {
            let name = name.to_owned();
            self.record(date, 7, device, DeviceFact::new(of, name))?;
        }
        Ok(())
    }

    /// A new id that is not an entry's own: of a space, a variety, an order.
    pub fn new_id(&mut self, date: NaiveDate) -> String {
        season::ids::mint(ms(date, 6), random(&mut self.ids))
    }

    /// Records a fact at an hour (UTC) of a day.
    pub fn record(
        &mut self,
        date: NaiveDate,
        hour: u32,
        device: Device,
        fact: impl Into<Fact>,
    ) -> Result<EntryId, Trouble> {
        // Some minutes and seconds after the hour, as people are.
        let at = ms(date, hour) + self.ids.bits() % 3_400_000;
        let counter = self.used.entry(at).or_default();
        let stamp = Stamp::at(at, *counter).ok_or_else(|| inside(format!("{date} is no date")))?;
        *counter += 1;
        let id = EntryId::mint(at, random(&mut self.ids));
        let device = match device {
            Device::Laptop => self.laptop.clone(),
            Device::Phone => self.phone.clone(),
        };
        let entry = Entry::new(id.clone(), stamp, device, fact.into()).map_err(inside)?;
        self.entries.push(entry);
        Ok(id)
    }

    /// All records as a log.
    pub fn log(&self) -> Result<Log, Trouble> {
        let log: Log = self.entries.iter().cloned().collect();
        if log.len() == self.entries.len() {
            Ok(log)
        } else {
            Err(inside("two records share an id"))
        }
    }

    /// The file, written on the laptop a moment after the last record.
    pub fn write(&self) -> Result<String, Trouble> {
        let log = self.log()?;
        let last = log.last_stamp().map_or(0, Stamp::ms);
        let at = Stamp::at(last + 60_000, 0)
            .and_then(Stamp::wall)
            .ok_or_else(|| inside("no time to write at"))?;
        let device = Origin {
            id: self.laptop.clone(),
            name: "Kitchen laptop".into(),
        };
        file::write(
            &log,
            &device,
            &at.format("%Y-%m-%dT%H:%M:%S%.3fZ").to_string(),
        )
        .map_err(inside)
    }
}

fn random(chance: &mut Chance) -> u128 {
    u128::from(chance.bits()) << 64 | u128::from(chance.bits())
}

/// Milliseconds since 1970 at an hour of a day.
fn ms(date: NaiveDate, hour: u32) -> u64 {
    let time = NaiveTime::from_hms_opt(hour, 0, 0).unwrap_or_default();
    u64::try_from(date.and_time(time).and_utc().timestamp_millis()).unwrap_or(0)
}
