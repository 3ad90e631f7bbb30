//! A tray on a bench with everything in it.

use crate::camera::Ray;
use crate::draw::Draw;
use crate::grain::{grain, hash, speck};
use crate::plant::{Colour, Habit, Leaf, seedling};

/// What to draw of a tray.
#[derive(Clone, Copy)]
pub struct Tray {
    /// Rows.
    pub rows: usize,
    /// Cells in a row.
    pub columns: usize,
    /// A cell's side, in mm.
    pub pitch: f64,
    /// Share of cells with seedlings.
    pub up: f64,
    /// Share of these with two seedlings.
    pub two: f64,
    /// Appearance of the seedlings.
    pub habit: Habit,
    /// Share of cells with a film on their mix, and its greenness, 0 to 1.
    pub film: (f64, f64),
    /// Number of labels in the tray.
    pub labels: usize,
}

/// A tray as drawn.
pub struct Scene {
    tray: Tray,
    /// Seedlings of each cell, row by row.
    pub seedlings: Vec<u8>,
    leaves: Vec<Vec<Leaf>>,
    /// Extent of the leaves of each cell to the left, up, right and down.
    reaches: Vec<[f64; 4]>,
    labels: Vec<(f64, f64, f64, f64)>,
    /// Share of each cell's mix that is covered by a film, 0 to 1.
    pub films: Vec<f64>,
    mix: Colour,
    wall: Colour,
    bench: Colour,
    wall_mm: f64,
    perlite: f64,
    seed: u64,
}

/// Depth of the mix below the walls, in mm.
const MIX_UP: f64 = -3.0;
/// Height of the highest leaves, in mm.
const LEAVES_UP: f64 = 20.0;
/// Width of the rim around the cells, in mm.
const RIM: f64 = 6.0;

impl Scene {
    /// A tray drawn from a seed.
    pub fn of(draw: &mut Draw, tray: Tray) -> Self {
        let cells = tray.rows * tray.columns;
        let mut scene = Self {
            tray,
            seedlings: Vec::new(),
            leaves: vec![Vec::new(); cells],
            reaches: Vec::new(),
            labels: Vec::new(),
            films: Vec::new(),
            mix: draw.one_of(&[[96.0, 72.0, 52.0], [74.0, 56.0, 42.0], [52.0, 42.0, 35.0]]),
            wall: draw.one_of(&[[34.0, 34.0, 36.0], [60.0, 60.0, 62.0], [88.0, 66.0, 50.0]]),
            bench: draw.one_of(&[[170.0, 140.0, 105.0], [205.0, 205.0, 200.0], [120.0; 3]]),
            wall_mm: draw.between(0.05, 0.1) * tray.pitch,
            perlite: draw.one_of(&[0.0, 0.03, 0.1, 0.2]),
            seed: (draw.share() * 1e15) as u64,
        };
        for cell in 0..cells {
            let root = scene.middle(cell);
            let up = draw.happens(tray.up);
            let two = up && draw.happens(tray.two);
            let spread = if two { 0.05 } else { 0.08 } * tray.pitch;
            let mut off = || {
                let most = 2.0 * spread;
                let x = (draw.normal() * spread).clamp(-most, most);
                (x, (draw.normal() * spread).clamp(-most, most))
            };
            let (first, second) = (off(), off());
            let turn = draw.between(0.0, 360.0).to_radians();
            let apart = if two {
                draw.between(0.16, 0.28) * tray.pitch
            } else {
                0.0
            };
            let step = (apart * libm::cos(turn), apart * libm::sin(turn));
            let roots = [
                (root.0 + first.0 + step.0, root.1 + first.1 + step.1),
                (root.0 + second.0 - step.0, root.1 + second.1 - step.1),
            ];
            let number = u8::from(up) + u8::from(two);
            for root in roots.iter().take(usize::from(number)) {
                scene.leaves[cell].extend(seedling(draw, &tray.habit, *root, tray.pitch));
            }
            scene.leaves[cell].sort_by(|a, b| b.up.total_cmp(&a.up));
            let none = [
                f64::INFINITY,
                f64::INFINITY,
                f64::NEG_INFINITY,
                f64::NEG_INFINITY,
            ];
            let reach = scene.leaves[cell].iter().fold(none, |all, leaf| {
                let one = leaf.reach();
                let least = |n: usize| f64::min(all[n], one[n]);
                let most = |n: usize| f64::max(all[n], one[n]);
                [least(0), least(1), most(2), most(3)]
            });
            scene.reaches.push(reach);
            scene.seedlings.push(number);
            let filmed = draw.happens(tray.film.0);
            scene
                .films
                .push(if filmed { draw.between(0.3, 0.75) } else { 0.0 });
        }
        for _ in 0..tray.labels {
            let cell = (draw.share() * cells as f64) as usize;
            let (x, y) = scene.middle(cell);
            let side = draw.one_of(&[-0.38, 0.38]) * tray.pitch;
            let long = draw.between(0.5, 0.8) * tray.pitch;
            scene
                .labels
                .push((x + side, y, 0.1 * tray.pitch, long / 2.0));
        }
        scene
    }

    fn middle(&self, cell: usize) -> (f64, f64) {
        let at = |n: usize| (n as f64 + 0.5) * self.tray.pitch;
        (at(cell % self.tray.columns), at(cell / self.tray.columns))
    }

