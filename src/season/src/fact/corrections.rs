//! Notes, and corrections of earlier entries.

use chrono::NaiveDate;
use fact_macro::fact;
use serde_json::{Map, Value as Json};

use crate::ids::*;
use crate::limits::*;

/// A note.
#[fact(kind = "note")]
pub struct NoteFact {
    /// What it is about: the id of a sowing, planting, bed, space or variety.
    #[limit(ANY_ID)]
    pub about: Option<String>,
    /// Its text.
    #[limit(NOTE_TEXT)]
    #[ask("field.note", area)]
    pub text: String,
    /// When.
    #[ask("field.date")]
    pub date: NaiveDate,
}

/// Fields of an earlier event corrected. Counts only if it is later than what it corrects.
#[fact(kind = "revised")]
pub struct RevisedFact {
    /// Which entry.
    pub entry: EntryId,
    /// The fields' new values; `null` takes a field away. Fields of the entry's head can't be set.
    pub set: Map<String, Json>,
}

/// An earlier entry taken back. Taking back a `voided` entry brings the first one to life again.
#[fact(kind = "voided")]
pub struct VoidedFact {
    /// Which entry.
    pub entry: EntryId,
}
