//! Brightness, evenness and sharpness of a tray's picture.

use crate::warp::Flat;

/// Brightness and sharpness of a tray's picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Light {
    /// The 95th percentile of brightness, 0 to 255.
    pub bright: f64,
    /// Mean brightness.
    pub mean: f64,
    /// Standard deviation of brightness.
    pub spread: f64,
    /// Mean difference of a pixel from its neighbours, relative to the standard deviation: 0 is pure haze,
    /// and the grain of mix in a sharp picture gives several tenths.
    pub sharpness: f64,
}

impl Light {
    /// Measures a rectified tray.
    pub fn of(flat: &Flat) -> Self {
        let grey: Vec<f32> = flat
            .pixels
            .iter()
            .map(|[r, g, b]| (r + g + b) / 3.0)
            .collect();
        let n = grey.len().max(1) as f64;
        let mean = grey.iter().map(|v| f64::from(*v)).sum::<f64>() / n;
        let spread = grey
            .iter()
            .map(|v| (f64::from(*v) - mean).powi(2))
            .sum::<f64>()
            / n;
        let spread = spread.sqrt();
        let width = flat.width();
        let (mut rough, mut places) = (0.0, 0_usize);
        for row in 1..flat.height().saturating_sub(1) {
            for column in 1..width.saturating_sub(1) {
                let at = row * width + column;
                let beside = grey[at - 1] + grey[at + 1] + grey[at - width] + grey[at + width];
                rough += f64::from((grey[at] - beside / 4.0).abs());
                places += 1;
            }
        }
        let sharpness = rough / places.max(1) as f64 / spread.max(f64::MIN_POSITIVE);
        Self {
            bright: bright(&grey),
            mean,
            spread,
            sharpness: if spread > 0.0 { sharpness } else { 0.0 },
        }
    }
}

fn bright(grey: &[f32]) -> f64 {
    let mut counts = [0_usize; 256];
    for v in grey {
        counts[(*v as usize).min(255)] += 1;
    }
    let mut above = 0;
    for (level, n) in counts.iter().enumerate().rev() {
        above += n;
        if above * 20 >= grey.len() {
            return level as f64;
        }
    }
    0.0
}
