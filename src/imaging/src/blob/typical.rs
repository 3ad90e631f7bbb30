//! The typical seedling of a tray.

use super::Blob;

/// Share of a cell beyond which a blob has no more weight.
const LARGE: f64 = 0.1;

/// The typical seedling of a tray.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Typical {
    /// Pixels in its own cell.
    pub area: f64,
    /// Mean excess green above that of the mix.
    pub contrast: f64,
}

impl Default for Typical {
    fn default() -> Self {
        Self {
            area: 1.0,
            contrast: 1.0,
        }
    }
}

impl Typical {
    /// The typical seedling among blobs, above the excess green of the mix, in cells of `cell_area` pixels;
    /// `None` without blobs.
    ///
    /// The median weighted by area, so that many specks do not make a speck typical; the weight of large
    /// blobs is limited, so that a patch of algae does not dominate either.
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
