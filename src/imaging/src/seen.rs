//! The result of analysing a picture of a tray.

use serde::{Deserialize, Serialize};

/// The content of a cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Seen {
    /// No seedling.
    Empty,
    /// One seedling, or several that cannot be distinguished.
    Up,
    /// Two seedlings or more.
    Two,
}

/// A cell with its content.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Cell {
    /// Its content.
    pub seen: Seen,
    /// Certainty, 0 to 1. It ranks cells by how much they need checking; it is not a probability.
    pub certainty: f64,
}

/// A remark about a picture as a whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Remark {
    /// Glare hides part of the tray.
    Glare,
    /// Green on the mix looks like algae or moss.
    Film,
    /// The picture is not sharp.
    Blurred,
    /// The picture is dark.
    Dark,
    /// Nothing is greener than the rest.
    NoGreen,
    /// It does not look like a tray; the result is unreliable.
    NotLikeATray,
}

/// A tray with its content.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Look {
    /// Its cells, by row from the upper left corner.
    pub cells: Vec<Cell>,
    /// Remarks about the picture, each at most once.
    pub remarks: Vec<Remark>,
}
