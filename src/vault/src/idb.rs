//! The only module that uses IndexedDB, through `indexed_db_futures`.
//!
//! Two object stores, both with explicit keys and text values: `entries` (row
//! id to the row's JSON) and `meta` (name to JSON). The schema version is
//! IndexedDB's own, which the browser changes together with the stores.

mod connection;
mod fault;
mod meta;
pub(crate) mod migrations;
pub(crate) mod open;
mod rows;
mod scope;

pub(crate) use connection::Connection;
