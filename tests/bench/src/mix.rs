//! Entries by the thousand: the demo season over and over, each time a year later.

use std::collections::BTreeSet;
use std::error::Error;

use season::Entry;
use serde_json::Value;

/// A whole season: some 900 entries of nearly every kind, with corrections.
pub const DEMO: &str = include_str!("../../../demo-data/demo-season.json");

/// What lasts from year to year, and so keeps its id.
const LASTING: [&str; 5] = ["device", "place", "space", "bed", "variety"];

/// The texts of `count` entries in stamp order, as storage holds them.
///
/// # Errors
/// When the demo season is not as it is expected to be.
pub fn texts(count: usize) -> Result<Vec<String>, Box<dyn Error>> {
    let file: Value = serde_json::from_str(DEMO)?;
    let entries = file["entries"].as_array().ok_or("no entries")?;
    if entries.is_empty() {
        return Err("the demo season is empty".into());
    }
    let yearly: BTreeSet<&str> = entries
        .iter()
        .flat_map(|entry| {
            let lasts = entry["kind"]
                .as_str()
                .is_none_or(|kind| LASTING.contains(&kind));
            [
                &entry["id"],
                if lasts { &Value::Null } else { &entry["of"] },
            ]
        })
        .filter_map(Value::as_str)
        .collect();
    let mut found = Vec::with_capacity(count + entries.len());
    for year in 0.. {
        for entry in entries {
            if found.len() == count {
                return Ok(found);
            }
            let text = later(entry, year, &yearly).to_string();
            found.push(Entry::read(&text)?.json().to_owned());
        }
    }
    Ok(found)
}

/// An entry some years later, of things of that year.
fn later(value: &Value, years: i32, yearly: &BTreeSet<&str>) -> Value {
    match value {
        Value::String(text) if yearly.contains(text.as_str()) => {
            // Ids begin with their time; all of one season begin alike.
            let rest = text.get(3..).unwrap_or_default();
            format!("{years:03}{rest}").into()
        }
        Value::String(text) => match text.split_once('-') {
            Some((year, rest)) if year.len() == 4 => match year.parse::<i32>() {
                Ok(year) => format!("{:04}-{rest}", year + years).into(),
                Err(_) => text.as_str().into(),
            },
            _ => text.as_str().into(),
        },
        Value::Array(items) => items.iter().map(|v| later(v, years, yearly)).collect(),
        Value::Object(map) => map
            .iter()
            .map(|(name, v)| (name.clone(), later(v, years, yearly)))
            .collect(),
        other => other.clone(),
    }
}
