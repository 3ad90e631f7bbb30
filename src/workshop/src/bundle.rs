//! From a package of the workspace to a WebAssembly module and its JavaScript.
//!
//! Cargo compiles, the bindings generator of the same version as the library
//! writes the JavaScript side. Nothing needs installing for the second step.

use std::env;
use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Stdio;

use wasm_bindgen_cli_support::Bindgen;

use crate::error::Error;
use crate::paths::workspace_root;
use crate::toolchain::{self, Compiler};

/// Which of a package's products becomes the module.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Target<'a> {
    /// A program, by name.
    Bin(&'a str),
    /// An example, by name; a test page, usually.
    Example(&'a str),
    /// The library, which must be of crate type `cdylib`.
    Lib,
}

/// How much time the compiler takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Profile {
    /// Quick to build, large, with names in stack traces.
    Dev,
    /// Small and fast, as published.
    Release,
    /// Fast, as the planner's thread is published.
    Thread,
}

/// A module built: a folder with these two files, and `snippets/` where some
/// package brought JavaScript of its own.
///
/// A page starts it with
/// `import init from "./NAME.js"; const exports = await init();`.
#[derive(Clone, Debug)]
pub struct Bundle {
    /// The folder.
    pub dir: PathBuf,
    /// The module's name, without ending.
    pub name: String,
    /// The JavaScript: an ES module whose default export starts the module.
    pub js: PathBuf,
    /// The WebAssembly.
    pub wasm: PathBuf,
}

/// Compiles `package` to WebAssembly and writes the module into `out`, which
/// is made if need be; files of the same names are replaced.
///
/// Makes sure of a compiler first (see [`toolchain::ready`]).
///
/// # Errors
/// Those of [`toolchain::ready`]; [`Error::Failed`] when cargo fails (it has
/// then said why on standard error); [`Error::NoWasmFile`] when the target
/// makes none; [`Error::Bindings`] and [`Error::File`] from writing.
pub fn build_wasm(
    package: &str,
    target: Target<'_>,
    profile: Profile,
    out: &Path,
) -> Result<Bundle, Error> {
    let compiler = toolchain::ready()?;
    let module = compile(compiler, package, target, profile)?;
    fs::create_dir_all(out).map_err(Error::file("make", out))?;
    let name = match target {
        Target::Bin(name) | Target::Example(name) => name.replace('-', "_"),
        Target::Lib => package.replace('-', "_"),
    };
    let release = profile != Profile::Dev;
    let mut bindgen = Bindgen::new();
    let written = bindgen
        .input_path(&module)
        .out_name(&name)
        .typescript(false)
        .keep_debug(false)
        .remove_name_section(release)
        .remove_producers_section(release)
        .web(true)
        .and_then(|bindgen| bindgen.generate(out));
    if let Err(error) = written {
        return Err(Error::Bindings {
            detail: format!("{error:#}"),
        });
    }
    Ok(Bundle {
        dir: out.to_path_buf(),
        js: out.join(format!("{name}.js")),
        wasm: out.join(format!("{name}_bg.wasm")),
        name,
    })
}

/// Runs cargo and gives the `.wasm` file it names.
fn compile(
    compiler: Compiler,
    package: &str,
    target: Target<'_>,
    profile: Profile,
) -> Result<PathBuf, Error> {
    let mut command = toolchain::cargo(compiler, "build");
    command
        .current_dir(workspace_root())
        .args(["--package", package])
        .arg("--message-format=json-render-diagnostics")
        .env("CARGO_ENCODED_RUSTFLAGS", compiler_flags(compiler))
        .stdout(Stdio::piped());
    match target {
        Target::Bin(name) => command.args(["--bin", name]),
        Target::Example(name) => command.args(["--example", name]),
        Target::Lib => command.arg("--lib"),
    };
    match profile {
        Profile::Dev => {}
        Profile::Release => {
            command.arg("--release");
        }
        Profile::Thread => {
            command.args(["--profile", "thread"]);
        }
    }
    let output = command
        .stderr(Stdio::inherit())
        .output()
        .map_err(|source| Error::Start {
            program: "cargo".into(),
            source,
        })?;
    if !output.status.success() {
        return Err(Error::Failed {
            task: format!("compile {package} to WebAssembly"),
            status: output.status.to_string(),
        });
    }
    // The package asked for is the last one cargo finishes.
    String::from_utf8_lossy(&output.stdout)
        .lines()
        .rev()
        .find_map(wasm_file)
        .ok_or_else(|| Error::NoWasmFile {
            package: package.to_owned(),
        })
}

