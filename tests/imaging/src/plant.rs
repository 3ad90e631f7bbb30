//! Seedlings: ellipses for leaves, each at its own height.

use crate::draw::Draw;

/// A colour, 0 to 255 each.
pub type Colour = [f64; 3];

/// A leaf: a horizontal ellipse.
#[derive(Clone, Copy)]
pub struct Leaf {
    middle: (f64, f64),
    along: (f64, f64),
    half: (f64, f64),
    /// Height above the tray's edge, in mm.
    pub up: f64,
    /// Its colour.
    pub colour: Colour,
}

impl Leaf {
    /// Its extent to the left, up, right and down.
    pub fn reach(&self) -> [f64; 4] {
        let ((x, y), around) = (self.middle, self.half.0);
        [x - around, y - around, x + around, y + around]
    }

    /// Position of a point on the leaf: across its width from -1 to 1, and closeness to its edge from 0 to 1;
    /// `None` outside.
    pub fn place(&self, x: f64, y: f64) -> Option<(f64, f64)> {
        let (dx, dy) = (x - self.middle.0, y - self.middle.1);
        if dx.abs() > self.half.0 || dy.abs() > self.half.0 {
            return None;
        }
        let length = (dx * self.along.0 + dy * self.along.1) / self.half.0;
        let width = (dy * self.along.0 - dx * self.along.1) / self.half.1;
        let out = length * length + width * width;
        (out <= 1.0).then_some((width, out))
    }
}

/// The appearance of the seedlings of a tray.
#[derive(Clone, Copy)]
pub struct Habit {
    /// Leaves' colour.
    pub colour: Colour,
    /// Length of a cotyledon, in mm.
    pub length: f64,
    /// Its width, as a share of its length.
    pub width: f64,
    /// Maximum number of true leaves.
    pub leaves: usize,
    /// Length of true leaves, in lengths of a cotyledon.
    pub grown: f64,
    /// Share of seedlings that lean towards a neighbour.
    pub leaning: f64,
}

/// The leaves of a seedling that is rooted at a position.
pub fn seedling(draw: &mut Draw, habit: &Habit, root: (f64, f64), pitch: f64) -> Vec<Leaf> {
    let size = if draw.happens(0.1) {
        draw.between(0.55, 0.8)
    } else {
        draw.between(0.8, 1.25)
    };
    let length = habit.length * size;
    let lean = if draw.happens(habit.leaning) {
        draw.between(0.15, 0.25) * pitch
    } else {
        draw.between(0.0, 0.05) * pitch
    };
    let towards = draw.between(0.0, 360.0).to_radians();
    let crown = (
        root.0 + lean * libm::cos(towards),
        root.1 + lean * libm::sin(towards),
    );
    let shade = draw.between(0.85, 1.12);
    let yellow = draw.normal() * 0.04;
    let colour = [
        habit.colour[0] * shade * (1.0 + yellow),
        habit.colour[1] * shade,
        habit.colour[2] * shade * (1.0 - yellow),
    ];
    let up = draw.between(2.0, 8.0);
    let turn = draw.between(0.0, 360.0);
    let mut leaves = Vec::new();
    let mut leaf = |draw: &mut Draw, degrees: f64, length: f64, width: f64, up: f64| {
        let (along_y, along_x) = libm::sincos(degrees.to_radians());
        let out = length * draw.between(0.5, 0.6);
        let bright = draw.between(0.85, 1.1);
        leaves.push(Leaf {
            middle: (crown.0 + out * along_x, crown.1 + out * along_y),
            along: (along_x, along_y),
            half: (length / 2.0, (length * width / 2.0).min(length / 2.0)),
            up,
            colour: colour.map(|v| v * bright),
        });
    };
    for side in [0.0, 180.0] {
        let degrees = turn + side + draw.normal() * 12.0;
        let long = length * draw.between(0.85, 1.1);
        leaf(draw, degrees, long, habit.width, up);
    }
    let more = (draw.share() * (habit.leaves + 1) as f64) as usize;
    for n in 0..more {
        let degrees = turn + 90.0 + 137.5 * n as f64 + draw.normal() * 10.0;
        let long = length * habit.grown * draw.between(0.7, 1.1);
        leaf(draw, degrees, long, habit.width * 0.9, up + 2.0 + n as f64);
    }
    // The top of the stem, which joins the leaves.
    let joint = length * draw.between(0.12, 0.2);
    leaves.push(Leaf {
        middle: crown,
        along: (1.0, 0.0),
        half: (joint, joint),
        up: up - 0.5,
        colour: colour.map(|v| v * 0.9),
    });
    leaves.sort_by(|a, b| b.up.total_cmp(&a.up));
    leaves
}
