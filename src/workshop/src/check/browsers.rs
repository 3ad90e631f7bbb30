//! What the browser journeys need on this machine, and getting it.

use std::collections::BTreeSet;
use std::env;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::error::Error;
use crate::paths::workspace_root;
use crate::toolchain;

/// The oldest node whose test runner and language the journeys use.
const OLDEST_NODE: u32 = 20;

/// Something the journeys start.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Need {
    /// What it is, as a user would say it.
    pub what: &'static str,
    /// Names its program goes by; the first found is used.
    pub programs: &'static [&'static str],
    /// The Debian package that brings it.
    pub package: &'static str,
}

const CHROMIUM: Need = Need {
    what: "Chromium",
    programs: &["chromium", "chromium-browser"],
    package: "chromium",
};
const FIREFOX: Need = Need {
    what: "Firefox",
    programs: &["firefox-esr", "firefox"],
    package: "firefox-esr",
};

/// Everything the journeys start.
pub const NEEDS: [Need; 7] = [
    Need {
        what: "Node",
        programs: &["node"],
        package: "nodejs",
    },
    Need {
        what: "npm",
        programs: &["npm"],
        package: "npm",
    },
    CHROMIUM,
    FIREFOX,
    Need {
        what: "WebKit's driver",
        programs: &["WebKitWebDriver"],
        package: "webkit2gtk-driver",
    },
    Need {
        what: "a display without a screen",
        programs: &["xvfb-run"],
        package: "xvfb",
    },
    Need {
        what: "the display's keys",
        programs: &["xauth"],
        package: "xauth",
    },
];

/// What is to be done before the journeys can start.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Decision {
    /// Nothing.
    Ready,
    /// Install these Debian packages, then look again.
    Install(Vec<&'static str>),
    /// These are missing and the user has to bring them.
    Ask(Vec<Need>),
}

/// Chooses by what is there: `has` says whether a program is on the path.
pub fn decide(has: impl Fn(&str) -> bool, debian: bool, root: bool) -> Decision {
    let missing: Vec<Need> = NEEDS
        .into_iter()
        .filter(|need| !need.programs.iter().any(|program| has(program)))
        .collect();
    if missing.is_empty() {
        Decision::Ready
    } else if debian && root {
        let packages: BTreeSet<_> = missing.iter().map(|need| need.package).collect();
        Decision::Install(packages.into_iter().collect())
    } else {
        Decision::Ask(missing)
    }
}

/// Where the journeys find their browsers, as environment variables.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Browsers {
    /// Chromium's program.
    pub chromium: PathBuf,
    /// Firefox's program.
    pub firefox: PathBuf,
}

/// Makes sure of browsers and node, installing Debian's where that is allowed
/// and saying so.
///
/// # Errors
/// [`Error::Missing`] with what to install; [`Error::Failed`] where an
/// installation failed.
pub fn ready() -> Result<Browsers, Error> {
    let (debian, root) = (toolchain::is_debian(), toolchain::is_root());
    let look = || decide(|program| find(program).is_some(), debian, root);
    if let Decision::Install(packages) = look() {
        println!(
            "The browser journeys need what is not here; installing Debian's {}",
            packages.join(" ")
        );
        toolchain::install(&packages)?;
    }
    match look() {
        Decision::Ready => {}
        Decision::Install(packages) => {
            return Err(Error::Missing {
                what: packages.join(", "),
                remedy: "Debian installed it but its program is not on the path.".into(),
            });
        }
        Decision::Ask(missing) => return Err(ask(&missing)),
    }
    check_node(node_version())?;
    Ok(Browsers {
        chromium: first(CHROMIUM)?,
        firefox: first(FIREFOX)?,
    })
}

/// Installs the packages that drive the browsers, as their lock file names them;
/// none brings a browser of its own.
///
/// # Errors
/// [`Error::Start`] without npm, [`Error::Failed`] when it fails.
pub fn install_drivers() -> Result<(), Error> {
    let mut npm = Command::new("npm");
    npm.current_dir(workspace_root().join("tests/journeys"))
        .args(["ci", "--ignore-scripts", "--no-audit", "--no-fund"]);
    toolchain::succeed(npm, "install the journeys' packages")
}

fn ask(missing: &[Need]) -> Error {
    let list = |of: fn(&Need) -> &'static str, between: &str| {
        missing.iter().map(of).collect::<Vec<_>>().join(between)
    };
    Error::Missing {
        what: list(|need| need.what, ", "),
        remedy: format!(
            "On Debian, as root: apt-get install -y --no-install-recommends {}; \
             elsewhere, install the same and see that its program is on the path.",
            list(|need| need.package, " ")
        ),
    }
}

fn check_node(version: Option<u32>) -> Result<(), Error> {
    match version {
        Some(version) if version >= OLDEST_NODE => Ok(()),
        _ => Err(Error::Missing {
            what: format!("Node {OLDEST_NODE} or later"),
            remedy: "Install a current Node; the one on the path is older.".into(),
        }),
    }
}

fn node_version() -> Option<u32> {
    let output = Command::new("node").arg("--version").output().ok()?;
    parse_node(&String::from_utf8_lossy(&output.stdout))
}

/// The major version in a line like `v20.20.2`.
fn parse_node(line: &str) -> Option<u32> {
    line.trim()
        .strip_prefix('v')?
        .split('.')
        .next()?
        .parse()
        .ok()
}

fn first(need: Need) -> Result<PathBuf, Error> {
    need.programs
        .iter()
        .find_map(|program| find(program))
        .ok_or_else(|| ask(&[need]))
}

/// A program's place on the path.
pub fn find(program: &str) -> Option<PathBuf> {
    env::split_paths(&env::var_os("PATH")?)
        .map(|folder| folder.join(program))
        .find(|path| Path::new(path).is_file())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn with_everything_there_nothing_is_installed() {
        assert_eq!(decide(|_| true, true, true), Decision::Ready);
        // Another distribution's name for the same browser will do.
        let renamed = |program: &str| program != "chromium" && program != "firefox-esr";
        assert_eq!(decide(renamed, false, false), Decision::Ready);
    }

    #[test]
    fn root_on_debian_installs_exactly_what_is_missing() {
        let has = |program: &str| program == "node" || program == "npm" || program == "xauth";
        assert_eq!(
            decide(has, true, true),
            Decision::Install(vec!["chromium", "firefox-esr", "webkit2gtk-driver", "xvfb"])
        );
    }

    #[test]
    fn anybody_else_is_told() {
        let has = |program: &str| !program.starts_with("chromium");
        for (debian, root) in [(true, false), (false, true), (false, false)] {
            assert_eq!(decide(has, debian, root), Decision::Ask(vec![CHROMIUM]));
        }
        let sentence = ask(&[CHROMIUM, FIREFOX]).to_string();
        assert!(
            sentence.starts_with("Chromium, Firefox is missing"),
            "{sentence}"
        );
        assert!(sentence.contains("chromium firefox-esr;"), "{sentence}");
    }

    #[test]
    fn an_old_node_is_refused() {
        assert_eq!(parse_node("v20.20.2\n"), Some(20));
        assert_eq!(parse_node("node"), None);
        assert!(check_node(Some(22)).is_ok());
        assert!(
            check_node(Some(18))
                .unwrap_err()
                .to_string()
                .contains("Node 20")
        );
        assert!(check_node(None).is_err());
    }
}
