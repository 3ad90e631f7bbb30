//! Rules that a reader would otherwise have to keep by eye.

#![allow(clippy::unwrap_used, reason = "a test that cannot set up must stop")]

use std::fs;
use std::path::{Path, PathBuf};

use workshop::paths::workspace_root;

/// Longest source file, in lines; past this it has more than one reason to be.
const LINES_MAX: usize = 700;

/// Folders with what people wrote, as against what was made from it.
const ROOMS: [&str; 6] = ["src", "public", "style", "tests", ".ci", ".cargo"];
/// Folders inside them that hold what was made or fetched.
const MADE: [&str; 3] = ["node_modules", "out", "target"];

/// Rooms that bad input must never stop.
const CALM_ROOMS: [&str; 4] = ["agronomy", "culture", "season", "vault"];

struct Source {
    /// Path below the checkout, `/` between folders.
    path: String,
    text: String,
}

/// Every text file people wrote, in order of path.
fn sources() -> Vec<Source> {
    let root = workspace_root();
    let mut waiting: Vec<PathBuf> = ROOMS.iter().map(|room| root.join(room)).collect();
    let mut found = Vec::new();
    while let Some(path) = waiting.pop() {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        if path.is_dir() {
            if !MADE.contains(&name.as_ref()) {
                waiting.extend(
                    fs::read_dir(&path)
                        .unwrap()
                        .map(|entry| entry.unwrap().path()),
                );
            }
        } else if let Ok(text) = fs::read_to_string(&path) {
            let path = path
                .strip_prefix(&root)
                .unwrap()
                .to_string_lossy()
                .into_owned();
            found.push(Source { path, text });
        }
    }
    for name in [
        "README.md",
        "DEVELOPERS.md",
        "Cargo.toml",
        "rust-toolchain.toml",
    ] {
        if let Ok(text) = fs::read_to_string(root.join(name)) {
            found.push(Source {
                path: name.into(),
                text,
            });
        }
    }
    found.sort_by(|a, b| a.path.cmp(&b.path));
    assert!(found.len() > 50, "only {} files were found", found.len());
    found
}

/// Lines outside tests with their numbers: up to a file's own module of tests.
fn working_lines(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let lines: Vec<&str> = text.lines().map(str::trim_start).collect();
    let tests = lines
        .windows(2)
        .position(|pair| {
            pair[0].starts_with("#[cfg(test)]")
                && pair[1].starts_with("mod ")
                && pair[1].ends_with('{')
        })
        .unwrap_or(lines.len());
    text.lines()
        .take(tests)
        .enumerate()
        .map(|(index, line)| (index + 1, line))
}

fn is_comment(line: &str) -> bool {
    line.trim_start().starts_with("//")
}

/// Whether a Rust file runs only in tests.
fn is_test_file(path: &str) -> bool {
    path.contains("/tests/") || path.ends_with("/tests.rs") || path.ends_with("_tests.rs")
}

/// Files that are compiled in tests only: those that another declares as
/// `#[cfg(test)] mod name;`.
fn test_only(sources: &[Source]) -> Vec<String> {
    let mut files = Vec::new();
    for source in sources.iter().filter(|source| source.path.ends_with(".rs")) {
        let (folder, name) = source.path.rsplit_once('/').unwrap_or_default();
        let folder = match name.trim_end_matches(".rs") {
            "lib" | "main" | "mod" => folder.to_owned(),
            module => format!("{folder}/{module}"),
        };
        let lines: Vec<&str> = source.text.lines().map(str::trim).collect();
        for pair in lines.windows(2).filter(|pair| pair[0] == "#[cfg(test)]") {
            let declared = pair[1]
                .strip_prefix("mod ")
                .and_then(|rest| rest.strip_suffix(';'));
            if let Some(module) = declared {
                files.push(format!("{folder}/{module}.rs"));
                files.push(format!("{folder}/{module}/mod.rs"));
            }
        }
    }
    files
}

