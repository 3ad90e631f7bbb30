//! The steps of the test command.

use std::fs;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use super::browsers::{self, Browsers};
use super::{Outcome, Tally};
use crate::bundle::{self, Profile, Target};
use crate::dist;
use crate::error::Error;
use crate::measure::sizes;
use crate::paths::workspace_root;
use crate::toolchain::{self, Compiler};

/// What the app's modules may weigh as sent, in bytes: the page's, and that of
/// the planner's thread, which is kept on the first visit too but never waited
/// for.
const MODULES_MAX_BYTES: usize = 1_290_000;
/// What a first visit may weigh as sent, in bytes: eleven seconds of the
/// megabit that reaches the edge of a field.
const VISIT_MAX_BYTES: usize = 1_390_000;

/// The rooms that only live in a browser.
const BROWSER_ROOMS: [&str; 2] = ["app", "vault"];
/// Folders of browser tests, each file of which is run by itself.
const BROWSER_TESTS: [&str; 2] = ["tests/journeys", "tests/faults"];

/// The package whose module the storage tests drive, and where they find it.
const PROBE: &str = "vault-probe";
const PROBE_OUT: &str = "tests/faults/out";

/// Runs a step by name and says whether it passed.
type Run<'a> = &'a mut dyn FnMut(&str, &mut dyn FnMut() -> Outcome) -> bool;

/// All steps in order.
pub fn all(step: Run<'_>) {
    step("formatting", &mut || {
        one(cargo(&["fmt", "--all", "--check"]), "check the formatting")
    });
    step("lints", &mut || {
        one(
            cargo(&[
                "clippy",
                "--workspace",
                "--all-targets",
                "--",
                "-D",
                "warnings",
            ]),
            "lint",
        )
    });
    step(
        "lints of the browser rooms, for the browser",
        &mut browser_lints,
    );
    step("native tests", &mut || {
        // The app's own room too: its pure parts run anywhere.
        let rooms = ["test", "--no-fail-fast", "--workspace", "--exclude", PROBE];
        tests(cargo(&rooms), "run the native tests")
    });
    let site = workspace_root().join("dist");
    let built = step(
        "release build",
        &mut || match dist::build(Profile::Release, &site) {
            Ok(_) => Outcome::Ran(Tally::PASSED),
            Err(error) => Outcome::Stopped(error),
        },
    );
    if !built {
        step("browser journeys", &mut || {
            Outcome::Stopped(Error::Missing {
                what: "The app for the browser journeys".into(),
                remedy: "Its build failed above.".into(),
            })
        });
        return;
    }
    step("size of a first visit", &mut || within_budget(&site));
    journeys(step, &site);
}

fn journeys(step: Run<'_>, site: &Path) {
    let mut found = None;
    let ready = step("browsers", &mut || match browsers::ready() {
        Ok(browsers) => {
            found = Some(browsers);
            Outcome::Ran(Tally::PASSED)
        }
        Err(error) => Outcome::Stopped(error),
    });
    let Some(browsers) = found.filter(|_| ready) else {
        return;
    };
    let root = workspace_root();
    let installed = step(
        "packages of the browser journeys",
        &mut || match browsers::install_drivers() {
            Ok(()) => Outcome::Ran(Tally::PASSED),
            Err(error) => Outcome::Stopped(error),
        },
    );
    if !installed {
        return;
    }
    step("page of the storage tests", &mut || {
        let out = root.join(PROBE_OUT);
        let built = bundle::build_wasm(PROBE, Target::Bin(PROBE), Profile::Release, &out);
        match built {
            Ok(_) => Outcome::Ran(Tally::PASSED),
            Err(error) => Outcome::Stopped(error),
        }
    });
    for folder in BROWSER_TESTS {
        match test_files(&root.join(folder)) {
            Ok(files) => {
                for file in files {
                    let name = file.file_name().unwrap_or_default().to_string_lossy();
                    step(&format!("{folder}/{name}"), &mut || {
                        tests(node_test(&file, site, &browsers), "run the browser tests")
                    });
                }
            }
            Err(error) => {
                println!("{error}");
                step(folder, &mut || Outcome::Ran(Tally::FAILED));
            }
        }
    }
}

