//! Browser storage: the only crate that uses IndexedDB, local storage, the
//! broadcast channel and the storage manager.
//!
//! It stores rows of an id and a JSON text and never interprets the text, so
//! that entries of a newer version are returned unchanged. Rows are never
//! changed or removed: there is no function for it. The one exception is
//! [`Vault::forget_demo`], which cannot affect the grower's own book.
//!
//! This crate deliberately does not read a clock, create ids, parse entries, or
//! format errors for the user.
//!
//! All asynchronous functions run in a browser only. The crate also compiles on
//! the host, where its pure parts are tested.

mod book;
mod device;
pub mod durability;
mod error;
mod idb;
mod memory;
mod merge;
mod notices;
pub mod prefs;
mod row;
pub mod tabs;
mod vault;

pub use book::Book;
pub use device::{DEVICE_ID_BYTES_MAX, DEVICE_NAME_BYTES_MAX, Device};
pub use error::{Limit, VaultError};
#[cfg(feature = "trial")]
pub use idb::migrations::{NEWER_MIGRATIONS, NEWER_VERSION};
pub use idb::{migrations::SCHEMA_VERSION, open::OPEN_WAIT_MS};
pub use merge::Appended;
pub use notices::Closing;
pub use row::{APPEND_BYTES_MAX, APPEND_ROWS_MAX, ROW_ID_BYTES_MAX, ROW_JSON_BYTES_MAX, Row};
pub use vault::Vault;
