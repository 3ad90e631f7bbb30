//! What can go wrong, and how a browser's exception is understood.

use std::fmt;

/// Why storage did not do what it was asked. Nothing of the request was
/// stored, unless said otherwise. The sentence for the screen is made above.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum VaultError {
    /// This browser has no IndexedDB here, or it does not answer.
    Unavailable,
    /// The browser refuses storage: a private window, a blocked site setting.
    Refused,
    /// No room left.
    Quota,
    /// Another tab holds an old version open and does not let go within
    /// [`OPEN_WAIT_MS`](crate::OPEN_WAIT_MS).
    Blocked,
    /// A newer version of the app laid out this database.
    Newer,
    /// Ids that are stored with another text. Nothing of the batch was
    /// written.
    Conflict {
        /// The ids, in order of the batch.
        ids: Vec<String>,
    },
    /// The connection is closed: given up to another tab (see
    /// [`Closing`](crate::Closing)), or lost and not to be had again. After
    /// a loss a batch may have reached the disk whole; appending it again is
    /// safe.
    Closed,
    /// Over a named limit.
    Limit(Limit),
    /// Something else, in the browser's own words.
    Other(String),
}

/// A named limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Limit {
    /// [`ROW_ID_BYTES_MAX`](crate::ROW_ID_BYTES_MAX), or an empty id.
    RowId,
    /// [`ROW_JSON_BYTES_MAX`](crate::ROW_JSON_BYTES_MAX).
    RowJson,
    /// [`APPEND_ROWS_MAX`](crate::APPEND_ROWS_MAX).
    AppendRows,
    /// [`APPEND_BYTES_MAX`](crate::APPEND_BYTES_MAX).
    AppendBytes,
    /// [`DEVICE_ID_BYTES_MAX`](crate::DEVICE_ID_BYTES_MAX), or an empty id.
    DeviceId,
    /// [`DEVICE_NAME_BYTES_MAX`](crate::DEVICE_NAME_BYTES_MAX).
    DeviceName,
}

impl fmt::Display for VaultError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unavailable => f.write_str("storage is not available"),
            Self::Refused => f.write_str("the browser refuses storage"),
            Self::Quota => f.write_str("storage is full"),
            Self::Blocked => f.write_str("another tab holds an old version open"),
            Self::Newer => f.write_str("a newer version laid out this storage"),
            Self::Conflict { ids } => write!(f, "stored with another text: {}", ids.join(", ")),
            Self::Closed => f.write_str("storage is closed"),
            Self::Limit(limit) => write!(f, "over a limit: {limit:?}"),
            Self::Other(text) => write!(f, "storage failed: {text}"),
        }
    }
}

impl std::error::Error for VaultError {}

/// When an exception came.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum When {
    /// While the database was being opened.
    Open,
    /// While an open one was in use.
    Use,
}

/// What an exception means for what to do next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Fault {
    /// The connection went: open again and repeat.
    Lost,
    /// No use repeating.
    Is(VaultError),
}

impl From<VaultError> for Fault {
    fn from(error: VaultError) -> Self {
        Self::Is(error)
    }
}

/// Understands an exception by its name and message.
///
/// Names are those of the Indexed Database API 3.0 and of WebIDL. Quota also
/// comes under other names or inside the message of an `AbortError`, by
/// engine and age; that is common experience, not in the standard.
pub(crate) fn classify(when: When, name: &str, message: &str) -> Fault {
    let says =
        |word: &str| contains_ignoring_case(name, word) || contains_ignoring_case(message, word);
    if says("quota") || says("disk full") || says("full disk") {
        return Fault::Is(VaultError::Quota);
    }
    match (when, name) {
        (_, "VersionError") => Fault::Is(VaultError::Newer),
        (_, "SecurityError" | "NotAllowedError") | (When::Open, "InvalidStateError") => {
            Fault::Is(VaultError::Refused)
        }
        (When::Open, "UnknownError") => Fault::Is(VaultError::Unavailable),
        // An abort without a reason is a connection that is going; a store
        // that cannot be found belongs to no layout of ours.
        (
            When::Use,
            "InvalidStateError" | "AbortError" | "UnknownError" | "TransactionInactiveError",
        ) => Fault::Lost,
        _ => Fault::Is(VaultError::Other(format!("{name}: {message}"))),
    }
}

fn contains_ignoring_case(text: &str, word: &str) -> bool {
    text.to_ascii_lowercase().contains(word)
}

#[cfg(test)]
mod tests {
    use super::*;
    use VaultError::{Newer, Quota, Refused, Unavailable};

    #[test]
    fn quota_is_known_under_all_its_names() {
        for (name, message) in [
            ("QuotaExceededError", ""),
            ("AbortError", "QuotaExceededError"),
            ("AbortError", "The transaction was aborted: Quota exceeded."),
            ("NS_ERROR_DOM_INDEXEDDB_QUOTA_ERR", ""),
            (
                "UnknownError",
                "Encountered full disk while opening backing store",
            ),
        ] {
            for when in [When::Open, When::Use] {
                assert_eq!(classify(when, name, message), Fault::Is(Quota), "{name}");
            }
        }
    }

    #[test]
    fn the_same_name_means_another_thing_when_opening_and_in_use() {
        let open = |name| classify(When::Open, name, "");
        let in_use = |name| classify(When::Use, name, "");
        assert_eq!(open("InvalidStateError"), Fault::Is(Refused));
        assert_eq!(in_use("InvalidStateError"), Fault::Lost);
        assert_eq!(open("UnknownError"), Fault::Is(Unavailable));
        assert_eq!(in_use("UnknownError"), Fault::Lost);
        assert_eq!(in_use("AbortError"), Fault::Lost);
        assert_eq!(open("SecurityError"), Fault::Is(Refused));
        assert_eq!(open("VersionError"), Fault::Is(Newer));
    }

    #[test]
    fn what_is_not_known_keeps_its_words() {
        assert_eq!(
            classify(When::Use, "DataError", "bad key"),
            Fault::Is(VaultError::Other("DataError: bad key".to_owned()))
        );
    }
}
