//! The four corners of a tray in a picture: their validity, and moving them by finger or key.
//!
//! Coordinates are in pixels from the upper left corner of the picture, x to the right and y down; the centre
//! of a pixel is half a pixel from its sides.

use serde::{Deserialize, Serialize};

use crate::error::CornersError;

/// A point in a picture or on a tray.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Point {
    /// Distance to the right.
    pub x: f64,
    /// Distance down.
    pub y: f64,
}

impl Point {
    /// The point with these coordinates.
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// Distance to another point.
    pub fn distance(self, other: Self) -> f64 {
        (other.x - self.x).hypot(other.y - self.y)
    }

    fn clamped(self, width: u32, height: u32) -> Self {
        // NaN becomes 0, the corner of the picture.
        let within = |v: f64, most: u32| {
            if v.is_nan() {
                0.0
            } else {
                v.clamp(0.0, f64::from(most))
            }
        };
        Self::new(within(self.x, width), within(self.y, height))
    }
}

/// Corners in the order upper left, upper right, lower right and lower left of the tray, whatever its
/// orientation in the picture.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Corners(pub [Point; 4]);

/// Distance of the proposed corners from the picture's border, relative to its shorter side.
const INSET: f64 = 0.1;
/// Smallest sine of the angle at a corner: 3 degrees.
const SINE_MIN: f64 = 0.052;
/// Shortest edge, in pixels.
const EDGE_MIN_PX: f64 = 8.0;

impl Corners {
    /// Initial corners, a little inside the border of the picture.
    pub fn inset(width: u32, height: u32) -> Self {
        let (right, low) = (f64::from(width), f64::from(height));
        let by = INSET * right.min(low);
        Self([
            Point::new(by, by),
            Point::new(right - by, by),
            Point::new(right - by, low - by),
            Point::new(by, low - by),
        ])
    }

    /// Moves one corner (0..4) to a point, or as near as the picture allows. An invalid index changes
    /// nothing.
    #[must_use]
    pub fn moved(mut self, corner: usize, to: Point, width: u32, height: u32) -> Self {
        if let Some(place) = self.0.get_mut(corner) {
            *place = to.clamped(width, height);
        }
        self
    }

    /// Moves one corner (0..4) by an offset, as far as the picture allows.
    #[must_use]
    pub fn nudged(self, corner: usize, by: Point, width: u32, height: u32) -> Self {
        match self.0.get(corner) {
            Some(from) => self.moved(
                corner,
                Point::new(from.x + by.x, from.y + by.y),
                width,
                height,
            ),
            None => self,
        }
    }

    /// The corner (0..4) nearest to a point: the one that a touch there means.
    pub fn nearest(&self, to: Point) -> usize {
        let mut best = (0, f64::INFINITY);
        for (corner, place) in self.0.iter().enumerate() {
            let far = place.distance(to);
            if far < best.1 {
                best = (corner, far);
            }
        }
        best.0
    }

    /// The same tray rotated by a quarter turn: its upper right corner becomes the upper left.
    #[must_use]
    pub fn turned(self) -> Self {
        let [a, b, c, d] = self.0;
        Self([b, c, d, a])
    }

    /// Checks that the four points can be the corners of a tray in a picture.
    ///
    /// # Errors
    /// The first problem found.
    pub fn check(&self, width: u32, height: u32) -> Result<(), CornersError> {
        let inside = |p: &Point| {
            (0.0..=f64::from(width)).contains(&p.x) && (0.0..=f64::from(height)).contains(&p.y)
        };
        if !self.0.iter().all(inside) {
            return Err(CornersError::Outside);
        }
        let mut flat = false;
        for corner in 0..4 {
            let [before, here, after] = [3, 0, 1].map(|step| self.0[(corner + step) % 4]);
            let (in_x, in_y) = (here.x - before.x, here.y - before.y);
            let (out_x, out_y) = (after.x - here.x, after.y - here.y);
            let lengths = in_x.hypot(in_y) * out_x.hypot(out_y);
            let sine = (in_x * out_y - in_y * out_x) / lengths.max(f64::MIN_POSITIVE);
            if here.distance(after) < EDGE_MIN_PX || sine.abs() < SINE_MIN {
                flat = true;
            } else if sine < 0.0 {
                return Err(CornersError::Crossed);
            }
        }
        if flat {
            Err(CornersError::Flat)
        } else {
            Ok(())
        }
    }

    /// Area between the corners, in pixels of the picture.
    pub fn area(&self) -> f64 {
        let [a, b, c, d] = self.0;
        (((c.x - a.x) * (d.y - b.y) - (c.y - a.y) * (d.x - b.x)) / 2.0).abs()
    }
}
