//! Every key of the catalogue of words that the screens name is in it.

#![allow(clippy::unwrap_used, reason = "a test that cannot set up must stop")]

use std::fs;
use std::path::{Path, PathBuf};

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(path);
        }
    }
}

/// Texts in quotes that look like a key: two or more small words with points between them.
fn keys(code: &str) -> impl Iterator<Item = &str> {
    code.split('"').skip(1).step_by(2).filter(|text| {
        let mut parts = text.split('.');
        let word = |part: &str| {
            part.starts_with(|c: char| c.is_ascii_lowercase())
                && part
                    .bytes()
                    .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_')
        };
        text.contains('.') && parts.all(|part| word(part) || part.parse::<u8>().is_ok())
    })
}

/// The code of a file before its tests, without comments and quotation marks that stand for themselves.
fn code(path: &Path) -> String {
    let text = fs::read_to_string(path).unwrap();
    let text = text.split("#[cfg(test)]").next().unwrap_or_default();
    text.lines()
        .filter(|line| !line.trim_start().starts_with("//"))
        .map(|line| line.replace("'\"'", "' '").replace("\\\"", " ") + "\n")
        .collect()
}

/// Fields of a fact's tray, named as the checks of input name them.
const FIELDS: [&str; 3] = ["tray.what", "tray.rows", "tray.columns"];

#[test]
fn every_key_that_a_screen_names_has_its_text() {
    let mut files = Vec::new();
    sources(
        &Path::new(env!("CARGO_MANIFEST_DIR")).join("src"),
        &mut files,
    );
    let mut seen = 0;
    let mut missing = Vec::new();
    for path in &files {
        let code = code(path);
        for key in keys(&code) {
            seen += 1;
            // Files' names and the like look alike, but have no text of their family.
            let family = key.split('.').next().unwrap_or_default();
            let is_ours = season::words::keys().any(|k| k.split('.').next() == Some(family));
            if is_ours && !season::words::has(key) && !FIELDS.contains(&key) {
                missing.push(format!("{}: {key}", path.display()));
            }
        }
    }
    assert!(seen > 300, "the search itself is broken: {seen} found");
    assert!(missing.is_empty(), "{}", missing.join("\n"));
}
