//! Patches of green: detection, measurement, and separation from algae.

mod film;
mod label;
mod typical;

pub use film::without_film;
pub use label::{count, label};
pub use typical::Typical;

/// Excess green of a tray's pixels, and which of them are green.
#[derive(Debug, Clone)]
pub struct Green {
    /// Width in pixels.
    pub width: usize,
    /// Height in pixels.
    pub height: usize,
    /// Side of a cell in pixels.
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

    /// Pixels in a cell.
    pub fn cell_area(&self) -> f64 {
        (self.cell_px * self.cell_px) as f64
    }
}

/// Connected green pixels.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Blob {
    /// Number of pixels.
    pub area: usize,
    /// Number of pixel sides without green beyond them.
    pub edges: usize,
    /// Sum of the excess green of all pixels.
    pub excess: f64,
    /// Its parts by cell, the largest first.
    pub pieces: Vec<Piece>,
}

/// The part of a blob in one cell.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Piece {
    /// Index of the cell, by row.
    pub cell: usize,
    /// Number of pixels.
    pub area: usize,
    /// Number of pixels away from the cell's walls.
    pub inner: usize,
    /// Sum of the x coordinates, in pixels from the tray's left edge.
    pub x: f64,
    /// Sum of the y coordinates, in pixels from the tray's upper edge.
    pub y: f64,
}

impl Blob {
    /// Mean excess green.
    pub fn mean_excess(&self) -> f64 {
        self.excess / self.area as f64
    }

    /// The cell with the largest part of it.
    pub fn home(&self) -> Option<usize> {
        self.pieces.first().map(|piece| piece.cell)
    }

    /// Number of pixels in that cell.
    pub fn home_area(&self) -> usize {
        self.pieces.first().map_or(0, |piece| piece.area)
    }

    /// Raggedness of its outline: 1 for a square, more if it is long, lobed, torn or full of holes.
    pub fn raggedness(&self) -> f64 {
        let edges = self.edges as f64;
        edges * edges / (16.0 * self.area as f64)
    }
}
