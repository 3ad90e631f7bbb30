//! Forms of facts: which fields a kind of fact has, its texts and the fact they stand for, what speaks against it, and the sheet
//! in which it is recorded or corrected.
//!
//! A screen makes a [`Recorder`], puts one [`RecordSheet`] into its view and calls [`Recorder::task`], [`Recorder::of_tray`],
//! [`Recorder::of_planting`], [`Recorder::record`] or [`Recorder::correct`].

mod beside;
pub mod filled;
mod focus;
pub mod follows;
pub mod fresh;
pub mod hints;
pub mod history;
mod inputs;
pub mod names;
pub mod options;
mod pad;
pub mod quick;
pub mod recorder;
pub mod revise;
mod sheet;
pub mod spec;
mod step;
pub mod tell;
pub mod titles;

pub use fresh::{OfPlanting, OfTray};
pub use history::History;
pub use inputs::currency;
pub use options::of_words;
pub use quick::{Deed, Quick};
pub use recorder::{Asked, Recorder};
pub use sheet::RecordSheet;
pub use tell::money_arg;

#[cfg(test)]
mod tests;