fn report(kind: &str, found: &[String]) {
    assert!(found.is_empty(), "{kind}:\n{}", found.join("\n"));
}

#[test]
fn no_source_file_is_too_long() {
    let mut long = Vec::new();
    for source in sources() {
        let lines = source.text.lines().count();
        let written = [".rs", ".js", ".mjs", ".css", ".html"]
            .iter()
            .any(|ending| source.path.ends_with(ending));
        if written && lines > LINES_MAX {
            long.push(format!("{}: {lines} lines", source.path));
        }
    }
    report("longer than a reader can hold", &long);
}

#[test]
fn nothing_in_the_calm_rooms_can_stop_the_app() {
    // Put together here, so that this file does not hold them.
    let stops = ["unwrap", "expect"].map(|call| format!(".{call}("));
    let macros = ["panic", "unreachable", "todo", "unimplemented"].map(|m| format!("{m}!("));
    let mut found = Vec::new();
    let mut seen = 0;
    let sources = sources();
    let test_only = test_only(&sources);
    for source in sources {
        let calm = CALM_ROOMS
            .iter()
            .any(|room| source.path.starts_with(&format!("src/{room}/src/")));
        let tests = is_test_file(&source.path) || test_only.contains(&source.path);
        if !calm || !source.path.ends_with(".rs") || tests {
            continue;
        }
        seen += 1;
        for (number, line) in working_lines(&source.text) {
            let stop = stops
                .iter()
                .chain(&macros)
                .any(|stop| line.contains(stop.as_str()));
            if stop && !is_comment(line) {
                found.push(format!("{}:{number}: {}", source.path, line.trim()));
            }
        }
    }
    assert!(seen >= CALM_ROOMS.len(), "only {seen} files were read");
    report("may stop the app on bad input", &found);
}

#[test]
fn the_app_sets_no_markup_and_names_no_host() {
    let markup = ["inner", "outer"].map(|side| format!("{side}_html"));
    let scripted = ["inner", "outer"].map(|side| format!("{side}HTML"));
    let hosts = ["http", "https"].map(|scheme| format!("{scheme}://"));
    let mut found = Vec::new();
    for source in sources() {
        let published = ["src/app/", "src/vault/src/", "public/", "style/"]
            .iter()
            .any(|room| source.path.starts_with(room));
        if !published {
            continue;
        }
        for (index, line) in source.text.lines().enumerate() {
            let names_host = hosts.iter().any(|host| {
                line.match_indices(host.as_str()).any(|(at, _)| {
                    // The name of the vector format is never fetched.
                    !line[at..].contains("www.w3.org/2000/svg")
                        && !line[at..].contains("www.w3.org/1999/xlink")
                })
            });
            let sets_markup = markup
                .iter()
                .chain(&scripted)
                .any(|name| line.contains(name));
            if (names_host && !is_comment(line)) || sets_markup {
                found.push(format!("{}:{}: {}", source.path, index + 1, line.trim()));
            }
        }
    }
    report("sets markup or names a host", &found);
}

#[test]
fn nothing_is_left_for_later() {
    let later = ["TO", "FIX", "XX"].map(|start| match start {
        "TO" => "TODO".to_owned(),
        "FIX" => format!("{start}ME"),
        _ => format!("{start}X:"),
    });
    let mut found = Vec::new();
    for source in sources() {
        if source.path == "src/workshop/tests/tidy.rs" {
            continue;
        }
        for (index, line) in source.text.lines().enumerate() {
            if later.iter().any(|word| line.contains(word.as_str())) {
                found.push(format!("{}:{}: {}", source.path, index + 1, line.trim()));
            }
        }
    }
    report("left for later", &found);
}

