//! The files of the published app, first in memory, then on disk.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use sha2::{Digest, Sha256};

use crate::error::Error;

/// Hex digits of a hash in a file's name.
const NAME_DIGITS: usize = 12;
/// Hex digits of a whole SHA-256.
const SUM_DIGITS: usize = 64;
/// Hex digits of a build id.
const BUILD_DIGITS: usize = 16;

/// Files by their path below the site, `/` between folders.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Site {
    files: BTreeMap<String, Vec<u8>>,
}

impl Site {
    /// Adds a file under its own name.
    pub fn add(&mut self, path: &str, content: Vec<u8>) {
        self.files.insert(path.to_owned(), content);
    }

    /// Adds a file under a name with its content's hash, and gives its path.
    pub fn add_hashed(&mut self, folder: &str, name: &str, content: Vec<u8>) -> String {
        let hash = hash(&content, NAME_DIGITS);
        let (stem, ending) = name.rsplit_once('.').unwrap_or((name, ""));
        let path = format!("{folder}/{stem}-{hash}.{ending}");
        self.files.insert(path.clone(), content);
        path
    }

    /// The path of a hashed file by its name before the hash.
    pub fn find_hashed(&self, folder: &str, stem: &str, ending: &str) -> Option<String> {
        let length = folder.len() + stem.len() + ending.len() + NAME_DIGITS + 3;
        let start = format!("{folder}/{stem}-");
        let end = format!(".{ending}");
        self.paths()
            .find(|path| path.len() == length && path.starts_with(&start) && path.ends_with(&end))
            .map(str::to_owned)
    }

    /// One file's content.
    pub fn get(&self, path: &str) -> Option<&[u8]> {
        self.files.get(path).map(Vec::as_slice)
    }

    /// Every path, in order.
    pub fn paths(&self) -> impl Iterator<Item = &str> {
        self.files.keys().map(String::as_str)
    }

    /// Every file with its path, in order.
    pub fn files(&self) -> impl Iterator<Item = (&str, &[u8])> {
        self.files
            .iter()
            .map(|(path, content)| (path.as_str(), content.as_slice()))
    }

    /// How many files.
    pub fn file_count(&self) -> usize {
        self.files.len()
    }

    /// Size of all files together, in bytes.
    pub fn size_bytes(&self) -> usize {
        self.files.values().map(Vec::len).sum()
    }

    /// A hash of all files and of some content besides.
    pub fn fingerprint(&self, besides: &[(&str, &[u8])]) -> String {
        digest(self.files().chain(besides.iter().copied()), BUILD_DIGITS)
    }

    /// Writes the site, replacing what an earlier build wrote there.
    pub fn write(&self, out: &Path) -> Result<(), Error> {
        check_replaceable(out)?;
        let mut beside = out.as_os_str().to_owned();
        beside.push(".new");
        let fresh = Path::new(&beside);
        if fresh.exists() {
            fs::remove_dir_all(fresh).map_err(Error::file("clear", fresh))?;
        }
        for (path, content) in &self.files {
            let target = fresh.join(path);
            if let Some(folder) = target.parent() {
                fs::create_dir_all(folder).map_err(Error::file("make", folder))?;
            }
            fs::write(&target, content).map_err(Error::file("write", &target))?;
        }
        if out.exists() {
            fs::remove_dir_all(out).map_err(Error::file("clear", out))?;
        }
        fs::rename(fresh, out).map_err(Error::file("put in place", out))
    }
}

/// Refuses to replace a folder that holds anything but an earlier build.
pub fn check_replaceable(out: &Path) -> Result<(), Error> {
    let empty = match fs::read_dir(out) {
        Ok(mut entries) => entries.next().is_none(),
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => true,
        Err(error) => return Err(Error::file("read", out)(error)),
    };
    let ours = fs::read_to_string(out.join("index.html"))
        .is_ok_and(|page| page.contains("<meta name=\"build\" content=\""))
        && out.join("sw.js").is_file();
    if empty || ours {
        Ok(())
    } else {
        Err(Error::NotOurs {
            path: out.to_path_buf(),
        })
    }
}

