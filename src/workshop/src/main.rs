//! The project's native tool; see `cargo stemtide --help`.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, Parser, Subcommand};
use workshop::bundle::{self, Profile, Target};
use workshop::dist::{self, Built};
use workshop::error::Error;
use workshop::measure::{self, sizes, start};
use workshop::paths::workspace_root;
use workshop::{check, engine, serve};

/// Build, serve, test and measure Stemtide.
#[derive(Parser)]
#[command(name = "cargo stemtide", bin_name = "cargo stemtide")]
struct Cli {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// Build the app into plain static files.
    Build(BuildArgs),
    /// Build the app and serve it on this machine.
    Serve(ServeArgs),
    /// Run every test: formatting, lints, native tests, browser journeys.
    Test,
    /// Measure what the user pays for.
    #[command(subcommand)]
    Measure(Measure),
    /// Compile one package to a WebAssembly module, for a test page.
    Bundle(BundleArgs),
    #[command(flatten)]
    Engine(engine::Command),
}

#[derive(Args)]
struct BuildArgs {
    /// Build quickly instead of small.
    #[arg(long)]
    dev: bool,
    /// The folder to write to; `dist` in the checkout if not given.
    #[arg(long)]
    out: Option<PathBuf>,
}

#[derive(Args)]
struct ServeArgs {
    #[command(flatten)]
    build: BuildArgs,
    /// The port on 127.0.0.1; 0 takes any free one.
    #[arg(long, default_value_t = 8080)]
    port: u16,
    /// Serve what an earlier build left, without building.
    #[arg(long)]
    no_build: bool,
}

#[derive(Subcommand)]
enum Measure {
    /// Times of the engine, compiled for this machine: reading, fold, tasks, plan.
    Engine,
    /// Bytes of a first visit by part, as stored and as sent.
    Sizes {
        /// The built folder; `dist` in the checkout if not given.
        #[arg(long)]
        site: Option<PathBuf>,
    },
    /// Time of opening the installed app offline, beside an empty page.
    Start,
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
        Ok(code) => code,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn run(command: Command) -> Result<ExitCode, Error> {
    match command {
        Command::Build(args) => build(&args).map(|_| ExitCode::SUCCESS),
        Command::Serve(args) => {
            let dir = site(args.build.out.clone());
            if !args.no_build {
                build(&args.build)?;
            } else if !dir.join("index.html").is_file() {
                return Err(Error::Missing {
                    what: format!("A build in {}", dir.display()),
                    remedy: "Leave out --no-build.".into(),
                });
            }
            serve::serve(&dir, args.port)?;
            Ok(ExitCode::SUCCESS)
        }
        Command::Test => Ok(if check::run() {
            ExitCode::SUCCESS
        } else {
            ExitCode::FAILURE
        }),
        Command::Measure(Measure::Engine) => measure::engine::run().map(|()| ExitCode::SUCCESS),
        Command::Measure(Measure::Start) => start::run().map(|()| ExitCode::SUCCESS),
        Command::Measure(Measure::Sizes { site: dir }) => {
            println!("{}", sizes::weigh(&site(dir))?);
            Ok(ExitCode::SUCCESS)
        }
        Command::Engine(asked) => Ok(engine::run(asked)),
        Command::Bundle(args) => {
            let target = match &args.example {
                Some(example) => Target::Example(example),
                None => Target::Bin(&args.package),
            };
            let built = bundle::build_wasm(&args.package, target, profile(args.dev), &args.out)?;
            println!("{}", built.js.display());
            println!("{}", built.wasm.display());
            Ok(ExitCode::SUCCESS)
        }
    }
}

fn build(args: &BuildArgs) -> Result<Built, Error> {
    let built = dist::build(profile(args.dev), &site(args.out.clone()))?;
    println!(
        "Built {} files, {} kB, in {} (build {}).",
        built.file_count,
        built.size_bytes / 1000,
        built.dir.display(),
        built.build
    );
    Ok(built)
}

fn site(given: Option<PathBuf>) -> PathBuf {
    given.unwrap_or_else(|| workspace_root().join("dist"))
}

fn profile(dev: bool) -> Profile {
    if dev { Profile::Dev } else { Profile::Release }
}
