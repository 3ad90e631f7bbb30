//! Taking entries of a file into the log.

use leptos::prelude::*;
use season::file::Preview;
use season::ids::DeviceId;
use vault::Device;

use super::{RecordError, Store};
use crate::browser::{clock, random};

/// What taking a file did.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Taken {
    /// Entries that are new here.
    pub entries: usize,
    /// Whether this device got a new id, since its old one is in use elsewhere.
    pub new_device_id: bool,
}

impl Store {
    /// Takes a file's new entries, all of them or none.
    pub async fn take(self, preview: &Preview) -> Result<Taken, RecordError> {
        let vault = self.open_vault()?;
        self.append(&vault, preview.new.clone()).await?;
        let new_device_id = self.is_cloned(preview) && self.take_new_device_id().await?;
        self.ask_to_persist();
        Ok(Taken {
            entries: preview.new.len(),
            new_device_id,
        })
    }

    /// Whether the file holds entries under this device's id that it did not make: it, or the other one, was set up from a copy.
    fn is_cloned(self, preview: &Preview) -> bool {
        let Some(own) = self.device.get_untracked() else {
            return false;
        };
        let own = |device: &DeviceId| device.as_str() == own.id;
        let mut strangers = preview.new.iter().chain(&preview.clashes);
        strangers.any(|entry| own(entry.device()))
    }

    async fn take_new_device_id(self) -> Result<bool, RecordError> {
        let vault = self.open_vault()?;
        let Some(old) = self.device.get_untracked() else {
            return Ok(false);
        };
        let device = Device {
            id: season::ids::mint(clock::now_ms(), random::bits()),
            name: old.name,
        };
        vault
            .replace_device(&device)
            .await
            .map_err(RecordError::Storage)?;
        self.device.try_set(Some(device));
        Ok(true)
    }
}
