//! Planning problems generated from a seed.
//!
//! Figures lie in the ranges of the crop reference: weeks in trays and beds, stems per plant, plants per
//! metre, weeks of harvest. Sizes (varieties, beds, stems a week) are typical of small growers with that
//! area; both are common practice, without a source.

use planner::problem::{Choice, Class, Demand, Problem, Room, Take};

/// The size of a problem.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Size {
    /// Varieties.
    pub varieties: usize,
    /// Weeks in which stems are in demand.
    pub weeks: usize,
    /// Beds of 15 m, a third of them in a tunnel.
    pub beds: usize,
    /// Trays that fit on the shelves; a third of that on the mats.
    pub trays: usize,
    /// Stems in demand per week, all kinds together.
    pub stems: usize,
    /// Step between candidate sowing weeks: 1 for every week, 2 for every other week, and so on.
    pub step: usize,
}

/// A small uniform random number generator, so that a seed gives the same problem in every release
/// (SplitMix64, public domain).
struct Draw(u64);

impl Draw {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        // Rounded, so that a problem's text is short and the same on every platform.
        ((low + (high - low) * self.next()) * 1000.0).round() / 1000.0
    }

    fn whole(&mut self, low: usize, high: usize) -> usize {
        low + (self.next() * (high - low + 1) as f64) as usize
    }
}

const ROLES: usize = 5;
const COLOURS: usize = 4;
/// Weeks before the first stems can be in demand.
const LEAD: usize = 12;

struct Variety {
    role: usize,
    colour: usize,
    tray_weeks: usize,
    mat_weeks: usize,
    bed_weeks: usize,
    flush: Vec<f64>,
    cells: f64,
    seed: f64,
    metres: f64,
    warm: bool,
}

fn variety(draw: &mut Draw, n: usize) -> Variety {
    let long = draw.whole(2, 7);
    let stems = draw.between(1.0, 2.5) * (1.0 + 0.35 * long as f64);
    let peak = draw.between(0.2, 0.6) * long as f64;
    let shape: Vec<f64> = (0..long)
        .map(|week| 1.0 / (1.0 + (week as f64 + 0.5 - peak).abs()))
        .collect();
    let sum: f64 = shape.iter().sum();
    Variety {
        role: n % ROLES,
        colour: draw.whole(0, COLOURS - 1),
        tray_weeks: draw.whole(4, 10),
        mat_weeks: draw.whole(1, 2),
        bed_weeks: draw.whole(6, 11),
        flush: shape
            .iter()
            .map(|s| (s / sum * stems * 1000.0).round() / 1000.0)
            .collect(),
        cells: draw.between(1.2, 1.9),
        seed: draw.between(0.02, 0.3),
        metres: draw.between(0.02, 0.06),
        warm: draw.next() < 0.4,
    }
}

/// The problem generated from a seed.
pub fn problem(seed: u64, size: Size) -> Problem {
    let mut draw = Draw(seed);
    let horizon = LEAD + size.weeks + 8;
    let varieties: Vec<Variety> = (0..size.varieties).map(|n| variety(&mut draw, n)).collect();
    let room = |free: f64| Room {
        free: vec![free; horizon],
    };
    let tunnel = (size.beds as f64 / 3.0).ceil();
    let rooms = vec![
        room((size.trays as f64 / 3.0).ceil()),
        room(size.trays as f64),
        room(tunnel * 15.0),
        room((size.beds as f64 - tunnel).max(1.0) * 15.0),
    ];
    let demands = demands(&mut draw, size);
    let classes = classes(&varieties, horizon);
    let mut choices = Vec::new();
    for one in &varieties {
        let class = one.role * COLOURS + one.colour;
        for tunnel in [true, false] {
            // Frost-tender crops are planted outdoors from week 11, others from week 6; in a tunnel 5 weeks
            // earlier.
            let frost = if one.warm { 11 } else { 6 } - if tunnel { 5 } else { 0 };
            for sow in (0..horizon).step_by(size.step) {
                let plant = sow + one.tray_weeks;
                // Later plantings bloom faster in the warmer season.
                let bed = one.bed_weeks - (plant / 12).min(3) + usize::from(!tunnel);
                let first = plant + bed;
                let last = first + one.flush.len();
                if plant < frost || last > horizon {
                    continue;
                }
                let off = sow + one.mat_weeks;
                let trays = one.cells / 60.0;
                let share = if tunnel { 1.0 } else { 0.7 };
                choices.push(Choice {
                    class,
                    first,
                    gives: one.flush.iter().map(|stems| stems * share).collect(),
                    takes: vec![
                        take(0, sow, off, trays),
                        take(1, off, plant, trays),
                        take(if tunnel { 2 } else { 3 }, plant, last, one.metres),
                    ],
                    cost: one.cells * one.seed + 0.5 + one.metres * (last - plant) as f64,
                    start: 2.0,
                });
            }
        }
    }
    Problem {
        weeks: horizon,
        rooms,
        demands,
        classes,
        choices,
    }
}

fn take(room: usize, from: usize, to: usize, each: f64) -> Take {
    Take {
        room,
        from,
        to,
        each,
    }
}

/// First the narrow demands, for a role in a colour, then one for each role.
fn demands(draw: &mut Draw, size: Size) -> Vec<Demand> {
    let mut found = Vec::new();
    for _ in 0..ROLES {
        let share = draw.between(0.1, 0.3);
        for colour in 0..=COLOURS {
            let any = colour == COLOURS;
            // Not every colour is in demand.
            if !any && draw.next() < 0.6 {
                found.push(Demand::default());
                continue;
            }
            let a_week = size.stems as f64 * share * if any { 0.7 } else { 0.15 };
            let from = LEAD + draw.whole(0, size.weeks / 3);
            let to = (LEAD + size.weeks - draw.whole(0, size.weeks / 3)).max(from + 1);
            found.push(Demand {
                wanted: (from..to)
                    .map(|week| {
                        let swing = draw.between(0.8, 1.2);
                        (week, (a_week * swing).ceil())
                    })
                    .collect(),
                price: 10.0,
            });
        }
    }
    found
}

fn classes(varieties: &[Variety], horizon: usize) -> Vec<Class> {
    let mut found = Vec::new();
    for role in 0..ROLES {
        for colour in 0..COLOURS {
            let any = varieties
                .iter()
                .any(|v| v.role == role && v.colour == colour);
            let of_role = role * (COLOURS + 1);
            found.push(Class {
                answers: if any {
                    vec![of_role + colour, of_role + COLOURS]
                } else {
                    Vec::new()
                },
                comes: vec![0.0; horizon],
            });
        }
    }
    found
}
