//! What storage could not do, in plain sentences.

use season::EntryError;
use season::words::Say;
use vault::VaultError;

/// Why a fact was not kept. The log is as it was before.
#[derive(Debug, Clone, PartialEq)]
pub enum RecordError {
    /// It does not fit into an entry.
    Entry(EntryError),
    /// Storage did not take it.
    Storage(VaultError),
    /// The season is not open (yet, or any more).
    NotOpen,
}

impl RecordError {
    /// What to tell, and what to do next.
    pub fn say(&self) -> Say {
        match self {
            Self::Entry(EntryError::TooLong) => Say::new("trouble.too_long"),
            Self::Entry(_) => Say::new("trouble.no_entry"),
            Self::Storage(error) => say(error),
            Self::NotOpen => Say::new("trouble.not_open"),
        }
    }
}

/// What to tell of an error of storage, and what to do next.
pub fn say(error: &VaultError) -> Say {
    match error {
        VaultError::Unavailable | VaultError::Refused => Say::new("trouble.refused"),
        VaultError::Quota => Say::new("trouble.quota"),
        VaultError::Blocked => Say::new("trouble.blocked"),
        VaultError::Newer => Say::new("trouble.newer"),
        VaultError::Conflict { .. } => Say::new("trouble.conflict"),
        VaultError::Closed => Say::new("trouble.closed"),
        VaultError::Limit(_) => Say::new("trouble.limit"),
        VaultError::Other(text) => Say::new("trouble.other").with("text", text.as_str()),
    }
}
