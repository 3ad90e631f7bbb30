//! Reading what was typed or pasted: to a value, or to a sentence that says what is wrong and what would be right.

mod day;
mod latitude;
mod measure;
mod months;
mod name;
mod number;

pub use day::{WEEKS_BACK, date, date_of_sheet, week};
pub use latitude::latitude;
pub use measure::{Measure, quantity};
pub(crate) use months::month_of;
pub use months::{MONTHS, twelve, two_rows};
pub use name::{name, name_or_none};
pub use number::{count, decimal, plain_number, share};

#[cfg(test)]
mod tests;
