//! Pictures of trays drawn from a seed, with the content of each cell known, for checking the imaging crate.
//!
//! They are drawn by ray tracing through a pinhole camera and share no code with the crate under test: leaves
//! at their own heights, walls, grains of mix, perlite, labels, algae, a dome's haze, reflections and drops,
//! lamps, shadow, blur, noise and compression. The appearance of trays, seedlings and mixes is common
//! practice and from memory, without a source.

mod camera;
mod cases;
mod draw;
mod grain;
mod jpeg;
mod light;
mod plant;
mod scene;

pub use cases::{CLASSES, Case, Class, cases};

use camera::Camera;
use draw::Draw;
use imaging::{Corners, Point};
use light::expose;
use scene::Scene;

/// A picture of a tray and its content.
pub struct Drawn {
    /// Pixels across and down.
    pub size: (usize, usize),
    /// Red, green, blue and opacity of each pixel.
    pub bytes: Vec<u8>,
    /// Corners as set by a thumb: some pixels off.
    pub corners: Corners,
    /// Rows.
    pub rows: usize,
    /// Cells in a row.
    pub columns: usize,
    /// Seedlings rooted in each cell.
    pub seedlings: Vec<u8>,
    /// Whether there is a film on each cell's mix.
    pub filmed: Vec<bool>,
}

/// Sample positions within a pixel.
const SAMPLES: [(f64, f64); 4] = [
    (0.375, 0.125),
    (0.875, 0.375),
    (0.125, 0.625),
    (0.625, 0.875),
];

/// The picture of a case.
pub fn drawn(case: &Case) -> Drawn {
    let mut draw = Draw::new(case.seed);
    let plan = cases::planned(&mut draw, case.class, case.number);
    let tray = plan.tray;
    let scene = Scene::of(&mut draw, tray);
    let side = |cells: usize| cells as f64 * tray.pitch;
    let wide = (tray.columns as f64 * plan.cell_px / 0.88).clamp(420.0, 960.0);
    let high = wide * tray.rows as f64 / tray.columns as f64 * 1.05;
    let size = (wide as usize, high as usize);
    let ends = (side(tray.columns), side(tray.rows));
    let camera = Camera::over(&mut draw, ends, plan.tilt, size);
    let mut colours = Vec::with_capacity(size.0 * size.1);
    for row in 0..size.1 {
        for column in 0..size.0 {
            let mut sum = [0.0; 3];
            for (across, down) in SAMPLES {
                let ray = camera.ray(column as f64 + across, row as f64 + down);
                for (sum, v) in sum.iter_mut().zip(scene.colour(ray)) {
                    *sum += v / SAMPLES.len() as f64;
                }
            }
            colours.push(sum);
        }
    }
    let bytes = expose(&mut draw, &plan.light, size, &mut colours);
    let thumb = 0.05 * wide * 0.88 / tray.columns as f64;
    let corners = [(0.0, 0.0), (ends.0, 0.0), ends, (0.0, ends.1)].map(|(x, y)| {
        let (px, py) = camera.seen([x, y, 0.0]);
        let (off_x, off_y) = (draw.normal(), draw.normal());
        Point::new(
            (px + thumb * off_x).clamp(0.0, size.0 as f64),
            (py + thumb * off_y).clamp(0.0, size.1 as f64),
        )
    });
    Drawn {
        size,
        bytes,
        corners: Corners(corners),
        rows: tray.rows,
        columns: tray.columns,
        filmed: scene.films.iter().map(|film| *film > 0.0).collect(),
        seedlings: scene.seedlings,
    }
}
