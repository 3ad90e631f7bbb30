//! A pinhole camera above a tray, by ray tracing: independent of the mapping used by the imaging crate.

use crate::draw::Draw;

/// A point or direction in millimetres: across the tray, down the tray, up from it.
pub type Space = [f64; 3];

/// A camera aimed at a tray.
pub struct Camera {
    /// Pixels across and down.
    pub size: (usize, usize),
    at: Space,
    right: Space,
    down: Space,
    ahead: Space,
    focal_px: f64,
}

fn dot(a: Space, b: Space) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: Space, b: Space) -> Space {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

fn unit(a: Space) -> Space {
    let length = dot(a, a).sqrt();
    a.map(|v| v / length)
}

fn along(a: Space, b: Space, share: f64) -> Space {
    [0, 1, 2].map(|n| a[n] + b[n] * share)
}

impl Camera {
    /// A camera tilted by a number of degrees in a random direction, so that a tray of the given width and
    /// height nearly fills the picture.
    pub fn over(draw: &mut Draw, tray: (f64, f64), tilt: f64, size: (usize, usize)) -> Self {
        let focal_px = draw.between(0.8, 1.2) * size.0.max(size.1) as f64;
        let (tilt, turn) = (tilt.to_radians(), draw.between(0.0, 360.0).to_radians());
        let roll = (draw.normal() * 2.5).to_radians();
        let middle = [tray.0 / 2.0, tray.1 / 2.0, 0.0];
        let from = [
            libm::sin(tilt) * libm::cos(turn),
            libm::sin(tilt) * libm::sin(turn),
            libm::cos(tilt),
        ];
        let ahead = from.map(|v| -v);
        let flat = unit(along([1.0, 0.0, 0.0], ahead, -ahead[0]));
        let low = cross(flat, ahead);
        let right = unit([0, 1, 2].map(|n| flat[n] * libm::cos(roll) + low[n] * libm::sin(roll)));
        let mut camera = Self {
            size,
            at: middle,
            right,
            down: cross(right, ahead),
            ahead,
            focal_px,
        };
        // Moves back until the tray is in the picture with a margin.
        let margin = draw.between(0.03, 0.08);
        let mut far = 0.3 * tray.0;
        loop {
            camera.at = along(middle, from, far);
            let ends = [(0.0, 0.0), (tray.0, 0.0), (tray.0, tray.1), (0.0, tray.1)];
            let inside = ends.iter().all(|(x, y)| {
                let (px, py) = camera.seen([*x, *y, 0.0]);
                let within =
                    |v: f64, most: usize| (margin..=1.0 - margin).contains(&(v / most as f64));
                within(px, size.0) && within(py, size.1)
            });
            if inside {
                return camera;
            }
            far *= 1.02;
        }
    }

    /// The position of a point in the picture, in pixels from the upper left corner.
    pub fn seen(&self, place: Space) -> (f64, f64) {
        let from = along(place, self.at, -1.0);
        let far = dot(from, self.ahead).max(1e-6);
        (
            self.focal_px * dot(from, self.right) / far + self.size.0 as f64 / 2.0,
            self.focal_px * dot(from, self.down) / far + self.size.1 as f64 / 2.0,
        )
    }

    /// The ray of a pixel: its intersection with the tray, and its slope across and down per millimetre of
    /// height.
    pub fn ray(&self, x: f64, y: f64) -> Ray {
        let across = x - self.size.0 as f64 / 2.0;
        let down = y - self.size.1 as f64 / 2.0;
        let way = along(self.ahead.map(|v| v * self.focal_px), self.right, across);
        let way = along(way, self.down, down);
        let slope = (way[0] / way[2], way[1] / way[2]);
        Ray {
            x: self.at[0] - self.at[2] * slope.0,
            y: self.at[1] - self.at[2] * slope.1,
            slope,
        }
    }
}

/// A ray from a camera.
#[derive(Clone, Copy)]
pub struct Ray {
    x: f64,
    y: f64,
    slope: (f64, f64),
}

impl Ray {
    /// Its position a number of millimetres above the tray's edge.
    pub fn at(&self, up: f64) -> (f64, f64) {
        (self.x + up * self.slope.0, self.y + up * self.slope.1)
    }
}