/// Content type by a file's ending, for what a site may hold.
pub fn content_type(path: &str) -> Option<&'static str> {
    let (_, ending) = path.rsplit_once('.')?;
    Some(match ending {
        "css" => "text/css",
        "html" => "text/html",
        "js" => "text/javascript",
        "json" => "application/json",
        "png" => "image/png",
        "svg" => "image/svg+xml",
        "wasm" => "application/wasm",
        "webmanifest" => "application/manifest+json",
        _ => return None,
    })
}

/// Every file below a folder, by its path there.
pub fn files_below(folder: &Path) -> Result<BTreeMap<String, Vec<u8>>, Error> {
    let mut files = BTreeMap::new();
    let mut waiting = vec![(folder.to_path_buf(), String::new())];
    while let Some((dir, prefix)) = waiting.pop() {
        for entry in fs::read_dir(&dir).map_err(Error::file("read", &dir))? {
            let entry = entry.map_err(Error::file("read", &dir))?;
            let path = entry.path();
            let name = format!("{prefix}{}", entry.file_name().to_string_lossy());
            if path.is_dir() {
                waiting.push((path, format!("{name}/")));
            } else {
                let content = fs::read(&path).map_err(Error::file("read", &path))?;
                files.insert(name, content);
            }
        }
    }
    Ok(files)
}

/// A hash of files with their paths, as long as one in a file's name.
pub fn hash_of_files(files: &BTreeMap<String, Vec<u8>>) -> String {
    let files = files
        .iter()
        .map(|(path, content)| (path.as_str(), content.as_slice()));
    digest(files, NAME_DIGITS)
}

fn digest<'a>(parts: impl Iterator<Item = (&'a str, &'a [u8])>, digits: usize) -> String {
    let mut lines = String::new();
    for (path, content) in parts {
        lines.push_str(&format!("{path}\t{}\n", sum(content)));
    }
    hash(lines.as_bytes(), digits)
}

/// The content's SHA-256 in hex.
pub fn sum(content: &[u8]) -> String {
    hash(content, SUM_DIGITS)
}

/// The first `digits` hex digits of the content's SHA-256.
fn hash(content: &[u8], digits: usize) -> String {
    let mut hex: String = Sha256::digest(content)
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect();
    hex.truncate(digits);
    hex
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_hold_the_contents_hash() {
        let mut site = Site::default();
        let path = site.add_hashed("assets", "a.css", b"abc".to_vec());
        // SHA-256 of "abc", FIPS 180-4 example: ba7816bf 8f01cfea ...
        assert_eq!(path, "assets/a-ba7816bf8f01.css");
        assert_eq!(site.find_hashed("assets", "a", "css"), Some(path));
        assert_eq!(site.find_hashed("assets", "b", "css"), None);
    }

    #[test]
    fn the_fingerprint_follows_every_byte_and_name() {
        let mut site = Site::default();
        site.add("a", b"1".to_vec());
        let first = site.fingerprint(&[("x", b"1")]);
        assert_eq!(first, site.clone().fingerprint(&[("x", b"1")]));
        assert_ne!(first, site.fingerprint(&[("x", b"2")]));
        site.add("b", Vec::new());
        assert_ne!(first, site.fingerprint(&[("x", b"1")]));
    }

    #[test]
    fn a_folder_of_something_else_is_left_alone() {
        let folder = std::env::temp_dir().join(format!("stemtide-site-{}", std::process::id()));
        fs::create_dir_all(&folder).unwrap();
        fs::write(folder.join("letter.txt"), "dear").unwrap();
        let refused = Site::default().write(&folder);
        assert!(matches!(refused, Err(Error::NotOurs { .. })));
        assert!(folder.join("letter.txt").is_file());
        fs::remove_dir_all(&folder).unwrap();
    }
}
