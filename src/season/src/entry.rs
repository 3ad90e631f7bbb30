//! One recorded fact with its id, stamp and device, and its text as it travels.
//!
//! An entry keeps its canonical JSON. What this version does not know stands there untouched, so that it survives storage,
//! import and export.

use core::fmt;
use std::sync::Arc;

use serde::Deserialize;
use serde_json::{Map, Value};

use crate::canonical;
use crate::fact::Fact;
use crate::ids::{DeviceId, EntryId};
use crate::limits::{ENTRY_BYTES_MAX, ENTRY_DEPTH_MAX};
use crate::stamp::Stamp;

/// One recorded fact. Never changed once made; a correction is another entry.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    id: EntryId,
    at: Stamp,
    device: DeviceId,
    kind: String,
    /// Shared with the season's events.
    fact: Arc<Fact>,
    json: String,
}

/// Why a text is no entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum EntryError {
    /// Longer than [`ENTRY_BYTES_MAX`].
    TooLong,
    /// Not a JSON object, or one with more within each other than [`ENTRY_DEPTH_MAX`].
    NotAnObject(String),
    /// One of `id`, `at`, `device`, `kind` is missing or not as it must be; or this field of a fact that was to be recorded is
    /// out of range.
    BadField(&'static str),
    /// A number beyond 2^53 either way (RFC 7493, section 2.2), so that devices could disagree on it, or none at all.
    BadNumber(String),
}

impl fmt::Display for EntryError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLong => write!(f, "entry longer than {ENTRY_BYTES_MAX} bytes"),
            Self::NotAnObject(why) => write!(f, "not a JSON object: {why}"),
            Self::BadField(name) => write!(f, "field {name} is missing or malformed"),
            Self::BadNumber(number) => write!(f, "number {number} can't be kept exactly"),
        }
    }
}

impl core::error::Error for EntryError {}

#[derive(Deserialize)]
struct Head {
    id: EntryId,
    at: Stamp,
    device: DeviceId,
    kind: String,
}

/// The fields that every entry has.
pub(crate) const HEAD_FIELDS: [&str; 4] = ["id", "at", "device", "kind"];

impl Entry {
    /// Makes an entry of a fact.
    ///
    /// Errors if the fact is not one of this version's kinds, is out of range or doesn't fit into an entry: what would not
    /// read back the same is never recorded.
    pub fn new(id: EntryId, at: Stamp, device: DeviceId, fact: Fact) -> Result<Self, EntryError> {
        let (Some(kind), Some(mut map)) = (fact.kind(), fact.fields()) else {
            return Err(EntryError::BadField("kind"));
        };
        fact.check()
            .map_err(|fault| EntryError::BadField(fault.field))?;
        let stamp = at.to_string();
        // A stamp past the last year is written but would not be read.
        if stamp.parse() != Ok(at) {
            return Err(EntryError::BadField("at"));
        }
        map.insert("id".into(), Value::String(id.to_string()));
        map.insert("at".into(), Value::String(stamp));
        map.insert("device".into(), Value::String(device.to_string()));
        map.insert("kind".into(), Value::String(kind.into()));
        Ok(Self {
            json: canonical_text(&map)?,
            kind: kind.to_owned(),
            fact: Arc::new(fact),
            id,
            at,
            device,
        })
    }

    /// Reads an entry from JSON text of any spelling.
    pub fn read(json: &str) -> Result<Self, EntryError> {
        if json.len() > ENTRY_BYTES_MAX {
            return Err(EntryError::TooLong);
        }
        match serde_json::from_str(json) {
            Ok(Value::Object(map)) => Self::of_object(map),
            Ok(_) => Err(EntryError::NotAnObject("another kind of value".into())),
            Err(error) => Err(EntryError::NotAnObject(error.to_string())),
        }
    }

    /// Reads an entry from the canonical text that [`Entry::json`] gave, as storage holds it. Faster than [`Entry::read`]: the
    /// text is not brought into canonical form again.
    pub fn read_stored(json: String) -> Result<Self, EntryError> {
        if json.len() > ENTRY_BYTES_MAX {
            return Err(EntryError::TooLong);
        }
        let head: Head = serde_json::from_str(&json)
            .map_err(|error| EntryError::NotAnObject(error.to_string()))?;
        let fact = Arc::new(Fact::read(&head.kind, &json));
        Ok(Self {
            id: head.id,
            at: head.at,
            device: head.device,
            kind: head.kind,
            fact,
            json,
        })
    }

