//! Which compiler makes WebAssembly on this machine, and how it is called.
//!
//! On most machines rustup has put the target beside the compiler that runs
//! now. Where it has not and may not, Debian's own compiler does the same from
//! its library source. The choice is made from [`Facts`] alone, so that every
//! case can be tried on any machine.

use std::env;
use std::ffi::{OsStr, OsString};
use std::path::Path;
use std::process::{Command, Stdio};

use crate::error::Error;

/// The one target the app is compiled for.
pub const TARGET: &str = "wasm32-unknown-unknown";

/// Debian's packages that compile to WebAssembly.
pub const DEBIAN_PACKAGES: [&str; 5] = [
    "rustc-web",
    "cargo-web",
    "rust-web-src",
    "rust-web-llvm",
    "lld-22",
];

/// The oldest compiler that builds the project, as in the workspace manifest.
const OLDEST_COMPILER: (u32, u32) = (1, 95);

const DEBIAN_CARGO: &str = "/usr/bin/cargo";
const DEBIAN_RUSTC: &str = "/usr/bin/rustc";
const DEBIAN_SOURCE: &str = "/usr/lib/rustlib/src/rust/library/std/Cargo.toml";
const DEBIAN_LINKER: &str = "/usr/bin/rust-lld";

/// What is known of the machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Facts {
    /// The running compiler has the target's libraries.
    pub target_installed: bool,
    /// Debian's cargo stands beside Debian's rustc.
    pub debian_cargo: bool,
    /// Version of Debian's rustc, major and minor.
    pub debian_rustc: Option<(u32, u32)>,
    /// Debian's library source, to build the target's libraries from.
    pub debian_source: bool,
    /// The linker for WebAssembly.
    pub debian_linker: bool,
    /// The machine runs Debian.
    pub debian: bool,
    /// We may install packages.
    pub root: bool,
}

/// A compiler that makes WebAssembly.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Compiler {
    /// The one that is running, with the target installed.
    Running,
    /// Debian's, building the standard library from its source.
    Debian,
}

/// What [`decide`] found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Decision {
    /// This compiler will do.
    Use(Compiler),
    /// Install [`DEBIAN_PACKAGES`], then look again.
    Install,
    /// Nothing here can be done without the user.
    Ask,
}

/// Chooses by the facts: the running compiler first, then Debian's, then an
/// installation, then the user.
pub fn decide(facts: &Facts) -> Decision {
    let debian_ready = facts.debian_cargo
        && facts
            .debian_rustc
            .is_some_and(|version| version >= OLDEST_COMPILER)
        && facts.debian_source
        && facts.debian_linker;
    if facts.target_installed {
        Decision::Use(Compiler::Running)
    } else if debian_ready {
        Decision::Use(Compiler::Debian)
    } else if facts.debian && facts.root {
        Decision::Install
    } else {
        Decision::Ask
    }
}

/// Looks at the machine.
pub fn look() -> Facts {
    Facts {
        target_installed: target_libdir().is_some_and(|dir| Path::new(&dir).is_dir()),
        debian_cargo: Path::new(DEBIAN_CARGO).is_file(),
        debian_rustc: debian_version(),
        debian_source: Path::new(DEBIAN_SOURCE).is_file(),
        debian_linker: Path::new(DEBIAN_LINKER).exists(),
        debian: is_debian(),
        root: is_root(),
    }
}

/// Finds a compiler, installing Debian's where that is allowed, and says what
/// it does in that case.
///
/// # Errors
/// [`Error::NoWasmCompiler`] with both remedies where neither is there and
/// none may be installed; [`Error::Failed`] where the installation failed.
pub fn ready() -> Result<Compiler, Error> {
    match decide(&look()) {
        Decision::Use(compiler) => Ok(compiler),
        Decision::Ask => Err(no_compiler()),
        Decision::Install => {
            println!(
                "The WebAssembly target is not installed; installing Debian's compiler for it: {}",
                DEBIAN_PACKAGES.join(" ")
            );
            install(&DEBIAN_PACKAGES)?;
            match decide(&look()) {
                Decision::Use(compiler) => Ok(compiler),
                Decision::Install | Decision::Ask => Err(no_compiler()),
            }
        }
    }
}

fn no_compiler() -> Error {
    Error::NoWasmCompiler {
        remedies: vec![
            format!("With rustup: rustup target add {TARGET}"),
            format!(
                "On Debian, as root: apt-get update && apt-get install -y --no-install-recommends {}",
                DEBIAN_PACKAGES.join(" ")
            ),
        ],
    }
}

