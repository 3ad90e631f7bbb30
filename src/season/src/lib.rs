//! The domain: what a season is, how it follows from what was recorded, and what follows from it.
//!
//! This room never reads a clock, a file, the network or a source of randomness: today's date and random bits are parameters.
//! It never changes or removes an entry.

pub mod almanac;
pub mod availability;
pub mod bed_layout;
pub mod bed_plan;
pub mod bill;
pub mod canonical;
pub mod cells;
pub mod chance;
pub mod check;
pub mod coverage;
pub mod crop_year;
pub mod deliveries;
pub mod entry;
pub mod example_climates;
pub mod fact;
pub mod family;
pub mod file;
pub mod forecast;
pub mod ids;
pub mod keeping;
pub mod lamp;
pub mod last_call;
pub mod limits;
pub mod log;
pub mod logger;
pub mod mishap;
pub mod money;
pub mod month_day;
pub mod occupancy;
pub mod past_trays;
pub mod paste;
pub mod plan;
pub mod planting_out;
pub mod promise;
pub mod returns;
pub mod review;
pub mod roles;
pub mod seed;
pub mod space;
pub mod spreadsheet;
pub mod stamp;
pub mod state;
pub mod stock;
pub mod tasks;
pub mod tray_hold;
pub mod tray_number;
pub mod typed;
pub mod verdict;
pub mod week;
pub mod why;
pub mod words;

#[cfg(test)]
mod sample;

pub use entry::{Entry, EntryError};
pub use fact::Fact;
pub use log::{Inserted, Log};
pub use stamp::Stamp;
pub use state::Season;
pub use tasks::cover;
