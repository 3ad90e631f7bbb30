//! Texture of mix, wood and film: value noise on a grid, the same for the same position and seed.

/// A number from 0 to 1 for a position on a grid.
pub fn hash(x: i64, y: i64, seed: u64) -> f64 {
    let place = (x as u64).wrapping_mul(0x9E37_79B9_7F4A_7C15);
    let place = place.wrapping_add((y as u64).wrapping_mul(0xC2B2_AE3D_27D4_EB4F));
    let mut z = (place ^ seed).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 32)).wrapping_mul(0x94D0_49BB_1331_11EB);
    (z >> 11) as f64 / (1_u64 << 53) as f64
}

/// Smooth noise from 0 to 1 with the given grain size.
pub fn grain(x: f64, y: f64, size: f64, seed: u64) -> f64 {
    let (x, y) = (x / size, y / size);
    let (left, top) = (x.floor(), y.floor());
    let ease = |t: f64| t * t * (3.0 - 2.0 * t);
    let (across, down) = (ease(x - left), ease(y - top));
    let (left, top) = (left as i64, top as i64);
    let row = |y: i64| {
        let a = hash(left, y, seed);
        a + (hash(left + 1, y, seed) - a) * across
    };
    let upper = row(top);
    upper + (row(top + 1) - upper) * down
}

/// Distance of a position from the centre of the speck in its grid square, in radii of the speck; more than 1
/// is outside.
pub fn speck(x: f64, y: f64, size: f64, share: f64, seed: u64) -> f64 {
    let (column, row) = ((x / size).floor(), (y / size).floor());
    let draw = |n: u64| hash(column as i64, row as i64, seed ^ n);
    if draw(1) >= share {
        return f64::INFINITY;
    }
    let radius = size * (0.15 + 0.2 * draw(2));
    let middle = |n: u64, start: f64| (start + 0.35 + 0.3 * draw(n)) * size;
    let (dx, dy) = (x - middle(3, column), y - middle(4, row));
    (dx * dx + dy * dy).sqrt() / radius
}
