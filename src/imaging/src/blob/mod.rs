//! Patches of green: found, measured, and told from a film of algae.

mod film;
mod label;
mod usual;

pub use film::without_film;
pub use label::{count, label};
pub use usual::Usual;

/// Excess green of a tray's pixels, and which of them are green.
#[derive(Debug, Clone)]
pub struct Green {
    /// Pixels across.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
    /// Pixels along a cell's side.
    pub cell_px: usize,
    /// Excess green of each pixel.
    pub excess: Vec<f32>,
    /// Whether each pixel is green.
    pub mask: Vec<bool>,
}

impl Green {
    /// Cells in a row.
    pub fn columns(&self) -> usize {
        self.width / self.cell_px
    }

    /// Pixels of a cell.
    pub fn cell_area(&self) -> f64 {
        (self.cell_px * self.cell_px) as f64
    }
}

/// Green pixels that hang together.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Blob {
    /// Pixels.
    pub area: usize,
    /// Sides of pixels with no green beyond them.
    pub edges: usize,
    /// Sum of the excess green of all pixels.
    pub excess: f64,
    /// What of it lies in which cell, the most first.
    pub pieces: Vec<Piece>,
}

/// What of a blob lies in one cell.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Piece {
    /// The cell, counted along the rows.
    pub cell: usize,
    /// Pixels.
    pub area: usize,
    /// Pixels away from the cell's walls.
    pub inner: usize,
    /// Sum of their places across, in pixels from the tray's left edge.
    pub x: f64,
    /// Sum of their places down, in pixels from the tray's upper edge.
    pub y: f64,
}

impl Blob {
    /// Mean excess green.
    pub fn mean_excess(&self) -> f64 {
        self.excess / self.area as f64
    }

    /// The cell where most of it lies.
    pub fn home(&self) -> Option<usize> {
        self.pieces.first().map(|piece| piece.cell)
    }

    /// Pixels in the cell where most of it lies.
    pub fn home_area(&self) -> usize {
        self.pieces.first().map_or(0, |piece| piece.area)
    }

    /// How ragged its outline is: 1 for a square, more for what is long, lobed, torn or full of holes.
    pub fn raggedness(&self) -> f64 {
        let edges = self.edges as f64;
        edges * edges / (16.0 * self.area as f64)
    }
}
