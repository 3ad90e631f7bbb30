//! To and from spreadsheets.

mod write;

pub use write::{as_plain_text, write};
