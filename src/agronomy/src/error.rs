//! Errors of a computation, for the layers above to put into words.

use std::fmt;

/// Why a figure could not be computed.
///
/// The `Display` text is for developers and logs. Sentences for the grower are made above, from the field and
/// the range.
#[derive(Debug, Clone, PartialEq)]
pub enum AgronomyError {
    /// A number lies outside its allowed range, or is not a number at all.
    OutOfRange {
        /// The argument at fault, such as `latitude` or `counts.up`.
        field: &'static str,
        /// Smallest value allowed.
        low: f64,
        /// Largest value allowed.
        high: f64,
        /// The value that was given.
        got: f64,
    },
    /// Two numbers are not in ascending order.
    OutOfOrder {
        /// The argument that must not be larger.
        lower_field: &'static str,
        /// The argument that must not be smaller.
        upper_field: &'static str,
        /// Value of the first.
        lower: f64,
        /// Value of the second.
        upper: f64,
    },
    /// A text does not have the expected form.
    Malformed {
        /// The argument at fault.
        field: &'static str,
        /// The expected form, such as `2027-W14`.
        expected: &'static str,
        /// The text that was given.
        got: String,
    },
    /// The result is not reached within a search limit.
    NotReached {
        /// What was searched for, such as `first_bloom`.
        field: &'static str,
        /// How far the search went, in the unit of the search (days, seeds).
        limit: f64,
    },
}

impl AgronomyError {
    /// The name of the argument or result that is at fault.
    pub fn field(&self) -> &'static str {
        match self {
            Self::OutOfRange { field, .. }
            | Self::Malformed { field, .. }
            | Self::NotReached { field, .. } => field,
            Self::OutOfOrder { lower_field, .. } => lower_field,
        }
    }
}

impl fmt::Display for AgronomyError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutOfRange {
                field,
                low,
                high,
                got,
            } => write!(f, "{field} must lie in {low}..={high}, got {got}"),
            Self::OutOfOrder {
                lower_field,
                upper_field,
                lower,
                upper,
            } => write!(
                f,
                "{lower_field} ({lower}) must not exceed {upper_field} ({upper})"
            ),
            Self::Malformed {
                field,
                expected,
                got,
            } => write!(f, "{field} must look like {expected}, got {got:?}"),
            Self::NotReached { field, limit } => {
                write!(f, "{field} not reached within {limit}")
            }
        }
    }
}

impl std::error::Error for AgronomyError {}

/// Returns `got` if it is a number within `low..=high`.
pub(crate) fn within(
    field: &'static str,
    got: f64,
    low: f64,
    high: f64,
) -> Result<f64, AgronomyError> {
    if (low..=high).contains(&got) {
        Ok(got)
    } else {
        Err(AgronomyError::OutOfRange {
            field,
            low,
            high,
            got,
        })
    }
}
