//! Errors of the reference and of figures that override it.

use std::fmt;

/// Why the reference or an override was refused.
#[derive(Debug, Clone, PartialEq)]
pub enum CultureError {
    /// The data is not JSON of the expected form; the text says where.
    Unreadable(String),
    /// A crop refers to an unknown source, rule or word.
    Unknown {
        /// The crop at fault.
        crop: String,
        /// What is unknown: `source`, `rule`, `confidence`.
        what: &'static str,
        /// The name that was given.
        name: String,
    },
    /// A figure or note has no source, or is marked as sourced although none of its sources was read.
    Unsourced {
        /// The crop at fault.
        crop: String,
        /// The name of the figure or note.
        name: String,
    },
    /// Two crops share an id.
    Twice(String),
    /// There is no figure with this name.
    NoSuchFigure {
        /// The crop.
        crop: String,
        /// The name that was given.
        figure: String,
    },
    /// A figure is out of range, or its low, typical and high values are out of order.
    OutOfRange {
        /// The crop at fault.
        crop: String,
        /// The figure's name.
        figure: String,
        /// Smallest value allowed.
        low: f64,
        /// Largest value allowed.
        high: f64,
        /// The value that was given.
        got: f64,
    },
}

impl fmt::Display for CultureError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unreadable(why) => write!(f, "crop reference unreadable: {why}"),
            Self::Unknown { crop, what, name } => write!(f, "{crop}: unknown {what} {name:?}"),
            Self::Unsourced { crop, name } => write!(f, "{crop}: {name} has no source"),
            Self::Twice(id) => write!(f, "crop {id} appears twice"),
            Self::NoSuchFigure { crop, figure } => write!(f, "{crop} has no figure {figure:?}"),
            Self::OutOfRange {
                crop,
                figure,
                low,
                high,
                got,
            } => write!(
                f,
                "{crop}: {figure} must lie in {low}..={high} and in order, got {got}"
            ),
        }
    }
}

impl std::error::Error for CultureError {}
