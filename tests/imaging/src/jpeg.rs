//! The losses of JPEG: blocks of 8 by 8 cosines, quantized by the tables of ITU-T T.81 annex K (from memory),
//! chroma at half the width and height. Nothing is written or read as a file.

use crate::plant::Colour;

const LIGHT: [u8; 64] = [
    16, 11, 10, 16, 24, 40, 51, 61, 12, 12, 14, 19, 26, 58, 60, 55, 14, 13, 16, 24, 40, 57, 69, 56,
    14, 17, 22, 29, 51, 87, 80, 62, 18, 22, 37, 56, 68, 109, 103, 77, 24, 35, 55, 64, 81, 104, 113,
    92, 49, 64, 78, 87, 103, 121, 120, 101, 72, 92, 95, 98, 112, 100, 103, 99,
];

/// The chroma table: constant from the fifth row and column on.
fn colour_step(at: usize) -> f64 {
    const CORNER: [[f64; 4]; 4] = [
        [17.0, 18.0, 24.0, 47.0],
        [18.0, 21.0, 26.0, 66.0],
        [24.0, 26.0, 56.0, 99.0],
        [47.0, 66.0, 99.0, 99.0],
    ];
    let (row, column) = (at / 8, at % 8);
    if row < 4 && column < 4 {
        CORNER[row][column]
    } else {
        99.0
    }
}

struct Plane {
    width: usize,
    height: usize,
    values: Vec<f64>,
}

/// Compresses and decompresses.
pub fn compress(colours: &mut [Colour], (width, height): (usize, usize), quality: f64) {
    let scale = if quality < 50.0 {
        50.0 / quality
    } else {
        2.0 - quality / 50.0
    };
    let step = |v: f64| (v * scale).round().max(1.0);
    let mut light = Plane {
        width,
        height,
        values: colours
            .iter()
            .map(|[r, g, b]| 0.299 * r + 0.587 * g + 0.114 * b)
            .collect(),
    };
    let (half_width, half_height) = (width.div_ceil(2), height.div_ceil(2));
    let mut tints = [2, 0].map(|channel| {
        let mut values = Vec::with_capacity(half_width * half_height);
        for row in 0..half_height {
            for column in 0..half_width {
                let mut sum = 0.0;
                for (down, across) in [(0, 0), (0, 1), (1, 0), (1, 1)] {
                    let row = (2 * row + down).min(height - 1);
                    let at = row * width + (2 * column + across).min(width - 1);
                    sum += colours[at][channel] - light.values[at];
                }
                // Blue ranges to 0.886 and red to 0.701 of the full scale.
                let most = if channel == 2 { 1.772 } else { 1.402 };
                values.push(sum / 4.0 / most + 128.0);
            }
        }
        Plane {
            width: half_width,
            height: half_height,
            values,
        }
    });
    let cosines = cosines();
    round(&mut light, &cosines, |at| step(f64::from(LIGHT[at])));
    for tint in &mut tints {
        round(tint, &cosines, |at| step(colour_step(at)));
    }
    for (at, colour) in colours.iter_mut().enumerate() {
        let y = light.values[at];
        let tint = at / width / 2 * half_width + at % width / 2;
        let (blue, red) = (tints[0].values[tint] - 128.0, tints[1].values[tint] - 128.0);
        *colour = [
            y + 1.402 * red,
            y - 0.344_136 * blue - 0.714_136 * red,
            y + 1.772 * blue,
        ];
    }
}

fn cosines() -> [[f64; 8]; 8] {
    let mut all = [[0.0; 8]; 8];
    for (u, row) in all.iter_mut().enumerate() {
        let weight = if u == 0 { 0.125_f64.sqrt() } else { 0.5 };
        for (x, v) in row.iter_mut().enumerate() {
            let angle = ((2 * x + 1) * u) as f64 * core::f64::consts::PI / 16.0;
            *v = weight * libm::cos(angle);
        }
    }
    all
}

fn round(plane: &mut Plane, cosines: &[[f64; 8]; 8], step: impl Fn(usize) -> f64) {
    let steps: Vec<f64> = (0..64).map(step).collect();
    for top in (0..plane.height).step_by(8) {
        for left in (0..plane.width).step_by(8) {
            let place = |at: usize| {
                let row = (top + at / 8).min(plane.height - 1);
                row * plane.width + (left + at % 8).min(plane.width - 1)
            };
            let mut block = [0.0; 64];
            for (at, v) in block.iter_mut().enumerate() {
                *v = plane.values[place(at)] - 128.0;
            }
            let mut waves = turned(&block, |u, x| cosines[u][x]);
            for (wave, step) in waves.iter_mut().zip(&steps) {
                *wave = (*wave / step).round() * step;
            }
            let block = turned(&waves, |x, u| cosines[u][x]);
            for (at, v) in block.iter().enumerate() {
                if top + at / 8 < plane.height && left + at % 8 < plane.width {
                    plane.values[place(at)] = v + 128.0;
                }
            }
        }
    }
}

/// A block transformed along both its rows and its columns.
fn turned(block: &[f64; 64], weight: impl Fn(usize, usize) -> f64) -> [f64; 64] {
    let mut rows = [0.0; 64];
    for row in 0..8 {
        for u in 0..8 {
            rows[row * 8 + u] = (0..8).map(|x| weight(u, x) * block[row * 8 + x]).sum();
        }
    }
    let mut both = [0.0; 64];
    for v in 0..8 {
        for u in 0..8 {
            both[v * 8 + u] = (0..8).map(|y| weight(v, y) * rows[y * 8 + u]).sum();
        }
    }
    both
}
