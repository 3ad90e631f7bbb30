//! `merge`: all entries of two files in one, the same whichever is named first.

use std::process::ExitCode;

use season::file::{self, SeasonFile};
use season::{Entry, Inserted, Log};

use super::{MergeArgs, Trouble, source};

/// Two files put together.
struct Merged {
    log: Log,
    /// Entries that only the other file has, from each one's view: (in A alone, in B alone).
    alone: (usize, usize),
    /// Entries that both have.
    both: usize,
    /// Ids that stand for different entries in the two; one of each pair was kept.
    clashes: Vec<String>,
}

fn merge(a: &SeasonFile, b: &SeasonFile) -> Merged {
    let in_a: Log = a.entries.iter().cloned().collect();
    let mut merged = Merged {
        log: Log::new(),
        alone: (0, 0),
        both: 0,
        clashes: Vec::new(),
    };
    let mut replaced: Vec<&Entry> = Vec::new();
    for entry in &b.entries {
        match in_a.compare(entry) {
            Inserted::New => merged.alone.1 += 1,
            Inserted::Known => merged.both += 1,
            Inserted::Clash => {
                merged.clashes.push(entry.id().to_string());
                // Which of the two stays must not hang on which file was named first: the one whose text sorts first.
                if in_a
                    .get(entry.id())
                    .is_some_and(|mine| entry.json() < mine.json())
                {
                    replaced.push(entry);
                }
            }
        }
    }
    merged.alone.0 = a.entries.len() - merged.both - merged.clashes.len();
    // What is put in first keeps its id.
    merged.log.extend(replaced.into_iter().cloned());
    merged.log.extend(a.entries.iter().cloned());
    merged.log.extend(b.entries.iter().cloned());
    merged
}

/// Merges two files and says what came together.
pub fn run(args: &MergeArgs) -> Result<ExitCode, Trouble> {
    let (a, b) = (source::read(&args.a)?.file, source::read(&args.b)?.file);
    if let Some(out) = args
        .out
        .as_deref()
        .filter(|out| out.exists() && !args.overwrite)
    {
        return Err(Trouble::Exists(out.to_owned()));
    }
    let merged = merge(&a, &b);
    // Signed by whichever file was written later; no clock is asked, so that the same two files always give the same third.
    let key = |file: &SeasonFile| {
        (
            file.exported_at.clone(),
            file.device.id.clone(),
            file.device.name.clone(),
        )
    };
    let later = if key(&a) >= key(&b) { &a } else { &b };
    let text = file::write(&merged.log, &later.device, &later.exported_at)
        .map_err(|error| Trouble::Inside(error.to_string()))?;
    match &args.out {
        Some(out) => source::write_whole(out, &text)?,
        None => source::print(&text)?,
    }
    report(args, &merged);
    Ok(ExitCode::SUCCESS)
}

/// The report goes to standard error, so that the merged file can be piped on.
fn report(args: &MergeArgs, merged: &Merged) {
    eprintln!(
        "{} entries in all: {} in both, {} only in {}, {} only in {}.",
        merged.log.len(),
        merged.both,
        merged.alone.0,
        args.a.display(),
        merged.alone.1,
        args.b.display(),
    );
    for id in &merged.clashes {
        eprintln!("The two files have different entries with the id {id}; one was kept.");
    }
    if !merged.clashes.is_empty() {
        eprintln!(
            "That happens when a copy of one device went its own way. Record on the other device again what is missing."
        );
    }
}
