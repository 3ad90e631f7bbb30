//! The same engine at a command line: an exported season read, reckoned with and merged without a browser.
//!
//! Nothing here decides anything about flowers: it reads files, asks the season's own rooms, and writes what they say. Words for
//! what the grower reads come from the season's catalogue.

mod available;
mod demo;
mod forecast;
mod merge;
mod plan;
mod review;
mod source;
mod table;
mod tasks;
mod validate;
mod written;

use std::path::PathBuf;
use std::process::ExitCode;

use chrono::NaiveDate;
use clap::{Args, Subcommand};

pub use source::Trouble;

/// What can be asked of a season file.
#[derive(Subcommand)]
pub enum Command {
    /// Say what is next, where, by when and why.
    Tasks(Asked),
    /// Say what to sow for the targets, and what can't be met.
    Plan(Asked),
    /// Say what trays and beds will give, and set it against the targets.
    Forecast(Asked),
    /// Say what can be promised by week, by role and colour.
    Available(Asked),
    /// Look back: what was forecast beside what came, by planting, week, lot and loss, and what that suggests.
    Review(Asked),
    /// Read a season file and say what is wrong with it, if anything.
    Validate {
        /// The season file.
        file: PathBuf,
    },
    /// Put two season files together: all entries of both.
    Merge(MergeArgs),
    /// Write the demo season and the smaller samples anew.
    Demo {
        /// Where the demo season goes; `demo-data/demo-season.json` in the checkout if not given. The samples go beside it.
        #[arg(short, long)]
        out: Option<PathBuf>,
    },
}

/// A question about one season file as of a day.
#[derive(Args)]
pub struct Asked {
    /// The season file.
    file: PathBuf,
    /// The day to ask as of, as 2027-06-14; this machine's date if not given.
    #[arg(long)]
    today: Option<NaiveDate>,
    /// Answer in JSON.
    #[arg(long)]
    json: bool,
}

/// Which files to put together.
#[derive(Args)]
pub struct MergeArgs {
    /// One season file.
    a: PathBuf,
    /// The other.
    b: PathBuf,
    /// Where to write; standard output if not given.
    #[arg(short, long)]
    out: Option<PathBuf>,
    /// Write even if the file is there already, be it one of the two.
    #[arg(long)]
    overwrite: bool,
}

/// Carries out a command; what it says goes to standard output, what stops it to standard error.
pub fn run(command: Command) -> ExitCode {
    let done = match command {
        Command::Tasks(asked) => tasks::run(&asked),
        Command::Plan(asked) => plan::run(&asked),
        Command::Forecast(asked) => forecast::run(&asked),
        Command::Available(asked) => available::run(&asked),
        Command::Review(asked) => review::run(&asked),
        Command::Validate { file } => validate::run(&file),
        Command::Merge(args) => merge::run(&args),
        Command::Demo { out } => demo::run(out.as_deref()),
    };
    match done {
        Ok(code) => code,
        Err(trouble) => {
            eprintln!("{trouble}");
            ExitCode::FAILURE
        }
    }
}
