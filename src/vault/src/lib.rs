//! Browser storage: the only room that touches IndexedDB, local storage, the
//! broadcast channel and the storage manager.
//!
//! It stores rows of an id and a JSON text and never looks inside the text,
//! so that what a newer version wrote comes out as it went in. A row is never
//! changed or removed: there is no function for it. The one exception is
//! [`Vault::forget_demo`], which cannot reach the grower's own book.
//!
//! What this room deliberately does not do: read a clock, make ids, parse
//! entries, or put errors into sentences for the screen.
//!
//! All asynchronous functions run in a browser only. On the host the crate
//! compiles, so that its pure parts are tested there.

mod book;
mod device;
pub mod durability;
mod error;
mod idb;
mod memory;
mod notices;
pub mod prefs;
mod row;
mod settle;
pub mod tabs;
mod vault;

pub use book::Book;
pub use device::{DEVICE_ID_BYTES_MAX, DEVICE_NAME_BYTES_MAX, Device};
pub use error::{Limit, VaultError};
#[cfg(feature = "trial")]
pub use idb::ladder::{TALLER, TALLER_VERSION};
pub use idb::{ladder::SCHEMA_VERSION, open::OPEN_WAIT_MS};
pub use notices::Closing;
pub use row::{APPEND_BYTES_MAX, APPEND_ROWS_MAX, ROW_ID_BYTES_MAX, ROW_JSON_BYTES_MAX, Row};
pub use settle::Appended;
pub use vault::Vault;
