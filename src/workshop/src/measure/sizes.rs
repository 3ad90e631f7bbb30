//! How many bytes a first visit costs, by part.

use std::fmt;
use std::io::Write;
use std::path::Path;

use brotli::CompressorWriter;

use crate::dist::SCHEMA;
use crate::error::Error;

/// As a static host would compress once and for all.
const QUALITY: u32 = 11;
const WINDOW_BITS: u32 = 22;
const BUFFER_BYTES: usize = 64 * 1024;

/// One file's weight.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// Path below the site.
    pub path: String,
    /// Size as stored, in bytes.
    pub raw_bytes: usize,
    /// Size as sent by a host that compresses with brotli, in bytes.
    pub brotli_bytes: usize,
}

/// The weight of a built site.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sizes {
    /// Heaviest first.
    pub parts: Vec<Part>,
}

impl Sizes {
    /// Size as stored, in bytes.
    pub fn raw_bytes(&self) -> usize {
        self.parts.iter().map(|part| part.raw_bytes).sum()
    }

    /// Size as sent, in bytes.
    pub fn brotli_bytes(&self) -> usize {
        self.parts.iter().map(|part| part.brotli_bytes).sum()
    }

    /// Size as sent of all files with this ending, in bytes.
    pub fn brotli_bytes_of(&self, ending: &str) -> usize {
        self.parts
            .iter()
            .filter(|part| part.path.ends_with(ending))
            .map(|part| part.brotli_bytes)
            .sum()
    }
}

/// Weighs every file of a built site that a visitor downloads: not the second
/// copy of the page, nor the worker kept in reserve, nor the files' schema.
///
/// # Errors
/// [`Error::Missing`] where nothing is built, [`Error::File`] otherwise.
pub fn weigh(dist: &Path) -> Result<Sizes, Error> {
    if !dist.join("index.html").is_file() {
        return Err(Error::Missing {
            what: format!("A build in {}", dist.display()),
            remedy: "Run cargo stemtide build first.".into(),
        });
    }
    let mut parts = Vec::new();
    for (path, content) in crate::dist::files_below(dist)? {
        if ["404.html", "sw-retire.js", SCHEMA].contains(&path.as_str()) {
            continue;
        }
        parts.push(Part {
            raw_bytes: content.len(),
            brotli_bytes: compressed_bytes(&content).map_err(Error::file("compress", dist))?,
            path,
        });
    }
    parts.sort_by(|a, b| {
        b.brotli_bytes
            .cmp(&a.brotli_bytes)
            .then(a.path.cmp(&b.path))
    });
    Ok(Sizes { parts })
}

fn compressed_bytes(content: &[u8]) -> std::io::Result<usize> {
    let mut sent = Vec::new();
    {
        let mut writer = CompressorWriter::new(&mut sent, BUFFER_BYTES, QUALITY, WINDOW_BITS);
        writer.write_all(content)?;
        writer.flush()?;
    }
    Ok(sent.len())
}

impl fmt::Display for Sizes {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "{:>10} {:>10}  file", "bytes", "brotli")?;
        for part in &self.parts {
            writeln!(
                f,
                "{:>10} {:>10}  {}",
                part.raw_bytes, part.brotli_bytes, part.path
            )?;
        }
        write!(
            f,
            "{:>10} {:>10}  together",
            self.raw_bytes(),
            self.brotli_bytes()
        )
    }
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;

    #[test]
    fn sizes_are_counted_and_what_is_not_fetched_is_left_out() {
        let folder = std::env::temp_dir().join(format!("stemtide-sizes-{}", std::process::id()));
        fs::create_dir_all(folder.join("assets")).unwrap();
        let text = "seed ".repeat(2000);
        for name in ["index.html", "404.html", "assets/app.wasm"] {
            fs::write(folder.join(name), &text).unwrap();
        }
        let sizes = weigh(&folder).unwrap();
        fs::remove_dir_all(&folder).unwrap();
        assert_eq!(sizes.raw_bytes(), 2 * text.len());
        assert!(sizes.brotli_bytes() < text.len() / 10);
        let wasm = sizes.brotli_bytes_of(".wasm");
        assert!(wasm > 0 && wasm < sizes.brotli_bytes());
    }

    #[test]
    fn compression_is_one_a_browser_undoes() {
        let text = b"stems in a bucket, stems in a bucket".repeat(50);
        let mut sent = Vec::new();
        {
            let mut writer = CompressorWriter::new(&mut sent, BUFFER_BYTES, QUALITY, WINDOW_BITS);
            writer.write_all(&text).unwrap();
        }
        let mut back = Vec::new();
        brotli::BrotliDecompress(&mut sent.as_slice(), &mut back).unwrap();
        assert_eq!(back, text);
    }

    #[test]
    fn without_a_build_it_says_what_to_do() {
        let error = weigh(Path::new("/nowhere/at/all")).unwrap_err();
        assert!(error.to_string().contains("cargo stemtide build"));
    }
}
