//! Errors, and how a browser's exception is classified.

use std::fmt;

/// Why a storage operation failed. Nothing of the request was stored unless
/// documented otherwise. The message for the user is written by the caller.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum VaultError {
    /// This browser has no IndexedDB here, or it does not respond.
    Unavailable,
    /// The browser refuses storage, for example in a private window or by a
    /// site setting.
    Refused,
    /// No space left.
    Quota,
    /// Another tab holds an old version open and does not release it within
    /// [`OPEN_WAIT_MS`](crate::OPEN_WAIT_MS).
    Blocked,
    /// This database was written by a newer version of the app.
    Newer,
    /// These ids are already stored with a different text. Nothing of the batch
    /// was written.
    Conflict {
        /// The ids, in order of the batch.
        ids: Vec<String>,
    },
    /// The connection is closed: released to another tab (see
    /// [`Closing`](crate::Closing)), or lost and could not be reopened. After a
    /// loss a batch may have reached the disk completely; appending it again is
    /// safe.
    Closed,
    /// A limit was exceeded.
    Limit(Limit),
    /// Another error, with the browser's own message.
    Other(String),
}

/// The limit that was exceeded.
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

/// When an exception was raised.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum When {
    /// While the database was being opened.
    Open,
    /// While an open one was in use.
    Use,
}

/// What an exception means for the next step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Fault {
    /// The connection was lost: open again and retry.
    Lost,
    /// Retrying would not help.
    Is(VaultError),
}

impl From<VaultError> for Fault {
    fn from(error: VaultError) -> Self {
        Self::Is(error)
    }
}

/// Classifies an exception by its name and message.
///
/// The names are those of the Indexed Database API 3.0 and of WebIDL. A quota
/// error also appears under other names or inside the message of an
/// `AbortError`, depending on the browser engine and its version; that is
/// common experience and not in the standard.
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
        // An abort without a reason comes from a closing connection, and a
        // missing store does not belong to any schema of ours.
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
    fn quota_errors_are_recognised_under_all_their_names() {
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
    fn the_same_exception_differs_between_opening_and_use() {
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
    fn unknown_exceptions_keep_their_message() {
        assert_eq!(
            classify(When::Use, "DataError", "bad key"),
            Fault::Is(VaultError::Other("DataError: bad key".to_owned()))
        );
    }
}
