//! Why a file gives no days.

use crate::words::Say;

/// Why a file gives no days.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LoggerError {
    /// There is nothing in it.
    Empty,
    /// It is larger than a logger's file gets.
    TooLarge,
    /// A spreadsheet program's own file.
    Workbook,
    /// A picture, a print or another thing that is no text.
    NotText,
    /// No column of days and times.
    NoTime,
    /// Days, but no times of day.
    NoTimeOfDay,
    /// No column of temperatures.
    NoTemperature,
    /// No row that reads.
    NoRow,
    /// Rows have more cells than the header: the comma parts cells and decimals.
    MoreCells,
    /// Readings more than three hours apart.
    TooSeldom,
}

impl LoggerError {
    /// In plain words: what is wrong and what to do.
    pub fn say(self) -> Say {
        Say::new(match self {
            Self::Empty => "logger.error.empty",
            Self::TooLarge => "logger.error.too_large",
            Self::Workbook => "logger.error.workbook",
            Self::NotText => "logger.error.not_text",
            Self::NoTime => "logger.error.no_time",
            Self::NoTimeOfDay => "logger.error.no_time_of_day",
            Self::NoTemperature => "logger.error.no_temperature",
            Self::NoRow => "logger.error.no_row",
            Self::MoreCells => "logger.error.more_cells",
            Self::TooSeldom => "logger.error.too_seldom",
        })
    }
}
