//! Writes all planning programs into a folder: as MPS for other solvers, and as the JSON request of the
//! planner's worker.

use std::error::Error;
use std::path::PathBuf;

use planner::model::Model;
use planner::mps::mps;
use planner::protocol::Request;
use planner_checks::{cases, problem};

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::args().nth(1).ok_or("into which folder?")?;
    let folder = PathBuf::from(folder);
    std::fs::create_dir_all(&folder)?;
    for case in cases() {
        let problem = problem(case.seed, case.size);
        let file = |ending: &str| folder.join(format!("{}.{ending}", case.id()));
        std::fs::write(file("mps"), mps(&Model::of(&problem)))?;
        let ask = Request::Plan {
            problem,
            limit_s: 60.0,
        };
        std::fs::write(file("json"), serde_json::to_string(&ask)?)?;
    }
    Ok(())
}
