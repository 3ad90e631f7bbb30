//! ISO weeks in files: `"2027-W14"`.

use agronomy::iso_week::IsoWeek;
use serde::{Deserialize, Deserializer, Serializer, de::Error};

/// For `Option<IsoWeek>` fields.
pub mod option {
    use super::*;

    /// Writes the week.
    pub fn serialize<S: Serializer>(week: &Option<IsoWeek>, s: S) -> Result<S::Ok, S::Error> {
        match week {
            Some(week) => s.collect_str(week),
            None => s.serialize_none(),
        }
    }

    /// Reads a week.
    pub fn deserialize<'de, D: Deserializer<'de>>(d: D) -> Result<Option<IsoWeek>, D::Error> {
        let text: Option<std::borrow::Cow<'de, str>> = Option::deserialize(d)?;
        text.map(|t| {
            t.parse()
                .map_err(|_| D::Error::custom(format!("not a week like 2027-W14: {t:?}")))
        })
        .transpose()
    }
}

/// For `IsoWeek` fields.
pub fn serialize<S: Serializer>(week: &IsoWeek, s: S) -> Result<S::Ok, S::Error> {
    s.collect_str(week)
}
