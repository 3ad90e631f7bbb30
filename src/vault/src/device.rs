//! The device's id and name.

use crate::error::{Limit, VaultError};
use serde::{Deserialize, Serialize};

/// Maximum length of a device id, in bytes.
pub const DEVICE_ID_BYTES_MAX: usize = 64;
/// Maximum length of a device name, in bytes of UTF-8.
pub const DEVICE_NAME_BYTES_MAX: usize = 200;

/// Identifies this device as the author of entries.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Device {
    /// A random id, 1 to [`DEVICE_ID_BYTES_MAX`] bytes.
    pub id: String,
    /// The name given by the user; may be empty.
    pub name: String,
}

impl Device {
    /// # Errors
    /// [`VaultError::Limit`] when the id or the name is out of bounds.
    pub(crate) fn check(&self) -> Result<(), VaultError> {
        if self.id.is_empty() || self.id.len() > DEVICE_ID_BYTES_MAX {
            return Err(VaultError::Limit(Limit::DeviceId));
        }
        if self.name.len() > DEVICE_NAME_BYTES_MAX {
            return Err(VaultError::Limit(Limit::DeviceName));
        }
        Ok(())
    }

    /// Merges `self` with the stored record `kept`: the id that was written
    /// first, and the most recent name.
    pub(crate) fn merged_with(&self, kept: Option<Self>) -> Self {
        let id = kept.map_or_else(|| self.id.clone(), |kept| kept.id);
        Self {
            id,
            name: self.name.clone(),
        }
    }

    /// # Errors
    /// [`VaultError::Other`] when the stored text is not a device.
    pub(crate) fn from_json(json: &str) -> Result<Self, VaultError> {
        serde_json::from_str(json)
            .map_err(|e| VaultError::Other(format!("the device record is damaged: {e}")))
    }

    /// # Errors
    /// [`VaultError::Other`] when serialising fails.
    pub(crate) fn to_json(&self) -> Result<String, VaultError> {
        serde_json::to_string(self).map_err(|e| VaultError::Other(e.to_string()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn device(id: &str, name: &str) -> Device {
        Device {
            id: id.to_owned(),
            name: name.to_owned(),
        }
    }

    #[test]
    fn the_first_id_and_the_last_name_are_kept() {
        let late = device("b", "shed");
        assert_eq!(late.merged_with(None), late);
        assert_eq!(
            late.merged_with(Some(device("a", "phone"))),
            device("a", "shed")
        );
    }

    #[test]
    fn limits_hold() {
        let id = "i".repeat(DEVICE_ID_BYTES_MAX);
        let name = "n".repeat(DEVICE_NAME_BYTES_MAX);
        assert_eq!(device(&id, &name).check(), Ok(()));
        assert!(device("", &name).check().is_err());
        assert!(device(&format!("{id}i"), "").check().is_err());
        assert!(device("a", &format!("{name}n")).check().is_err());
    }

    #[test]
    fn a_damaged_record_is_an_error() {
        let kept = device("a", "b");
        assert_eq!(kept.to_json().and_then(|j| Device::from_json(&j)), Ok(kept));
        assert!(Device::from_json("{\"id\":1}").is_err());
        assert!(Device::from_json("").is_err());
    }
}
