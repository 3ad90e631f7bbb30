//! Stemtide in the browser: screens, what they are made of, where they are found, and the store they all look at.
//!
//! This room decides nothing about growing: what a figure is and what follows from a record is said by `season`. It never writes
//! to storage but through the store, and never shows a fact as saved before the vault says so.

pub mod app;
pub mod browser;
pub mod finding;
pub mod forms;
pub mod label;
pub mod parts;
pub mod route;
pub mod scan;
pub mod screens;
pub mod store;

pub use app::run;
