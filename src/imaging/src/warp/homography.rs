//! The projective mapping between two planes.
//!
//! It is determined by four points. Direct linear transformation: Hartley & Zisserman, Multiple View Geometry
//! in Computer Vision, 2nd edition, 2004, chapter 4 (from memory), with the last element set to 1, which is
//! possible unless a corner is at infinity.

use crate::corners::Point;

/// A mapping of points that preserves straight lines.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Homography([f64; 9]);

/// Pivots below this, relative to the largest element, are zero.
const PIVOT_MIN: f64 = 1e-12;

impl Homography {
    /// The mapping of four points to four others; `None` if there is none.
    pub fn between(from: [Point; 4], to: [Point; 4]) -> Option<Self> {
        let mut rows = [[0.0; 9]; 8];
        for (pair, (a, b)) in rows.chunks_mut(2).zip(from.iter().zip(&to)) {
            if let [across, down] = pair {
                *across = [a.x, a.y, 1.0, 0.0, 0.0, 0.0, -a.x * b.x, -a.y * b.x, b.x];
                *down = [0.0, 0.0, 0.0, a.x, a.y, 1.0, -a.x * b.y, -a.y * b.y, b.y];
            }
        }
        let solved = solve(rows)?;
        let mut all = [1.0; 9];
        all[..8].copy_from_slice(&solved);
        Some(Self(all))
    }

    /// The mapping of the square between (0, 0) and (1, 1) to four corners, clockwise from the upper left
    /// one.
    pub fn of_unit_square(to: [Point; 4]) -> Option<Self> {
        let square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
        Self::between(square.map(|(x, y)| Point::new(x, y)), to)
    }

    /// Its nine elements by row, the last of them 1.
    pub fn figures(&self) -> [f64; 9] {
        self.0
    }

    /// The image of a point.
    pub fn map(&self, p: Point) -> Point {
        let [a, b, c, d, e, f, g, h, i] = self.0;
        let w = g * p.x + h * p.y + i;
        Point::new((a * p.x + b * p.y + c) / w, (d * p.x + e * p.y + f) / w)
    }
}

/// Solves eight equations, each with its right side last, by Gaussian elimination with partial pivoting.
fn solve(mut rows: [[f64; 9]; 8]) -> Option<[f64; 8]> {
    // Scales the rows, so that pivots are comparable.
    for row in &mut rows {
        let most = row[..8].iter().fold(0.0_f64, |most, v| most.max(v.abs()));
        if !most.is_finite() || most <= 0.0 {
            return None;
        }
        for v in row {
            *v /= most;
        }
    }
    for column in 0..8 {
        let mut best = column;
        for row in column..8 {
            if rows[row][column].abs() > rows[best][column].abs() {
                best = row;
            }
        }
        rows.swap(column, best);
        let pivot = rows[column];
        if !pivot[column].is_finite() || pivot[column].abs() < PIVOT_MIN {
            return None;
        }
        for row in rows.iter_mut().skip(column + 1) {
            let share = row[column] / pivot[column];
            for (v, p) in row.iter_mut().zip(pivot).skip(column) {
                *v -= share * p;
            }
        }
    }
    let mut solved = [0.0; 8];
    for column in (0..8).rev() {
        let row = rows[column];
        let known: f64 = (column + 1..8).map(|next| row[next] * solved[next]).sum();
        solved[column] = (row[8] - known) / row[column];
    }
    solved.iter().all(|v| v.is_finite()).then_some(solved)
}
