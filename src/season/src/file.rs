//! The file by which a season travels: one JSON object, its entries in stamp order, one a line.
//!
//! ```json
//! {"format":"stemtide-log","version":1,"exported_at":"2027-02-14T08:30:12.345Z","device":{"id":"…","name":"…"},"count":2,"sha256":"…","entries":[
//! {"at":"…","device":"…","id":"…","kind":"sown",…},
//! {"at":"…","device":"…","id":"…","kind":"counted",…}
//! ]}
//! ```
//!
//! `sha256` is of the entries' canonical JSON (RFC 8785) joined by line feeds. A file is taken whole or not at all: reading gives
//! all its entries or the place where it is damaged; nothing in between.

use core::fmt;

use serde::de::{IgnoredAny, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize};
use serde_json::value::RawValue;

use crate::canonical;
use crate::entry::{Entry, EntryError};
use crate::fact::Fact;
use crate::ids::DeviceId;
use crate::limits::{CLOCK_AHEAD_MS, FILE_BYTES_MAX, FILE_ENTRIES_MAX};
use crate::log::{Inserted, Log};
use crate::state::Season;

/// The name in the file's `format` field.
pub const FORMAT: &str = "stemtide-log";
/// The version this code writes, and the highest it reads.
pub const VERSION: u32 = 1;

/// Who wrote a file and when.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Origin {
    /// The device.
    pub id: DeviceId,
    /// Its name.
    #[serde(default)]
    pub name: String,
}

#[derive(Deserialize)]
struct WireV1<'a> {
    format: String,
    version: u32,
    #[serde(default)]
    exported_at: String,
    device: Origin,
    count: usize,
    sha256: String,
    #[serde(borrow)]
    entries: Rows<'a>,
}

/// The entries' texts: one more than [`FILE_ENTRIES_MAX`] at most, so that a hostile file can't fill the memory.
struct Rows<'a>(Vec<&'a RawValue>);

impl<'de: 'a, 'a> Deserialize<'de> for Rows<'a> {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        struct Visit;
        impl<'de> Visitor<'de> for Visit {
            type Value = Rows<'de>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a list of entries")
            }

            fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Rows<'de>, A::Error> {
                let mut rows = Vec::new();
                while let Some(row) = seq.next_element::<&RawValue>()? {
                    if rows.len() <= FILE_ENTRIES_MAX {
                        rows.push(row);
                    }
                }
                Ok(Rows(rows))
            }
        }
        d.deserialize_seq(Visit)
    }
}

#[derive(Deserialize)]
struct Probe {
    format: Option<String>,
    version: Option<u32>,
}

/// A file that was read whole.
#[derive(Debug, Clone, PartialEq)]
pub struct SeasonFile {
    /// Who wrote it.
    pub device: Origin,
    /// When, as the writer's clock said (RFC 3339), for showing only.
    pub exported_at: String,
    /// Its entries in stamp order.
    pub entries: Vec<Entry>,
}

/// Why a file was not taken. Lines and columns count from 1.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FileError {
    /// Larger than [`FILE_BYTES_MAX`].
    TooLarge,
    /// More than [`FILE_ENTRIES_MAX`] entries.
    TooManyEntries,
    /// Nothing in it.
    Empty,
    /// Not UTF-8 text; the first bad byte's line.
    NotText {
        /// Line.
        line: usize,
    },
    /// Not JSON from here on: cut short or garbled.
    NotJson {
        /// Line.
        line: usize,
        /// Column.
        column: usize,
        /// Whether the text simply ends too early.
        cut_short: bool,
    },
    /// JSON, but not one of ours.
    NotOurs,
    /// A newer version's format.
    Newer {
        /// Its version.
        version: u32,
    },
    /// The envelope lacks a field or has it wrong.
    BadEnvelope {
        /// Line.
        line: usize,
        /// What the reader said, for developers.
        why: String,
    },
    /// An entry can't be read.
    BadEntry {
        /// Which, from 1.
        number: usize,
        /// Its line.
        line: usize,
        /// What is wrong.
        why: EntryError,
    },
    /// Two entries in the file share an id.
    TwiceTheSame {
        /// Which one repeats, from 1.
        number: usize,
        /// Its line.
        line: usize,
    },
    /// Not as many entries as the file says.
    WrongCount {
        /// As the file says.
        said: usize,
        /// As there are.
        found: usize,
    },
    /// The entries were changed after the file was written.
    WrongSum,
}

impl fmt::Display for FileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{self:?}")
    }
}

impl core::error::Error for FileError {}

/// Writes all entries of a log. `exported_at` is the wall time as RFC 3339 text.
pub fn write(log: &Log, device: &Origin, exported_at: &str) -> Result<String, serde_json::Error> {
    let sum = canonical::sha256_of_lines(log.iter().map(Entry::json));
    let mut out =
        String::with_capacity(256 + log.iter().map(|e| e.json().len() + 2).sum::<usize>());
    out.push_str(&format!(
        "{{\"format\":\"{FORMAT}\",\"version\":{VERSION},\"exported_at\":{},\"device\":{},\"count\":{},\"sha256\":\"{sum}\",\"entries\":[",
        serde_json::to_string(exported_at)?,
        serde_json::to_string(device)?,
        log.len(),
    ));
    for (n, entry) in log.iter().enumerate() {
        out.push_str(if n == 0 { "\n" } else { ",\n" });
        out.push_str(entry.json());
    }
    out.push_str("\n]}\n");
    Ok(out)
}

