//! Recording facts and taking them back.

use leptos::prelude::*;
use season::fact::{DeviceFact, VoidedFact};
use season::ids::{DeviceId, EntryId};
use season::words::Say;
use season::{Entry, Fact};
use vault::{Book, Device, Row, Vault, durability};

use super::slip::{Slip, saved};
use super::{Keep, RecordError, Store, draft};
use crate::browser::{clock, frame, random};

impl Store {
    /// Records facts together: all of them or none. Ready only when they are on the disk and the screen shows the season with them;
    /// then the slip says so. On an error nothing has changed: keep what was typed and show [`RecordError::say`].
    ///
    /// Run it to its end (`spawn_local`): a future that is dropped abandons its transaction.
    pub async fn record(self, facts: Vec<Fact>) -> Result<Vec<EntryId>, RecordError> {
        let said = saved(&facts);
        self.record_saying(facts, said).await
    }

    /// As [`Store::record`], with words of one's own on the slip.
    pub async fn record_saying(
        self,
        facts: Vec<Fact>,
        said: Say,
    ) -> Result<Vec<EntryId>, RecordError> {
        let ids = self.write(facts).await?;
        let entries = ids.clone();
        if !entries.is_empty() {
            self.show_slip(Slip { said, entries });
        }
        self.ask_to_persist();
        Ok(ids)
    }

    /// Takes entries back.
    pub async fn undo(self, entries: &[EntryId]) -> Result<Vec<EntryId>, RecordError> {
        let facts = entries
            .iter()
            .rev()
            .map(|entry| VoidedFact::new(entry.clone()).into())
            .collect();
        let said = Say::new("slip.undone").with("n", entries.len());
        self.record_saying(facts, said).await
    }

    /// Names this device, for itself and in the log.
    pub async fn name_device(self, name: String) -> Result<(), RecordError> {
        let vault = self.open_vault()?;
        let device = self.device.get_untracked().ok_or(RecordError::NotOpen)?;
        let of = DeviceId::new(device.id.as_str()).map_err(|_| RecordError::NotOpen)?;
        let offered = Device {
            id: device.id,
            name: name.clone(),
        };
        let stands = vault
            .set_device(&offered)
            .await
            .map_err(RecordError::Storage)?;
        self.device.try_set(Some(stands));
        self.record(vec![DeviceFact::new(of, name).into()]).await?;
        Ok(())
    }

    async fn write(self, facts: Vec<Fact>) -> Result<Vec<EntryId>, RecordError> {
        let vault = self.open_vault()?;
        let entries = self.draft(facts)?;
        let ids = entries.iter().map(|entry| entry.id().clone()).collect();
        self.append(&vault, entries).await?;
        Ok(ids)
    }

    /// Stores entries and shows the season with them. They count as saved once both are done.
    pub(super) async fn append(
        self,
        vault: &Vault,
        entries: Vec<Entry>,
    ) -> Result<(), RecordError> {
        self.keep.try_set(Keep::Saving);
        self.appending.update_value(|n| *n += 1);
        let stored = vault.append(&rows(&entries)).await;
        if stored.is_ok() {
            self.announce(&entries);
            self.show(entries).await;
        }
        self.appending.update_value(|n| *n -= 1);
        match stored {
            Ok(_) => {
                // What is still on its way says so when it is done.
                if self.appending.get_value() == 0 {
                    self.kept(vault);
                }
                Ok(())
            }
            Err(error) => {
                let error = RecordError::Storage(error);
                self.keep.try_set(Keep::Unsaved(error.say()));
                Err(error)
            }
        }
    }

    /// Adds stored entries to the season and waits until the screen shows it with them.
    async fn show(self, entries: Vec<Entry>) {
        self.log.update_value(|log| log.extend(entries));
        self.refold();
        self.look_at_calendar();
        frame::drawn().await;
    }

    fn draft(self, facts: Vec<Fact>) -> Result<Vec<Entry>, RecordError> {
        let device = self.device.get_untracked().ok_or(RecordError::NotOpen)?;
        let device = DeviceId::new(device.id).map_err(|_| RecordError::NotOpen)?;
        let seen = self.log.with_value(season::Log::last_stamp);
        // What is still on its way to the disk counts as seen too.
        let last = seen.max(self.last_drafted.get_value());
        let entries = draft::draft_all(&device, last, clock::now_ms(), random::bits, facts)
            .map_err(RecordError::Entry)?;
        if let Some(entry) = entries.last() {
            self.last_drafted.set_value(Some(entry.at()));
        }
        Ok(entries)
    }

    pub(super) fn open_vault(self) -> Result<Vault, RecordError> {
        self.vault.get_value().ok_or(RecordError::NotOpen)
    }

    pub(super) fn kept(self, vault: &Vault) {
        self.keep.try_set(if vault.keeps() {
            Keep::Saved
        } else {
            Keep::PageOnly
        });
    }

    pub(super) fn announce(self, entries: &[Entry]) {
        let ids: Vec<String> = entries.iter().map(|e| e.id().to_string()).collect();
        self.tabs.with_value(|tabs| {
            if let Some(tabs) = tabs {
                tabs.announce(&ids);
            }
        });
    }

    /// Asks the browser to keep the own book once something of the grower's is in it.
    pub(super) fn ask_to_persist(self) {
        let own = self.prefs.with_untracked(|prefs| prefs.book) == Book::Own;
        let promised = self.persisted.get_untracked() == Some(durability::Persisted::Yes);
        if !own || promised || self.in_memory.get_untracked() || self.asked.get_value() {
            return;
        }
        self.asked.set_value(true);
        leptos::task::spawn_local(async move {
            let answer = durability::ask_to_persist().await;
            self.persisted.try_set(Some(answer));
        });
    }
}

pub(super) fn rows(entries: &[Entry]) -> Vec<Row> {
    entries
        .iter()
        .map(|entry| Row {
            id: entry.id().to_string(),
            json: entry.json().to_owned(),
        })
        .collect()
}
