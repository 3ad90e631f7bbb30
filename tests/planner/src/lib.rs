//! Planning problems made by a seed, in the sizes of a first garden to an acre, for holding the planner against other solvers.

mod generate;

pub use generate::{Size, problem};
