//! The set of drawn pictures.

use crate::draw::Draw;
use crate::light::Light;
use crate::plant::Habit;
use crate::scene::Tray;

/// A kind of picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Class {
    /// Ordinary light, camera nearly level, nearly sharp, nothing obstructing.
    Clean,
    /// Camera 25 to 45 degrees from level.
    Tilted,
    /// An eighth to a third of the light, with the corresponding noise.
    Dim,
    /// Out of focus.
    Blurred,
    /// Algae on the mix of some cells.
    Algae,
    /// Through a dome: reflections, haze, drops.
    Glare,
    /// Under a magenta, orange or blue lamp.
    Lamp,
    /// The photographer's shadow across the tray.
    Shadow,
    /// Leaves of neighbours touch.
    Crowded,
    /// Seedlings with leaves more red than green.
    Red,
}

impl Class {
    /// Its name.
    pub fn name(self) -> &'static str {
        match self {
            Self::Clean => "clean",
            Self::Tilted => "tilted",
            Self::Dim => "dim",
            Self::Blurred => "blurred",
            Self::Algae => "algae",
            Self::Glare => "glare",
            Self::Lamp => "lamp",
            Self::Shadow => "shadow",
            Self::Crowded => "crowded",
            Self::Red => "red",
        }
    }
}

/// Kinds, with the number of pictures of each.
pub const CLASSES: [(Class, u64); 10] = [
    (Class::Clean, 100),
    (Class::Tilted, 15),
    (Class::Dim, 15),
    (Class::Blurred, 15),
    (Class::Algae, 20),
    (Class::Glare, 20),
    (Class::Lamp, 15),
    (Class::Shadow, 10),
    (Class::Crowded, 10),
    (Class::Red, 10),
];

/// The first seed. Other seeds were used to set the imaging parameters.
const SEEDS: u64 = 100_000;

/// A drawn picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Case {
    /// Its kind.
    pub class: Class,
    /// Its number within its kind.
    pub number: u64,
    /// Its seed.
    pub seed: u64,
}

impl Case {
    /// Its name.
    pub fn id(&self) -> String {
        format!("{}-{:03}", self.class.name(), self.number)
    }
}

/// All pictures.
pub fn cases() -> Vec<Case> {
    let mut all = Vec::new();
    for (kind, (class, many)) in CLASSES.iter().enumerate() {
        all.extend((0..*many).map(|number| Case {
            class: *class,
            number,
            seed: SEEDS + 1_000 * kind as u64 + number,
        }));
    }
    all
}

/// What to draw.
pub struct Plan {
    /// The tray.
    pub tray: Tray,
    /// Light and camera.
    pub light: Light,
    /// Tilt of the camera, in degrees.
    pub tilt: f64,
    /// Approximate width of a cell in pixels.
    pub cell_px: f64,
}

/// Rows, cells per row, a cell's side in mm, and pixels of a cell's side.
const GRIDS: [(usize, usize, f64, f64); 7] = [
    (4, 5, 50.0, 80.0),
    (5, 8, 38.0, 60.0),
    (5, 10, 50.0, 56.0),
    (6, 12, 40.0, 50.0),
    (8, 16, 30.0, 44.0),
    (10, 20, 26.0, 40.0),
    (12, 24, 20.0, 35.0),
];

/// Leaf colours: bright, medium, dark, pale, bluish, and green with some red.
const GREENS: [[f64; 3]; 6] = [
    [98.0, 152.0, 52.0],
    [82.0, 132.0, 56.0],
    [56.0, 94.0, 44.0],
    [150.0, 180.0, 98.0],
    [88.0, 134.0, 90.0],
    [118.0, 114.0, 58.0],
];

/// Leaves more red than green.
const REDS: [[f64; 3]; 3] = [[122.0, 84.0, 70.0], [104.0, 92.0, 62.0], [96.0, 60.0, 66.0]];

/// The drawing parameters of a kind of picture.
pub fn planned(draw: &mut Draw, class: Class, number: u64) -> Plan {
    let (rows, columns, pitch, cell_px) = GRIDS[number as usize % GRIDS.len()];
    // Among the clean pictures, some trays are bare and some are full.
    let up = match number % 25 {
        7 => 0.0,
        16 => 1.0,
        _ => draw.between(0.3, 0.97),
    };
    let crowded = class == Class::Crowded;
    let reach = if crowded {
        0.34
    } else {
        draw.between(0.1, 0.26)
    };
    let habit = Habit {
        colour: match class {
            Class::Red => draw.one_of(&REDS),
            _ => draw.one_of(&GREENS),
        },
        length: (reach * pitch).max(2.5),
        width: draw.between(0.35, 0.75),
        leaves: if crowded {
            6
        } else {
            draw.one_of(&[0, 0, 2, 4])
        },
        grown: draw.between(0.8, 1.4),
        leaning: 0.08,
    };
    let film = match class {
        Class::Algae => (draw.between(0.2, 0.8), draw.between(0.5, 1.0)),
        _ => (0.0, 0.0),
    };
    let tray = Tray {
        rows,
        columns,
        pitch,
        up: if crowded { up.clamp(0.6, 0.97) } else { up },
        two: 0.07,
        habit,
        film,
        labels: draw.one_of(&[0, 0, 1, 2]),
    };
    let strength = draw.between(0.8, 1.2);
    let warm = draw.normal() * 0.05;
    let mut light = Light {
        lamp: [strength * (1.0 + warm), strength, strength * (1.0 - warm)],
        gradient: draw.between(0.0, 0.3),
        shadow: 1.0,
        blur: draw.between(0.4, 0.9),
        noise: draw.between(1.5, 4.0),
        quality: draw.between(80.0, 93.0),
        glare: (0, 0.0),
        drops: 0.0,
    };
    let mut tilt = draw.between(0.0, 10.0);
    match class {
        Class::Clean | Class::Algae | Class::Crowded | Class::Red => {}
        Class::Tilted => tilt = draw.between(25.0, 45.0),
        Class::Dim => {
            let dim = draw.between(0.12, 0.33);
            light.lamp = light.lamp.map(|v| v * dim);
            light.noise = draw.between(3.0, 6.0);
        }
        Class::Blurred => light.blur = draw.between(2.0, 4.5),
        Class::Glare => {
            light.glare = (draw.one_of(&[1, 2, 3, 4]), draw.between(0.02, 0.3));
            light.drops = draw.one_of(&[0.0, 0.1, 0.4]);
        }
        Class::Lamp => {
            light.lamp = draw.one_of(&[
                [1.05, 0.55, 1.0],
                [1.15, 0.85, 0.45],
                [0.65, 0.85, 1.2],
                [1.1, 0.75, 0.9],
            ]);
        }
        Class::Shadow => light.shadow = draw.between(0.25, 0.5),
    }
    Plan {
        tray,
        light,
        tilt,
        cell_px,
    }
}