/// Without clippy for the target, what could be linted has been.
fn browser_lints() -> Outcome {
    match toolchain::decide(&toolchain::look()) {
        toolchain::Decision::Use(Compiler::Running) => {
            let mut command = toolchain::cargo(Compiler::Running, "clippy");
            for room in BROWSER_ROOMS {
                command.args(["--package", room]);
            }
            command.args(["--", "-D", "warnings"]);
            one(command, "lint the browser rooms")
        }
        _ => Outcome::Skipped(
            "the compiler for WebAssembly here has no clippy; the step above linted these rooms \
             as compiled for this machine"
                .into(),
        ),
    }
}

fn within_budget(site: &Path) -> Outcome {
    let sizes = match sizes::weigh(site) {
        Ok(sizes) => sizes,
        Err(error) => return Outcome::Stopped(error),
    };
    println!("{sizes}");
    let mut tally = Tally::default();
    for (what, bytes, max) in [
        (
            "the modules",
            sizes.brotli_bytes_of(".wasm"),
            MODULES_MAX_BYTES,
        ),
        ("a first visit", sizes.brotli_bytes(), VISIT_MAX_BYTES),
    ] {
        tally += if bytes <= max {
            Tally::PASSED
        } else {
            println!("{what} weighs {bytes} bytes as sent, more than the {max} allowed");
            Tally::FAILED
        };
    }
    Outcome::Ran(tally)
}

fn cargo(arguments: &[&str]) -> Command {
    let mut command = toolchain::running_cargo();
    command.current_dir(workspace_root()).args(arguments);
    command
}

fn node_test(file: &Path, site: &Path, browsers: &Browsers) -> Command {
    let mut command = Command::new("node");
    command
        .current_dir(workspace_root())
        .args(["--test", "--test-reporter=spec", "--test-timeout=600000"])
        .arg(file)
        .env("STEMTIDE_SITE", site)
        .env("CHROMIUM", &browsers.chromium)
        .env("FIREFOX", &browsers.firefox);
    command
}

fn test_files(folder: &Path) -> Result<Vec<PathBuf>, Error> {
    if !folder.is_dir() {
        return Ok(Vec::new());
    }
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).map_err(Error::file("read", folder))? {
        let path = entry.map_err(Error::file("read", folder))?.path();
        if path.to_string_lossy().ends_with(".test.mjs") {
            files.push(path);
        }
    }
    files.sort();
    Ok(files)
}

/// A command that is one check by itself.
fn one(mut command: Command, task: &str) -> Outcome {
    match command.stdin(Stdio::null()).status() {
        Ok(status) if status.success() => Outcome::Ran(Tally::PASSED),
        Ok(status) => Outcome::Stopped(Error::Failed {
            task: task.into(),
            status: status.to_string(),
        }),
        Err(source) => Outcome::Stopped(Error::Start {
            program: command.get_program().to_string_lossy().into_owned(),
            source,
        }),
    }
}

/// A command that runs tests and says how many; its output is passed on.
fn tests(mut command: Command, task: &str) -> Outcome {
    let program = command.get_program().to_string_lossy().into_owned();
    let started = command.stdin(Stdio::null()).stdout(Stdio::piped()).spawn();
    let mut child = match started {
        Ok(child) => child,
        Err(source) => return Outcome::Stopped(Error::Start { program, source }),
    };
    let mut tally = Tally::default();
    if let Some(output) = child.stdout.take() {
        for line in BufReader::new(output).split(b'\n').map_while(Result::ok) {
            let line = String::from_utf8_lossy(&line);
            println!("{line}");
            tally += Tally::of_line(&line);
        }
    }
    match child.wait() {
        Ok(status) => Outcome::Ran(tally.of_run(status.success())),
        Err(_) => Outcome::Stopped(Error::Failed {
            task: task.into(),
            status: "it could not be waited for".into(),
        }),
    }
}
