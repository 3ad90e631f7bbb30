//! Times the planner natively, and HiGHS on the same programs in the same run if the `python3` on the path,
//! or the one named in `PYTHON`, has highspy. HiGHS gets 60 seconds and one thread, as does the planner.

use std::error::Error;
use std::path::Path;
use std::process::Command;
use std::time::Instant;

use planner::model::Model;
use planner::mps::mps;
use planner::solve::solve;
use planner_checks::{cases, problem};

const TIMED: [&str; 5] = ["tiny-1", "small-1", "hobby-1", "farm-1", "acre-1"];

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::temp_dir().join(format!("stemtide-plans-{}", std::process::id()));
    std::fs::create_dir_all(&folder)?;
    println!("case: first plan s, settled s, its cost, our bound");
    for case in cases()
        .iter()
        .filter(|case| TIMED.contains(&case.id().as_str()))
    {
        let problem = problem(case.seed, case.size);
        std::fs::write(
            folder.join(format!("{}.mps", case.id())),
            mps(&Model::of(&problem)),
        )?;
        let begun = Instant::now();
        let now = || begun.elapsed().as_secs_f64();
        let mut first = None;
        let found = solve(&problem, f64::INFINITY, &now, &mut |_| {
            first.get_or_insert(now());
        })?;
        println!(
            "{}: {:.2}, {:.2}, {:.1}, {:.1}",
            case.id(),
            first.unwrap_or_default(),
            now(),
            found.cost_in_parts,
            found.bound
        );
    }
    highs(&folder)?;
    std::fs::remove_dir_all(&folder)?;
    Ok(())
}

fn highs(folder: &Path) -> Result<(), Box<dyn Error>> {
    let python = std::env::var("PYTHON").unwrap_or_else(|_| "python3".into());
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/highs.py");
    println!("HiGHS: case, program, how it ended, cost, bound, s");
    let ran = Command::new(python)
        .arg(script)
        .arg(folder)
        .arg(folder.join("highs.csv"))
        .status()?;
    if !ran.success() {
        println!("no highspy here: its times are left out");
    }
    Ok(())
}
