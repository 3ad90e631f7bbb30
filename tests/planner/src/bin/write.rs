//! Writes all planning programs as MPS files into a folder, for other solvers.

use std::error::Error;
use std::path::PathBuf;

use planner::model::Model;
use planner::mps::mps;
use planner_checks::{cases, problem};

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::args().nth(1).ok_or("into which folder?")?;
    let folder = PathBuf::from(folder);
    std::fs::create_dir_all(&folder)?;
    for case in cases() {
        let model = Model::of(&problem(case.seed, case.size));
        let file = folder.join(format!("{}.mps", case.id()));
        std::fs::write(file, mps(&model))?;
    }
    Ok(())
}