    /// The colour that a ray hits, in white light.
    pub fn colour(&self, ray: Ray) -> Colour {
        let (x, y) = ray.at(0.0);
        let (x_up, y_up) = ray.at(LEAVES_UP);
        let (label_x, label_y) = ray.at(12.0);
        for (left, top, wide, long) in &self.labels {
            if (label_x - left).abs() < *wide && (label_y - top).abs() < *long {
                return [228.0, 228.0, 224.0];
            }
        }
        let pitch = self.tray.pitch;
        let (column, row) = ((x / pitch).floor() as i64, (y / pitch).floor() as i64);
        let mut top: Option<(f64, Colour)> = None;
        for row in row - 1..=row + 1 {
            for column in column - 1..=column + 1 {
                let Some(cell) = self.cell(column, row) else {
                    continue;
                };
                let [left, high, right, low] = self.reaches[cell];
                let beside = x.max(x_up) < left || x.min(x_up) > right;
                if beside || y.max(y_up) < high || y.min(y_up) > low {
                    continue;
                }
                // Sorted by height, so that the first hit is the highest leaf of its cell.
                let met = self.leaves[cell].iter().find_map(|leaf| {
                    let (x, y) = ray.at(leaf.up);
                    leaf.place(x, y).map(|place| (leaf, place, x, y))
                });
                if let Some((leaf, place, x, y)) = met
                    && top.is_none_or(|(up, _)| leaf.up > up)
                {
                    top = Some((leaf.up, self.leaf_colour(leaf, place, x, y)));
                }
            }
        }
        top.map_or_else(|| self.ground(ray), |(_, colour)| colour)
    }

    fn leaf_colour(&self, leaf: &Leaf, (width, out): (f64, f64), x: f64, y: f64) -> Colour {
        let rib = if width.abs() < 0.08 { 1.12 } else { 1.0 };
        let bend = 1.08 - 0.2 * out;
        let spots = 0.94 + 0.12 * grain(x, y, 0.8, self.seed ^ 7);
        leaf.colour.map(|v| v * rib * bend * spots)
    }

    fn cell(&self, column: i64, row: i64) -> Option<usize> {
        let (columns, rows) = (self.tray.columns as i64, self.tray.rows as i64);
        let inside = (0..columns).contains(&column) && (0..rows).contains(&row);
        inside.then_some((row * columns + column) as usize)
    }

    fn ground(&self, ray: Ray) -> Colour {
        let (x, y) = ray.at(0.0);
        let pitch = self.tray.pitch;
        let (wide, high) = (
            self.tray.columns as f64 * pitch,
            self.tray.rows as f64 * pitch,
        );
        if !(-RIM..=wide + RIM).contains(&x) || !(-RIM..=high + RIM).contains(&y) {
            let fibre = grain(x, y * 12.0, 25.0, self.seed ^ 1);
            return self.bench.map(|v| v * (0.8 + 0.3 * fibre));
        }
        let near = |v: f64| {
            let within = v / pitch - (v / pitch).floor();
            within.min(1.0 - within) * pitch
        };
        let outside = !(0.0..=wide).contains(&x) || !(0.0..=high).contains(&y);
        if outside || near(x).min(near(y)) < self.wall_mm / 2.0 {
            let worn = 0.85 + 0.3 * grain(x, y, 9.0, self.seed ^ 2);
            return self.wall.map(|v| v * worn);
        }
        let (x, y) = ray.at(MIX_UP);
        self.mix_colour(x, y)
    }

    fn mix_colour(&self, x: f64, y: f64) -> Colour {
        let seed = self.seed;
        if speck(x, y, 3.0, self.perlite, seed ^ 3) < 1.0 {
            return [222.0, 219.0, 210.0].map(|v| v * (0.85 + 0.15 * grain(x, y, 0.6, seed)));
        }
        if speck(x, y, 4.0, self.perlite * 0.4, seed ^ 4) < 1.0 {
            return [176.0, 148.0, 96.0];
        }
        let fine = grain(x, y, 1.1, seed ^ 5);
        let crumbs = 0.5 + 0.55 * fine + 0.5 * grain(x, y, 4.0, seed ^ 6);
        // Crumbs of bark and peat also differ in colour.
        let warm = 0.1 * (hash((x / 1.5) as i64, (y / 1.5) as i64, seed ^ 8) - 0.5);
        let mix = [
            self.mix[0] * crumbs * (1.0 + warm),
            self.mix[1] * crumbs,
            self.mix[2] * crumbs * (1.0 - warm),
        ];
        let pitch = self.tray.pitch;
        let cell = self.cell((x / pitch).floor() as i64, (y / pitch).floor() as i64);
        let film = cell.map_or(0.0, |cell| self.films[cell]);
        if film <= 0.0 {
            return mix;
        }
        let patches =
            0.65 * grain(x, y, 0.22 * pitch, seed ^ 9) + 0.35 * grain(x, y, 1.6, seed ^ 10);
        if patches >= film {
            return mix;
        }
        let algae = [72.0, 98.0, 44.0].map(|v| v * (0.6 + 0.5 * fine));
        let thick = self.tray.film.1 * (0.6 + 0.4 * grain(x, y, 2.5, seed ^ 11));
        [0, 1, 2].map(|n| mix[n] + (algae[n] - mix[n]) * thick)
    }
}