#[test]
fn no_folder_of_one_persons_machine_is_named() {
    // As a word of its own, so that a path of the project does not count.
    let places = ["work", "tmp", "root", "home"].map(|place| format!("/{place}/"));
    let mut found = Vec::new();
    for source in sources() {
        for (index, line) in source.text.lines().enumerate() {
            let named = places.iter().any(|place| {
                line.match_indices(place.as_str()).any(|(at, _)| {
                    !line[..at].ends_with(|c: char| c.is_alphanumeric() || "._-}*)".contains(c))
                })
            });
            if named && source.path != "src/workshop/tests/tidy.rs" {
                found.push(format!("{}:{}: {}", source.path, index + 1, line.trim()));
            }
        }
    }
    report("names a folder of one machine", &found);
}

#[test]
fn the_files_speak_of_the_project_only() {
    // Put together here, so that this file does not hold them.
    let strange = [
        concat!("trans", "cript"),
        concat!("chat", "bot"),
        concat!("language ", "model"),
        concat!("tool ", "library"),
        concat!("seed ", "document"),
        concat!("registry.", "npmjs"),
        concat!("index.", "crates.io"),
    ];
    let mut found = Vec::new();
    for source in sources() {
        for (index, line) in source.text.lines().enumerate() {
            let lower = line.to_lowercase();
            if strange.iter().any(|word| lower.contains(word)) {
                found.push(format!("{}:{}: {}", source.path, index + 1, line.trim()));
            }
        }
    }
    report("speaks of something else than the project", &found);
}

#[test]
fn every_path_the_developers_page_names_is_there() {
    let root = workspace_root();
    let page = root.join("DEVELOPERS.md");
    let text = fs::read_to_string(&page).expect("DEVELOPERS.md can be read");
    let mut named = 0;
    let mut gone = Vec::new();
    for path in code_spans(&text).filter(|span| looks_like_path(&root, span)) {
        named += 1;
        if !root.join(path).exists() {
            gone.push(path.to_owned());
        }
    }
    assert!(
        named >= 5,
        "the page names only {named} paths of the project"
    );
    report("named in DEVELOPERS.md but not there", &gone);
}

/// What stands between single backticks.
fn code_spans(text: &str) -> impl Iterator<Item = &str> {
    text.lines()
        .filter(|line| !line.trim_start().starts_with("```"))
        .flat_map(|line| line.split('`').skip(1).step_by(2))
}

/// Whether a code span is a path: it starts with something at the top of the
/// checkout and holds nothing that a path of ours does not.
fn looks_like_path(root: &Path, span: &str) -> bool {
    let plain = span
        .chars()
        .all(|c| c.is_ascii_alphanumeric() || "/._-".contains(c));
    let first = span.split('/').next().unwrap_or_default();
    plain && span.contains('/') && (ROOMS.contains(&first) || root.join(first).is_dir())
}

#[test]
fn the_measures_of_this_test_measure() {
    let text = "fn a() { b.unwrap_or(1) }\n#[cfg(test)]\nmod tests {\n    c.unwrap()\n}\n";
    assert_eq!(working_lines(text).count(), 1);
    let text = "#[cfg(test)]\nmod sample;\nfn a() { b.unwrap() }\n";
    assert_eq!(working_lines(text).count(), 3);
    let source = |path: &str, text: &str| Source {
        path: path.into(),
        text: text.into(),
    };
    let found = test_only(&[
        source("src/season/src/lib.rs", text),
        source(
            "src/season/src/log.rs",
            "mod kept;\n#[cfg(test)]\nmod tests;\n",
        ),
    ]);
    assert!(found.contains(&"src/season/src/sample.rs".to_owned()));
    assert!(found.contains(&"src/season/src/log/tests.rs".to_owned()));
    assert!(!found.iter().any(|path| path.contains("kept")), "{found:?}");
    assert!(is_test_file("src/season/src/log/tests.rs"));
    assert!(!is_test_file("src/season/src/log.rs"));
    let spans: Vec<_> = code_spans("see `src/app` and `cargo test`\n```sh\n").collect();
    assert_eq!(spans, ["src/app", "cargo test"]);
    let root = workspace_root();
    assert!(looks_like_path(&root, "src/nowhere/at/all.rs"));
    assert!(!looks_like_path(&root, "cargo test"));
    assert!(!looks_like_path(&root, "application/wasm"));
}