/// Installs Debian packages; the caller has said so to the user.
///
/// # Errors
/// [`Error::Start`] without apt-get, [`Error::Failed`] when it reports failure.
pub fn install(packages: &[&str]) -> Result<(), Error> {
    let steps: [Vec<&str>; 2] = [
        vec!["update", "-qq"],
        [
            &["install", "-y", "-qq", "--no-install-recommends"],
            packages,
        ]
        .concat(),
    ];
    for arguments in steps {
        let mut command = Command::new("apt-get");
        command
            .args(&arguments)
            .env("DEBIAN_FRONTEND", "noninteractive");
        succeed(command, &format!("run apt-get {}", arguments.join(" ")))?;
    }
    Ok(())
}

/// Runs a command with nothing to read, and waits until it has done its task.
///
/// # Errors
/// [`Error::Start`] without its program, [`Error::Failed`] when it fails.
pub fn succeed(mut command: Command, task: &str) -> Result<(), Error> {
    let status = command
        .stdin(Stdio::null())
        .status()
        .map_err(|source| Error::Start {
            program: command.get_program().to_string_lossy().into_owned(),
            source,
        })?;
    if status.success() {
        Ok(())
    } else {
        Err(Error::Failed {
            task: task.into(),
            status: status.to_string(),
        })
    }
}

/// A cargo command that compiles for [`TARGET`] with the chosen compiler.
/// The subcommand and its arguments are the caller's to add.
pub fn cargo(compiler: Compiler, subcommand: &str) -> Command {
    match compiler {
        Compiler::Running => {
            let mut command = running_cargo();
            command.args([subcommand, "--target", TARGET]);
            command
        }
        Compiler::Debian => {
            let mut command = Command::new(DEBIAN_CARGO);
            for (name, _) in env::vars_os() {
                if confuses_another_cargo(&name) {
                    command.env_remove(name);
                }
            }
            command
                .env("PATH", usr_bin_first(env::var_os("PATH")))
                .env("RUSTC", DEBIAN_RUSTC)
                // build-std is not yet for everybody; without this it refuses.
                .env("RUSTC_BOOTSTRAP", "1")
                .args([subcommand, "--target", TARGET])
                .args(["-Z", "build-std=std,panic_abort"])
                // Sorting and writing numbers in their small forms.
                .args(["-Z", "build-std-features=optimize_for_size"]);
            command
        }
    }
}

/// The cargo this tool was started by, or the one on the path.
pub fn running_cargo() -> Command {
    Command::new(env::var_os("CARGO").unwrap_or_else(|| "cargo".into()))
}

/// The compiler that belongs to it.
pub fn running_rustc() -> Command {
    Command::new(env::var_os("RUSTC").unwrap_or_else(|| "rustc".into()))
}

/// The variables that the cargo which started this tool set for its own
/// children, and rustup's choice of a compiler: another cargo must not see
/// them. Settings a user makes (CARGO_HOME, CARGO_TARGET_DIR, proxies) stay.
fn confuses_another_cargo(name: &OsStr) -> bool {
    let Some(name) = name.to_str() else {
        return false;
    };
    matches!(
        name,
        "CARGO"
            | "CARGO_CRATE_NAME"
            | "CARGO_MANIFEST_DIR"
            | "CARGO_MANIFEST_PATH"
            | "CARGO_PRIMARY_PACKAGE"
            | "LD_LIBRARY_PATH"
            | "OUT_DIR"
            | "RUSTC"
            | "RUSTDOC"
            | "RUSTUP_TOOLCHAIN"
            | "RUSTUP_TOOLCHAIN_SOURCE"
            | "RUST_RECURSION_COUNT"
    ) || name.starts_with("CARGO_PKG_")
        || name.starts_with("CARGO_BIN_")
}

fn usr_bin_first(path: Option<OsString>) -> OsString {
    let mut first = OsString::from("/usr/bin");
    if let Some(path) = path {
        first.push(":");
        first.push(path);
    }
    first
}

fn target_libdir() -> Option<String> {
    // It names a folder whether or not the target is installed.
    printed(running_rustc().args(["--print", "target-libdir", "--target", TARGET]))
}

fn debian_version() -> Option<(u32, u32)> {
    let mut command = Command::new(DEBIAN_RUSTC);
    command.arg("--version").env_remove("LD_LIBRARY_PATH");
    parse_version(&printed(&mut command)?)
}

/// Major and minor of a line like `rustc 1.96.0 (ac68faa20 2026-05-25)`.
fn parse_version(line: &str) -> Option<(u32, u32)> {
    let mut numbers = line.split_whitespace().nth(1)?.split('.');
    Some((numbers.next()?.parse().ok()?, numbers.next()?.parse().ok()?))
}

/// Whether the machine runs Debian itself; its relatives name packages
/// differently.
pub fn is_debian() -> bool {
    std::fs::read_to_string("/etc/os-release").is_ok_and(|text| names_debian(&text))
}

