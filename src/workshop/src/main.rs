//! The project's native tool; see `cargo stemtide --help`.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, Parser, Subcommand};
use workshop::bundle::{self, Profile, Target};
use workshop::error::Error;

/// Build, serve, test and measure Stemtide.
#[derive(Parser)]
#[command(name = "cargo stemtide", bin_name = "cargo stemtide")]
struct Cli {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// Compile one package to a WebAssembly module, for a test page.
    Bundle(BundleArgs),
}

#[derive(Args)]
struct BundleArgs {
    /// The package.
    #[arg(long)]
    package: String,
    /// An example of it; without this, the program of the package's name.
    #[arg(long)]
    example: Option<String>,
    /// The folder to write to.
    #[arg(long)]
    out: PathBuf,
    /// Build quickly instead of small.
    #[arg(long)]
    dev: bool,
}

fn main() -> ExitCode {
    match run(Cli::parse().command) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn run(command: Command) -> Result<(), Error> {
    match command {
        Command::Bundle(args) => {
            let target = match &args.example {
                Some(example) => Target::Example(example),
                None => Target::Bin(&args.package),
            };
            let built = bundle::build_wasm(&args.package, target, profile(args.dev), &args.out)?;
            println!("{}", built.js.display());
            println!("{}", built.wasm.display());
            Ok(())
        }
    }
}

fn profile(dev: bool) -> Profile {
    if dev { Profile::Dev } else { Profile::Release }
}
