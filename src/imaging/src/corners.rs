//! The four corners of a tray's edge in a picture: where they may lie, and how a finger or a key moves them.
//!
//! Places are in pixels from the picture's upper left corner, x to the right, y down; a pixel's centre lies half a pixel from its sides.

use serde::{Deserialize, Serialize};

use crate::error::CornersError;

/// A place in a picture or on a tray.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

impl Point {
    /// A place.
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// How far another place is.
    pub fn distance(self, other: Self) -> f64 {
        (other.x - self.x).hypot(other.y - self.y)
    }

    fn clamped(self, width: u32, height: u32) -> Self {
        // Where a figure is none, the corner of the picture is as good as any.
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

/// Corners in the order of the tray's own upper left, upper right, lower right and lower left, however it lies in the picture.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Corners(pub [Point; 4]);

/// How far from the picture's border corners are proposed, as a share of its shorter side.
const INSET: f64 = 0.1;
/// Least sine of the angle at a corner: 3 degrees.
const SINE_MIN: f64 = 0.052;
/// Shortest edge, in pixels.
const EDGE_MIN_PX: f64 = 8.0;

impl Corners {
    /// Corners to begin with, a little inside of a picture's border.
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

    /// With one corner (0..4) put elsewhere, as near as the picture goes. Others are left alone, and a corner that is none changes
    /// nothing.
    #[must_use]
    pub fn moved(mut self, corner: usize, to: Point, width: u32, height: u32) -> Self {
        if let Some(place) = self.0.get_mut(corner) {
            *place = to.clamped(width, height);
        }
        self
    }

    /// With one corner (0..4) moved so many pixels, as far as the picture goes.
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

    /// The corner (0..4) nearest to a place: the one that a finger there means.
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

    /// With the tray taken as a quarter turn further: what was its upper right corner is its upper left.
    #[must_use]
    pub fn turned(self) -> Self {
        let [a, b, c, d] = self.0;
        Self([b, c, d, a])
    }

    /// Whether the four points can be a tray's corners in a picture.
    ///
    /// # Errors
    /// What is wrong with them.
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

    /// What lies between them, in pixels of the picture.
    pub fn area(&self) -> f64 {
        let [a, b, c, d] = self.0;
        (((c.x - a.x) * (d.y - b.y) - (c.y - a.y) * (d.x - b.x)) / 2.0).abs()
    }
}
