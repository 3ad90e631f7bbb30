//! A seedling as most of the green on a tray is.

use super::Blob;

/// Share of a cell from which a blob counts no more for what is usual.
const LARGE: f64 = 0.1;

/// A seedling as most are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Usual {
    /// Pixels in its own cell.
    pub area: f64,
    /// Mean excess green above the mix's.
    pub contrast: f64,
}

impl Default for Usual {
    fn default() -> Self {
        Self {
            area: 1.0,
            contrast: 1.0,
        }
    }
}

impl Usual {
    /// What is usual among some blobs, over a mix of such an excess green, in cells of so many pixels; `None` without blobs.
    ///
    /// Half of all green lies in larger ones, so that many specks don't make a speck usual; nor does a patch of algae count for many.
    pub fn of<'a>(blobs: impl Iterator<Item = &'a Blob>, mix: f64, cell_area: f64) -> Option<Self> {
        let size = |blob: &Blob| (blob.home_area() as f64, blob.mean_excess() - mix);
        let mut sizes: Vec<(f64, f64)> = blobs.map(size).collect();
        sizes.sort_by(|a, b| a.0.total_cmp(&b.0));
        let counts = |area: f64| area.min(LARGE * cell_area);
        let half = sizes.iter().map(|(area, _)| counts(*area)).sum::<f64>() / 2.0;
        let mut below = 0.0;
        let found = sizes.iter().find(|(area, _)| {
            below += counts(*area);
            below >= half
        });
        found.map(|(area, contrast)| Self {
            area: area.max(1.0),
            contrast: contrast.max(0.01),
        })
    }
}