fn names_debian(os_release: &str) -> bool {
    os_release
        .lines()
        .any(|line| line == "ID=debian" || line == "ID=\"debian\"")
}

/// Whether this process may install packages.
pub fn is_root() -> bool {
    printed(Command::new("id").arg("-u")).is_some_and(|id| id == "0")
}

/// What a command prints on success, trimmed; nothing otherwise.
fn printed(command: &mut Command) -> Option<String> {
    let output = command.output().ok()?;
    output
        .status
        .success()
        .then(|| String::from_utf8_lossy(&output.stdout).trim().to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    const BARE: Facts = Facts {
        target_installed: false,
        debian_cargo: false,
        debian_rustc: None,
        debian_source: false,
        debian_linker: false,
        debian: false,
        root: false,
    };
    const DEBIAN_COMPLETE: Facts = Facts {
        debian_cargo: true,
        debian_rustc: Some((1, 96)),
        debian_source: true,
        debian_linker: true,
        debian: true,
        ..BARE
    };

    #[test]
    fn an_installed_target_wins_over_everything() {
        let facts = Facts {
            target_installed: true,
            root: true,
            ..DEBIAN_COMPLETE
        };
        assert_eq!(decide(&facts), Decision::Use(Compiler::Running));
    }

    #[test]
    fn debians_compiler_serves_without_the_target() {
        assert_eq!(decide(&DEBIAN_COMPLETE), Decision::Use(Compiler::Debian));
    }

    #[test]
    fn an_incomplete_debian_compiler_is_completed_by_root_only() {
        let lacking = [
            Facts {
                debian_cargo: false,
                ..DEBIAN_COMPLETE
            },
            Facts {
                debian_source: false,
                ..DEBIAN_COMPLETE
            },
            Facts {
                debian_linker: false,
                ..DEBIAN_COMPLETE
            },
            Facts {
                debian_rustc: None,
                ..DEBIAN_COMPLETE
            },
            // The compiler a stable release shipped with is too old.
            Facts {
                debian_rustc: Some((1, 63)),
                ..DEBIAN_COMPLETE
            },
        ];
        for facts in lacking {
            assert_eq!(decide(&facts), Decision::Ask, "{facts:?}");
            let root = Facts {
                root: true,
                ..facts
            };
            assert_eq!(decide(&root), Decision::Install, "{root:?}");
        }
    }

    #[test]
    fn root_elsewhere_than_on_debian_is_asked() {
        assert_eq!(decide(&Facts { root: true, ..BARE }), Decision::Ask);
        let Error::NoWasmCompiler { remedies } = no_compiler() else {
            panic!("another error")
        };
        assert!(
            remedies
                .iter()
                .any(|r| r.contains("rustup target add wasm32-unknown-unknown"))
        );
        assert!(remedies.iter().any(|r| r.contains("rustc-web")));
    }

    #[test]
    fn versions_and_systems_are_read() {
        assert_eq!(
            parse_version("rustc 1.96.0 (ac68faa20 2026-05-25) (built from a source tarball)"),
            Some((1, 96))
        );
        assert_eq!(parse_version("rustc"), None);
        assert!(names_debian("NAME=\"Debian GNU/Linux\"\nID=debian\n"));
        assert!(!names_debian("ID=ubuntu\nID_LIKE=debian\n"));
    }

    #[test]
    fn another_cargo_sees_the_users_settings_only() {
        for name in [
            "CARGO",
            "RUSTUP_TOOLCHAIN",
            "CARGO_MANIFEST_DIR",
            "CARGO_PKG_NAME",
            "LD_LIBRARY_PATH",
        ] {
            assert!(confuses_another_cargo(OsStr::new(name)), "{name}");
        }
        for name in ["CARGO_HOME", "CARGO_TARGET_DIR", "PATH", "HTTPS_PROXY"] {
            assert!(!confuses_another_cargo(OsStr::new(name)), "{name}");
        }
        assert_eq!(
            usr_bin_first(Some("/opt/bin".into())),
            OsString::from("/usr/bin:/opt/bin")
        );
    }

    #[test]
    fn the_debian_command_builds_the_library_from_source() {
        let command = cargo(Compiler::Debian, "build");
        assert_eq!(command.get_program(), DEBIAN_CARGO);
        let arguments: Vec<_> = command.get_args().collect();
        assert_eq!(
            arguments,
            [
                "build",
                "--target",
                TARGET,
                "-Z",
                "build-std=std,panic_abort",
                "-Z",
                "build-std-features=optimize_for_size"
            ]
        );
        assert!(
            command
                .get_envs()
                .any(|(name, value)| name == "RUSTC" && value == Some(OsStr::new(DEBIAN_RUSTC)))
        );
    }
}
