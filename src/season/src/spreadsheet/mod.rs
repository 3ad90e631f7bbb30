//! To and from spreadsheets.

mod read;
mod write;

pub use read::{ROWS_MAX, Row, read};
pub use write::{as_plain_text, write};
