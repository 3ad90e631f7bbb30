//! Season files in and out.

use std::fmt;
use std::fs;
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

use chrono::{Local, NaiveDate};
use culture::Reference;
use season::file::{self, FileError, SeasonFile};
use season::limits::FILE_BYTES_MAX;
use season::words::{Manner, faults};
use season::{Log, Season};

/// What stops a command, as a plain sentence.
#[derive(Debug)]
pub enum Trouble {
    /// A file could not be read or written.
    File {
        /// What was being done, as in "read" or "write".
        doing: &'static str,
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// A file was read but not taken.
    NotTaken {
        /// The file.
        path: PathBuf,
        /// Why.
        why: FileError,
    },
    /// The file to write is there already.
    Exists(PathBuf),
    /// Standard output could not be written.
    Output(io::Error),
    /// Something inside did not hold that always should.
    Inside(String),
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::File {
                doing,
                path,
                source,
            } => write!(f, "Could not {doing} {}: {source}.", path.display()),
            Self::NotTaken { path, why } => {
                let why = faults::of_file(why).write(Manner::default());
                write!(f, "{}: {why}", path.display())
            }
            Self::Exists(path) => write!(
                f,
                "{} is there already; add --overwrite to replace it, or choose another name.",
                path.display()
            ),
            Self::Output(source) => write!(f, "Could not write the answer: {source}."),
            Self::Inside(what) => write!(f, "This should not happen: {what}."),
        }
    }
}

impl std::error::Error for Trouble {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::File { source, .. } | Self::Output(source) => Some(source),
            Self::NotTaken { why, .. } => Some(why),
            Self::Exists(_) | Self::Inside(_) => None,
        }
    }
}

/// A season file and what it adds up to.
pub struct ReadFile {
    /// The file.
    pub file: SeasonFile,
    /// Its entries.
    pub log: Log,
    /// What they add up to.
    pub season: Season,
}

/// Reads a season file.
pub fn read(path: &Path) -> Result<ReadFile, Trouble> {
    let failed = |source| Trouble::File {
        doing: "read",
        path: path.to_owned(),
        source,
    };
    let mut bytes = Vec::new();
    // One byte beyond the limit is enough to know that the file is too large.
    fs::File::open(path)
        .map_err(failed)?
        .take(FILE_BYTES_MAX as u64 + 1)
        .read_to_end(&mut bytes)
        .map_err(failed)?;
    let file = file::read(&bytes).map_err(|why| Trouble::NotTaken {
        path: path.to_owned(),
        why,
    })?;
    let log: Log = file.entries.iter().cloned().collect();
    let season = Season::of(&log);
    Ok(ReadFile { file, log, season })
}

/// Writes a text whole or not at all: beside its place first, then moved there.
pub fn write_whole(path: &Path, text: &str) -> Result<(), Trouble> {
    let failed = |source| Trouble::File {
        doing: "write",
        path: path.to_owned(),
        source,
    };
    let mut beside = path.as_os_str().to_owned();
    beside.push(".part");
    let beside = PathBuf::from(beside);
    fs::write(&beside, text)
        .and_then(|()| fs::rename(&beside, path))
        .map_err(|source| {
            // Whatever of it was written is of no use to anybody.
            let _ = fs::remove_file(&beside);
            failed(source)
        })
}

/// Prints to standard output. A reader that stops listening is no trouble.
pub fn print(text: &str) -> Result<(), Trouble> {
    match io::stdout().write_all(text.as_bytes()) {
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        other => other.map_err(Trouble::Output),
    }
}

/// The crop reference.
pub fn reference() -> Result<Reference, Trouble> {
    Reference::builtin().map_err(|error| Trouble::Inside(error.to_string()))
}

/// The day asked as of, or this machine's date.
pub fn day(asked: Option<NaiveDate>) -> NaiveDate {
    asked.unwrap_or_else(|| Local::now().date_naive())
}
