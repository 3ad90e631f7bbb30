//! Planning problems generated from a seed, from the size of a first garden to an acre, for comparing the
//! planner with other solvers.

mod generate;

pub use generate::{Size, problem};

/// A named problem.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Case {
    /// Name of its size.
    pub name: &'static str,
    /// Its seed.
    pub seed: u64,
    /// Its size.
    pub size: Size,
}

impl Case {
    /// Name and seed.
    pub fn id(&self) -> String {
        format!("{}-{}", self.name, self.seed)
    }
}

const fn size(varieties: usize, weeks: usize, beds: usize, trays: usize, stems: usize) -> Size {
    Size {
        varieties,
        weeks,
        beds,
        trays,
        stems,
        step: 1,
    }
}

/// Sizes from 5 varieties in 10 weeks to an acre of 150 varieties in 40 weeks and 90 beds, with the number of
/// problems of each.
const SIZES: [(&str, u64, Size); 7] = [
    ("tiny", 8, size(5, 10, 4, 6, 60)),
    ("small", 8, size(12, 16, 8, 15, 150)),
    ("tight", 4, size(20, 20, 8, 12, 300)),
    ("hobby", 4, size(40, 30, 20, 50, 400)),
    ("farm", 3, size(60, 30, 40, 120, 1000)),
    ("large", 2, size(100, 36, 60, 220, 2000)),
    ("acre", 2, size(150, 40, 90, 350, 3500)),
];

/// All problems that are compared with an independent solver.
pub fn cases() -> Vec<Case> {
    SIZES
        .iter()
        .flat_map(|(name, count, size)| {
            (1..=*count).map(|seed| Case {
                name,
                seed,
                size: *size,
            })
        })
        .collect()
}
