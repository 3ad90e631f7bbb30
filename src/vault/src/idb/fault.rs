//! Converts the library's errors to ours.

use crate::error::{Fault, VaultError, When, classify};
use indexed_db_futures::error::{Error, OpenDbError};
use web_sys::DomException as Raw;

/// Converts an error raised while opening.
pub(crate) fn of_open(error: OpenDbError) -> VaultError {
    match error {
        OpenDbError::UnsupportedEnvironment | OpenDbError::NullFactory => VaultError::Unavailable,
        // The library reports this for every exception that `open` throws
        // immediately; our version is never 0, so the browser refused.
        OpenDbError::VersionZero => VaultError::Refused,
        OpenDbError::Base(error) => match of(When::Open, error) {
            Fault::Is(error) => error,
            Fault::Lost => VaultError::Unavailable,
        },
    }
}

/// Converts an error raised while in use.
pub(crate) fn of_use(error: Error) -> Fault {
    of(When::Use, error)
}

/// Converts an exception of a transaction.
pub(crate) fn of_exception(exception: &Raw) -> Fault {
    classify(When::Use, &exception.name(), &exception.message())
}

fn of(when: When, error: Error) -> Fault {
    match error {
        Error::DomException(exception) => {
            let raw = Raw::from(exception);
            classify(when, &raw.name(), &raw.message())
        }
        // The transaction or its channel ended without giving a reason.
        Error::MissingData(_) if when == When::Use => Fault::Lost,
        other => Fault::Is(VaultError::Other(other.to_string())),
    }
}

impl From<Error> for Fault {
    fn from(error: Error) -> Self {
        of_use(error)
    }
}
