//! What can go wrong in the workshop, each said as a plain sentence.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

/// Anything that stops the workshop.
#[derive(Debug)]
pub enum Error {
    /// A file or folder could not be read or written.
    File {
        /// What was being done, as in "read" or "write".
        doing: &'static str,
        /// The file or folder.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// A program that should have been started could not be.
    Start {
        /// The program's name.
        program: String,
        /// What the system said.
        source: io::Error,
    },
    /// A program ran and reported failure.
    Failed {
        /// What it was asked to do, as in "build the app".
        task: String,
        /// How it ended.
        status: String,
    },
    /// This machine cannot compile to WebAssembly, with what would help.
    NoWasmCompiler {
        /// One remedy a line.
        remedies: Vec<String>,
    },
    /// Something else the tool needs is not on this machine.
    Missing {
        /// What is missing.
        what: String,
        /// What to do about it.
        remedy: String,
    },
    /// Cargo finished but named no WebAssembly file.
    NoWasmFile {
        /// The package that was built.
        package: String,
    },
    /// The JavaScript side of the module could not be written.
    Bindings {
        /// What the generator said.
        detail: String,
    },
    /// A file under `public/` or `style/` is not as it should be.
    Asset {
        /// The file's name.
        name: String,
        /// What is wrong with it.
        detail: String,
    },
    /// The folder to write to holds something that is not a build of ours.
    NotOurs {
        /// The folder.
        path: PathBuf,
    },
    /// The port is in use by something else.
    PortTaken {
        /// The port asked for.
        port: u16,
    },
    /// The server could not start or stopped by itself.
    Server {
        /// What the system said.
        source: io::Error,
    },
}

impl Error {
    /// An [`Error::File`] in the making, for `map_err`.
    pub fn file(doing: &'static str, path: &Path) -> impl FnOnce(io::Error) -> Self {
        let path = path.to_path_buf();
        move |source| Self::File {
            doing,
            path,
            source,
        }
    }

    /// An [`Error::Asset`].
    pub fn asset(name: impl Into<String>, detail: impl fmt::Display) -> Self {
        Self::Asset {
            name: name.into(),
            detail: detail.to_string(),
        }
    }
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::File {
                doing,
                path,
                source,
            } => write!(f, "Could not {doing} {}: {source}.", path.display()),
            Self::Start { program, source } => {
                write!(f, "Could not start {program}: {source}.")
            }
            Self::Failed { task, status } => write!(f, "Could not {task}: {status}."),
            Self::NoWasmCompiler { remedies } => {
                write!(f, "This machine cannot compile to WebAssembly yet.")?;
                for remedy in remedies {
                    write!(f, "\n  {remedy}")?;
                }
                Ok(())
            }
            Self::Missing { what, remedy } => write!(f, "{what} is missing. {remedy}"),
            Self::NoWasmFile { package } => write!(
                f,
                "Cargo built {package} but made no WebAssembly file of it; check the target's name."
            ),
            Self::Bindings { detail } => {
                write!(
                    f,
                    "Could not write the JavaScript side of the module: {detail}."
                )
            }
            Self::Asset { name, detail } => write!(f, "{name}: {detail}."),
            Self::NotOurs { path } => write!(
                f,
                "{} holds files that no earlier build wrote; give an empty folder with --out.",
                path.display()
            ),
            Self::PortTaken { port } => write!(
                f,
                "Port {port} on this machine is in use; stop what uses it, or give another with --port."
            ),
            Self::Server { source } => write!(f, "The server stopped: {source}."),
        }
    }
}

impl std::error::Error for Error {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::File { source, .. } | Self::Start { source, .. } | Self::Server { source } => {
                Some(source)
            }
            _ => None,
        }
    }
}
