//! What is seen on a picture of a tray.

use serde::{Deserialize, Serialize};

/// What is seen in a cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Seen {
    /// No seedling.
    Empty,
    /// A seedling, or several that can't be told apart.
    Up,
    /// Two seedlings or more.
    Two,
}

/// A cell as it is seen.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Cell {
    /// What is seen in it.
    pub seen: Seen,
    /// How sure that is, 0 to 1. It orders cells by how much they want a second look; it is no chance.
    pub certainty: f64,
}

/// What is to be said of a picture as a whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Remark {
    /// Light thrown back hides part of the tray.
    Glare,
    /// There is green on the mix that looks like algae or moss.
    Film,
    /// The picture is not sharp.
    Blurred,
    /// The picture is dark.
    Dark,
    /// Nothing in it is greener than the rest.
    NoGreen,
    /// It does not look like a tray: what is found is not to be relied on.
    NotLikeATray,
}

/// A tray as it is seen.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Look {
    /// Its cells, row by row from the upper left corner.
    pub cells: Vec<Cell>,
    /// What is to be said of the picture, each at most once.
    pub remarks: Vec<Remark>,
}
