//! Typed ids, so that a bed can't be passed for a variety.
//!
//! An id is 1 to 64 ASCII letters, digits, `-` or `_`. New ids are ULIDs: globally unique and sortable by time. The clock
//! and the randomness are handed in; this room has neither.

use core::fmt;

use serde::{Deserialize, Serialize};

use crate::limits::ID_LENGTH_MAX;

/// Why a text is no id.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BadId(pub String);

impl fmt::Display for BadId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "not an id: {:?}", self.0)
    }
}

impl core::error::Error for BadId {}

fn is_id(text: &str) -> bool {
    !text.is_empty()
        && text.len() <= ID_LENGTH_MAX
        && text
            .bytes()
            .all(|b| b.is_ascii_alphanumeric() || b == b'-' || b == b'_')
}

/// Makes a new id's text from the time in milliseconds since 1970 and 80 random bits (the lower bits of `random`).
pub fn mint(now_ms: u64, random: u128) -> String {
    ulid::Ulid::from_parts(now_ms, random).to_string()
}

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident),+ $(,)?) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(try_from = "String", into = "String")]
        pub struct $name(String);

        impl $name {
            /// Checks the text and makes it an id.
            pub fn new(text: impl Into<String>) -> Result<Self, BadId> {
                let text = text.into();
                if is_id(&text) { Ok(Self(text)) } else { Err(BadId(text)) }
            }

            /// A new id from the time (ms since 1970) and random bits.
            pub fn mint(now_ms: u64, random: u128) -> Self {
                Self(mint(now_ms, random))
            }

            /// The id's text.
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl TryFrom<String> for $name {
            type Error = BadId;
            fn try_from(text: String) -> Result<Self, BadId> {
                Self::new(text)
            }
        }

        impl From<$name> for String {
            fn from(id: $name) -> String {
                id.0
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(&self.0)
            }
        }
    )+};
}

ids! {
    /// One recorded fact.
    EntryId,
    /// A phone or laptop that records.
    DeviceId,
    /// The site: latitude, climate, frost dates.
    PlaceId,
    /// Somewhere plants sit: mat, shelf, hardening spot, tunnel, outdoors, cooler.
    SpaceId,
    /// A strip of growing ground in a tunnel or outdoors.
    BedId,
    /// What the grower sows.
    VarietyId,
    /// One bought batch of one variety.
    LotId,
    /// Stems wanted by week.
    TargetId,
    /// Stems wanted on a date by somebody.
    OrderId,
    /// Stems by role per piece.
    RecipeId,
    /// A crop year.
    SeasonId,
    /// A sowing accepted from the plan.
    PlannedId,
    /// One variety, one date, one or more trays; the id of its `sown` entry.
    SowingId,
    /// Plants in a bed; the id of its `transplanted` or `direct_sown` entry.
    PlantingId,
}

impl From<EntryId> for SowingId {
    fn from(id: EntryId) -> Self {
        Self(id.0)
    }
}

impl From<EntryId> for PlantingId {
    fn from(id: EntryId) -> Self {
        Self(id.0)
    }
}

impl From<SowingId> for EntryId {
    fn from(id: SowingId) -> Self {
        Self(id.0)
    }
}

impl From<PlantingId> for EntryId {
    fn from(id: PlantingId) -> Self {
        Self(id.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn minted_ids_sort_by_time() {
        let early = EntryId::mint(1_000, u128::MAX);
        let late = EntryId::mint(1_001, 0);
        assert!(early < late);
        assert_eq!(early.as_str().len(), 26);
        assert!(EntryId::new(early.as_str()).is_ok());
    }

    #[test]
    fn odd_texts_are_no_ids() {
        for text in ["", "a b", "é", "a/b", &"x".repeat(65)] {
            assert!(EntryId::new(text).is_err(), "{text:?}");
        }
    }
}