    pub(crate) fn of_object(map: Map<String, Value>) -> Result<Self, EntryError> {
        let text = |name: &'static str| {
            map.get(name)
                .and_then(Value::as_str)
                .ok_or(EntryError::BadField(name))
        };
        let id = EntryId::new(text("id")?).map_err(|_| EntryError::BadField("id"))?;
        let at: Stamp = text("at")?
            .parse()
            .map_err(|_| EntryError::BadField("at"))?;
        let device = DeviceId::new(text("device")?).map_err(|_| EntryError::BadField("device"))?;
        let kind = text("kind")?.to_owned();
        let json = canonical_text(&map)?;
        let fact = Arc::new(Fact::read(&kind, &json));
        Ok(Self {
            id,
            at,
            device,
            kind,
            fact,
            json,
        })
    }

    /// The entry's id.
    pub fn id(&self) -> &EntryId {
        &self.id
    }

    /// When it was recorded, in the order of what was known.
    pub fn at(&self) -> Stamp {
        self.at
    }

    /// Where it was recorded.
    pub fn device(&self) -> &DeviceId {
        &self.device
    }

    /// The kind as written, also of kinds that this version does not know.
    pub fn kind(&self) -> &str {
        &self.kind
    }

    /// What it says, before any later correction.
    pub fn fact(&self) -> &Fact {
        &self.fact
    }

    /// The same, to be shared.
    pub(crate) fn shared_fact(&self) -> Arc<Fact> {
        Arc::clone(&self.fact)
    }

    /// The canonical JSON (RFC 8785) of the whole entry.
    pub fn json(&self) -> &str {
        &self.json
    }

    /// The fact with fields set anew; fields of the entry itself (id, stamp, device, kind) can't be.
    pub(crate) fn fact_revised<'a>(
        &self,
        sets: impl Iterator<Item = &'a Map<String, Value>>,
    ) -> Fact {
        let Ok(Value::Object(mut map)) = serde_json::from_str::<Value>(&self.json) else {
            return self.fact().clone();
        };
        for set in sets {
            for (name, value) in set {
                if HEAD_FIELDS.contains(&name.as_str()) {
                    continue;
                }
                if value.is_null() {
                    map.remove(name);
                } else {
                    map.insert(name.clone(), value.clone());
                }
            }
        }
        Fact::of_fields(&self.kind, map)
    }
}

/// The canonical JSON of an entry's object, within the limits of entries.
fn canonical_text(map: &Map<String, Value>) -> Result<String, EntryError> {
    for value in map.values() {
        check_value(value, ENTRY_DEPTH_MAX - 1)?;
    }
    let json =
        canonical::to_string(map).map_err(|error| EntryError::BadNumber(error.to_string()))?;
    if json.len() > ENTRY_BYTES_MAX {
        return Err(EntryError::TooLong);
    }
    Ok(json)
}

/// Numbers beyond 2^53 are not the same number everywhere, and canonical JSON writes large doubles as whole numbers that then
/// would not read back. `depth` is how many objects and lists may still stand within each other.
fn check_value(value: &Value, depth: usize) -> Result<(), EntryError> {
    const EXACT_MAX: u64 = 1 << 53;
    match value {
        Value::Number(n) => {
            let exact = match (n.as_u64(), n.as_i64(), n.as_f64()) {
                (Some(whole), _, _) => whole <= EXACT_MAX,
                (_, Some(whole), _) => whole.unsigned_abs() <= EXACT_MAX,
                (_, _, Some(any)) => any.abs() <= EXACT_MAX as f64,
                (None, None, None) => false,
            };
            if exact {
                Ok(())
            } else {
                Err(EntryError::BadNumber(n.to_string()))
            }
        }
        Value::Array(_) | Value::Object(_) if depth == 0 => {
            Err(EntryError::NotAnObject("nested too deeply".into()))
        }
        Value::Array(items) => items.iter().try_for_each(|v| check_value(v, depth - 1)),
        Value::Object(map) => map.values().try_for_each(|v| check_value(v, depth - 1)),
        Value::Null | Value::Bool(_) | Value::String(_) => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const HEAD: &str = r#""id":"a1","at":"2027-02-14T08:30:12.345Z/0000","device":"d1""#;

    fn read(rest: &str) -> Result<Entry, EntryError> {
        Entry::read(&format!("{{{HEAD},{rest}}}"))
    }

    #[test]
    fn unknown_kinds_and_fields_are_kept_to_the_letter() {
        let entry = read(r#""kind":"grafted","onto":{"x":[1,2,{"y":null}]}"#).expect("reads");
        assert_eq!(entry.fact(), &Fact::Unknown);
        assert!(entry.json().contains(r#""onto":{"x":[1,2,{"y":null}]}"#));
        let known =
            read(r#""kind":"counted","sowing":"s","date":"2027-02-14","up":3,"mood":"good""#)
                .expect("reads");
        assert!(matches!(known.fact(), Fact::Counted(_)));
        assert!(known.json().contains(r#""mood":"good""#));
        assert_eq!(
            Entry::read_stored(known.json().to_owned()).expect("stored"),
            known
        );
    }

    #[test]
    fn a_known_kind_with_odd_fields_is_kept_and_told() {
        let entry =
            read(r#""kind":"counted","sowing":"s","date":"2027-02-30","up":3"#).expect("kept");
        assert!(matches!(entry.fact(), Fact::Unreadable(_)));
        let entry =
            read(r#""kind":"counted","sowing":"s","date":"2027-02-03","up":-3"#).expect("kept");
        assert!(matches!(entry.fact(), Fact::Unreadable(_)));
    }

    #[test]
    fn what_is_no_entry_says_which_field() {
        assert_eq!(
            Entry::read(r#"{"id":"a"}"#),
            Err(EntryError::BadField("at"))
        );
        assert!(matches!(
            Entry::read("[1]"),
            Err(EntryError::NotAnObject(_))
        ));
        assert!(matches!(
            read(r#""kind":"x","n":9007199254740993"#),
            Err(EntryError::BadNumber(_))
        ));
        assert_eq!(
            read(&format!(
                r#""kind":"note","text":"{}""#,
                "x".repeat(ENTRY_BYTES_MAX)
            )),
            Err(EntryError::TooLong)
        );
    }

    #[test]
    fn a_revision_cannot_touch_the_head() {
        let entry =
            read(r#""kind":"counted","sowing":"s","date":"2027-02-14","up":3"#).expect("reads");
        let set: Map<String, Value> =
            serde_json::from_str(r#"{"up":5,"kind":"lost","id":"zz"}"#).expect("JSON");
        match entry.fact_revised([&set].into_iter()) {
            Fact::Counted(fact) => assert_eq!(fact.up, 5),
            other => panic!("{other:?}"),
        }
    }
}