/// The WebAssembly file that one line of cargo's messages names.
fn wasm_file(line: &str) -> Option<PathBuf> {
    let message: serde_json::Value = serde_json::from_str(line).ok()?;
    if message.get("reason")?.as_str()? != "compiler-artifact" {
        return None;
    }
    message
        .get("filenames")?
        .as_array()?
        .iter()
        .filter_map(|file| file.as_str())
        .find(|file| file.ends_with(".wasm"))
        .map(PathBuf::from)
}

/// Flags that leave no folder of this machine in the module, so that the same
/// sources give the same bytes elsewhere; the user's own flags stay. The
/// workspace's own files are relative already.
fn compiler_flags(compiler: Compiler) -> OsString {
    let mut flags: Vec<String> = match env::var("CARGO_ENCODED_RUSTFLAGS") {
        Ok(encoded) if !encoded.is_empty() => encoded.split('\u{1f}').map(str::to_owned).collect(),
        _ => env::var("RUSTFLAGS")
            .unwrap_or_default()
            .split_whitespace()
            .map(str::to_owned)
            .collect(),
    };
    // Views as values of one type: without it every screen is compiled as a type
    // of its own, and the module is larger and takes longer to build.
    flags.extend(["--cfg", "erase_components"].map(str::to_owned));
    let mut hide = |folder: &Path, name: &str| {
        flags.push(format!("--remap-path-prefix={}={name}", folder.display()));
    };
    if let Some(home) = cargo_home() {
        hide(&home, "/cargo");
    }
    if compiler == Compiler::Debian {
        hide(Path::new("/usr/lib/rustlib/src/rust"), "/rust");
    } else if let Some(sysroot) = sysroot() {
        hide(&sysroot.join("lib/rustlib/src/rust"), "/rust");
    }
    flags.join("\u{1f}").into()
}

fn cargo_home() -> Option<PathBuf> {
    env::var_os("CARGO_HOME").map(PathBuf::from).or_else(|| {
        #[allow(deprecated)] // Sound since Rust 1.85; the warning is older.
        env::home_dir().map(|home| home.join(".cargo"))
    })
}

fn sysroot() -> Option<PathBuf> {
    let output = toolchain::running_rustc()
        .args(["--print", "sysroot"])
        .output()
        .ok()?;
    output
        .status
        .success()
        .then(|| PathBuf::from(String::from_utf8_lossy(&output.stdout).trim()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_wasm_file_is_found_among_cargos_messages() {
        let line = r#"{"reason":"compiler-artifact","filenames":["/t/app.d","/t/app.wasm"]}"#;
        assert_eq!(wasm_file(line), Some(PathBuf::from("/t/app.wasm")));
        let native = r#"{"reason":"compiler-artifact","filenames":["/t/libx.rlib"]}"#;
        assert_eq!(wasm_file(native), None);
        assert_eq!(wasm_file(r#"{"reason":"build-finished"}"#), None);
        assert_eq!(wasm_file("warning: not a message"), None);
    }

    #[test]
    fn flags_hide_the_library_source() {
        let flags = compiler_flags(Compiler::Debian);
        let hidden = "--remap-path-prefix=/usr/lib/rustlib/src/rust=/rust";
        assert!(
            flags
                .to_string_lossy()
                .split('\u{1f}')
                .any(|flag| flag == hidden)
        );
    }
}
