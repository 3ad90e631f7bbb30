//! The one module that speaks IndexedDB, through `indexed_db_futures`.
//!
//! Two object stores, both with keys of their own and text as values:
//! `entries` (row id to the row's JSON) and `meta` (name to JSON). The layout
//! version is IndexedDB's own, which the browser changes together with the
//! stores.

mod connection;
mod fault;
pub(crate) mod ladder;
mod meta;
pub(crate) mod open;
mod rows;
mod scope;

pub(crate) use connection::Connection;