/// Reads a file of any size within the limits. Never panics; a file with any fault gives no entries at all.
pub fn read(bytes: &[u8]) -> Result<SeasonFile, FileError> {
    if bytes.len() > FILE_BYTES_MAX {
        return Err(FileError::TooLarge);
    }
    let text = core::str::from_utf8(bytes).map_err(|error| FileError::NotText {
        line: line_at(bytes, error.valid_up_to()),
    })?;
    // Some ways of sending a text file put a byte-order mark before it.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() {
        return Err(FileError::Empty);
    }
    // Serde would also take a list of the fields' values.
    if text.trim_start().starts_with('[') && serde_json::from_str::<IgnoredAny>(text).is_ok() {
        return Err(FileError::NotOurs);
    }
    let probe: Probe = serde_json::from_str(text).map_err(|error| match error.classify() {
        serde_json::error::Category::Data => FileError::NotOurs,
        category => FileError::NotJson {
            line: error.line(),
            column: error.column(),
            cut_short: category == serde_json::error::Category::Eof,
        },
    })?;
    match (probe.format.as_deref(), probe.version) {
        (Some(FORMAT), Some(version)) if version > VERSION => {
            return Err(FileError::Newer { version });
        }
        (Some(FORMAT), Some(1)) => {}
        _ => return Err(FileError::NotOurs),
    }
    read_v1(text)
}

fn read_v1(text: &str) -> Result<SeasonFile, FileError> {
    let wire: WireV1<'_> = serde_json::from_str(text).map_err(|error| FileError::BadEnvelope {
        line: error.line(),
        why: error.to_string(),
    })?;
    debug_assert!(wire.format == FORMAT && wire.version == 1);
    if wire.entries.0.len() > FILE_ENTRIES_MAX {
        return Err(FileError::TooManyEntries);
    }
    // Where an entry stands in the text: the raw values borrow from it.
    let line_of = |raw: &RawValue| {
        let offset = (raw.get().as_ptr() as usize).saturating_sub(text.as_ptr() as usize);
        line_at(text.as_bytes(), offset)
    };
    let mut log = Log::new();
    for (n, raw) in wire.entries.0.iter().enumerate() {
        let number = n + 1;
        let entry = Entry::read(raw.get()).map_err(|why| FileError::BadEntry {
            number,
            line: line_of(raw),
            why,
        })?;
        if log.insert(entry) != Inserted::New {
            return Err(FileError::TwiceTheSame {
                number,
                line: line_of(raw),
            });
        }
    }
    if wire.count != log.len() {
        return Err(FileError::WrongCount {
            said: wire.count,
            found: log.len(),
        });
    }
    if wire.sha256 != canonical::sha256_of_lines(log.iter().map(Entry::json)) {
        return Err(FileError::WrongSum);
    }
    Ok(SeasonFile {
        device: wire.device,
        exported_at: wire.exported_at,
        entries: log.into_entries().collect(),
    })
}

fn line_at(bytes: &[u8], offset: usize) -> usize {
    1 + bytes.iter().take(offset).filter(|b| **b == b'\n').count()
}

/// What taking a file would do, before anything is done.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Preview {
    /// Entries that are not known yet.
    pub new: Vec<Entry>,
    /// How many are known already.
    pub known: usize,
    /// Entries whose id is taken by another one; they are left out.
    pub clashes: Vec<Entry>,
    /// New entries of kinds this version doesn't know; they are kept as they are.
    pub unknown: usize,
    /// New entries stamped more than a day ahead of this device's clock.
    pub ahead: usize,
    /// New entries by kind, most first.
    pub kinds: Vec<(String, usize)>,
    /// Problems in the merged season that are not in this one.
    pub new_problems: usize,
}

/// Compares a file with the log. `now_ms` is this device's clock.
pub fn preview(log: &Log, file: &SeasonFile, now_ms: u64) -> Preview {
    let mut preview = Preview::default();
    let mut kinds = std::collections::BTreeMap::<String, usize>::new();
    for entry in &file.entries {
        match log.compare(entry) {
            Inserted::Known => preview.known += 1,
            Inserted::Clash => preview.clashes.push(entry.clone()),
            Inserted::New => {
                preview.unknown += usize::from(matches!(entry.fact(), Fact::Unknown));
                preview.ahead +=
                    usize::from(entry.at().ms() > now_ms.saturating_add(CLOCK_AHEAD_MS));
                *kinds.entry(entry.kind().to_owned()).or_default() += 1;
                preview.new.push(entry.clone());
            }
        }
    }
    preview.kinds = kinds.into_iter().collect();
    preview
        .kinds
        .sort_by(|a, b| b.1.cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
    // Sorted, as the season lists them.
    let before = Season::of(log).problems;
    let mut merged = log.clone();
    merged.extend(preview.new.iter().cloned());
    preview.new_problems = Season::of(&merged)
        .problems
        .iter()
        .filter(|problem| before.binary_search(problem).is_err())
        .count();
    preview
}
