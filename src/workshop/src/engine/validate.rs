//! `validate`: whether a file is a season file, whole and consistent.

use std::path::Path;
use std::process::ExitCode;

use season::words::faults;

use super::written::manner;
use super::{Trouble, source};

/// Reads the file and says what is wrong with it. Fails on a damaged file and on records that don't add up.
pub fn run(path: &Path) -> Result<ExitCode, Trouble> {
    let read = source::read(path)?;
    let log = &read.log;
    let mut out = format!(
        "{}: {} {}, written by {}{}.\n",
        path.display(),
        log.len(),
        if log.len() == 1 { "entry" } else { "entries" },
        if read.file.device.name.is_empty() {
            "a device without a name"
        } else {
            &read.file.device.name
        },
        if read.file.exported_at.is_empty() {
            String::new()
        } else {
            format!(" at {}", read.file.exported_at)
        },
    );
    if read.season.unknown > 0 {
        let kept = match read.season.unknown {
            1 => {
                "1 entry is of a kind that this version does not know; it is kept as it is.".into()
            }
            n => format!(
                "{n} entries are of kinds that this version does not know; they are kept as they are."
            ),
        };
        out.push_str(&kept);
        out.push('\n');
    }
    for problem in &read.season.problems {
        // The file's opening is line 1, and entries stand one a line after it.
        let number = log.iter().position(|e| *e.id() == problem.entry);
        let place = number.map_or_else(String::new, |n| format!("Entry {}, ", n + 1));
        let says = faults::of_problem(log, problem).write(manner());
        out.push_str(&format!("{place}{}: {says}\n", problem.entry));
    }
    if read.season.problems.is_empty() {
        out.push_str("Everything adds up.\n");
    }
    source::print(&out)?;
    Ok(if read.season.problems.is_empty() {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    })
}
