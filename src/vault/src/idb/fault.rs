//! From the library's errors to ours.

use crate::error::{Fault, VaultError, When, classify};
use indexed_db_futures::error::{Error, OpenDbError};
use web_sys::DomException as Raw;

/// An error while opening.
pub(crate) fn of_open(error: OpenDbError) -> VaultError {
    match error {
        OpenDbError::UnsupportedEnvironment | OpenDbError::NullFactory => VaultError::Unavailable,
        // The library says this of every exception that `open` throws at
        // once; our version is never 0, so it was the browser's refusal.
        OpenDbError::VersionZero => VaultError::Refused,
        OpenDbError::Base(error) => match of(When::Open, error) {
            Fault::Is(error) => error,
            Fault::Lost => VaultError::Unavailable,
        },
    }
}

/// An error while in use.
pub(crate) fn of_use(error: Error) -> Fault {
    of(When::Use, error)
}

/// An exception of a transaction.
pub(crate) fn of_exception(exception: &Raw) -> Fault {
    classify(When::Use, &exception.name(), &exception.message())
}

fn of(when: When, error: Error) -> Fault {
    match error {
        Error::DomException(exception) => {
            let raw = Raw::from(exception);
            classify(when, &raw.name(), &raw.message())
        }
        // The transaction or its channel ended without saying why.
        Error::MissingData(_) if when == When::Use => Fault::Lost,
        other => Fault::Is(VaultError::Other(other.to_string())),
    }
}

impl From<Error> for Fault {
    fn from(error: Error) -> Self {
        of_use(error)
    }
}
