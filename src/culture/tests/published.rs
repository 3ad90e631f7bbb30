//! The reference against published figures: each row of `data/published.json` was assessed, and the
//! assessment must be true.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use std::collections::{BTreeMap, BTreeSet};

use culture::{Confidence, Crop, Range, Reference, SourceStatus, unit};
use serde::Deserialize;
use serde_json::Value;

/// The assessment of a published figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Use {
    /// Similar conditions, and within the range of the reference.
    Agrees,
    /// Similar conditions, and the reference was changed to it.
    Moved,
    /// Another basis: a separate figure.
    Own,
    /// The reference keeps another value, for the given reason.
    Differs,
    /// No figure of the reference has its conditions.
    Apart,
}

/// One published figure. `status` says how far its source was read.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Published {
    crop: String,
    figure: String,
    low: Option<f64>,
    typical: Option<f64>,
    high: Option<f64>,
    unit: String,
    conditions: String,
    source: String,
    status: String,
    #[serde(rename = "use")]
    became: Use,
    why: String,
}

impl Published {
    fn values(&self) -> Vec<f64> {
        [self.low, self.typical, self.high]
            .into_iter()
            .flatten()
            .collect()
    }

    fn place(&self) -> String {
        format!("{} {} {}", self.crop, self.figure, self.source)
    }
}

fn published() -> Vec<Published> {
    serde_json::from_str(include_str!("../data/published.json")).unwrap()
}

fn covers(range: &Range, value: f64) -> bool {
    let (low, _, high) = range.spread();
    (low..=high).contains(&value)
}

/// The figures of a crop's own entry and its thermal time, without those of rules and defaults.
fn own_figures<'a>(entry: &'a Value, crop: &'a Crop) -> Vec<(&'a str, &'a Range)> {
    let named = entry["figures"].as_object().unwrap();
    crop.figure_names()
        .filter(|name| named.contains_key(*name) || *name == "thermal_time_transplant_to_bloom_cd")
        .map(|name| (name, crop.figure(name).unwrap()))
        .collect()
}

#[test]
fn every_row_has_a_crop_a_figure_a_unit_and_a_source() {
    let reference = Reference::builtin().unwrap();
    let rows = published();
    assert_eq!(rows.len(), 352);
    for row in &rows {
        let place = row.place();
        assert!(reference.crop(&row.crop).is_some(), "{place}");
        assert!(!row.unit.is_empty(), "{place}");
        assert!(!row.conditions.is_empty() && row.why.len() > 8, "{place}");
        let values = row.values();
        assert!(!values.is_empty() && values.is_sorted(), "{place}");
        if row.became != Use::Apart {
            assert_eq!(unit(&row.figure), Some(row.unit.as_str()), "{place}");
        }
        let status = reference.source(&row.source).map(|source| source.status);
        assert!(
            matches!(status, Some(SourceStatus::Read | SourceStatus::PartRead)),
            "{place}"
        );
        assert!(
            matches!(row.status.as_str(), "read" | "part read"),
            "{place}"
        );
    }
}

#[test]
fn used_rows_are_sources_of_their_figure() {
    let reference = Reference::builtin().unwrap();
    for row in published() {
        let place = row.place();
        let crop = reference.crop(&row.crop).unwrap();
        let figure = crop.figure(&row.figure);
        match row.became {
            Use::Agrees | Use::Moved | Use::Own => {
                let figure = figure.unwrap();
                assert!(figure.src.contains(&row.source), "{place}");
                if row.became != Use::Agrees {
                    for value in row.values() {
                        assert!(covers(figure, value), "{place} {value}");
                    }
                }
            }
            // There is a figure, with another value.
            Use::Differs => assert!(figure.is_some(), "{place}"),
            Use::Apart => {}
        }
        if row.became == Use::Own {
            assert_eq!(figure.unwrap().confidence, Confidence::Sourced, "{place}");
        }
    }
}

/// A row that agrees overlaps its figure.
#[test]
fn rows_that_agree_overlap_their_figure() {
    let reference = Reference::builtin().unwrap();
    for row in published().iter().filter(|row| row.became == Use::Agrees) {
        let crop = reference.crop(&row.crop).unwrap();
        let (low, _, high) = crop.figure(&row.figure).unwrap().spread();
        let values = row.values();
        // A row with one bound only means "at least" or "at most".
        let least = values.first().unwrap();
        let most = values.last().unwrap();
        assert!(*least <= high && *most >= low, "{}", row.place());
    }
}

/// A figure on another basis (sowing, autumn, single stems) never shares rows with the figure on the usual
/// basis.
#[test]
fn no_row_is_used_for_two_bases() {
    let sowing = [
        "days_sowing_to_first_bloom",
        "days_sowing_to_first_bloom_cool",
    ];
    for row in published() {
        if sowing.contains(&row.figure.as_str()) {
            assert!(
                matches!(row.became, Use::Own | Use::Apart),
                "{}",
                row.place()
            );
        }
        if row
            .conditions
            .contains("basis (sowing or transplant) not stated")
        {
            assert_eq!(row.became, Use::Apart, "{}", row.place());
        }
    }
}

#[test]
fn every_source_is_used() {
    let reference = Reference::builtin().unwrap();
    let mut used: BTreeSet<String> = published().into_iter().map(|row| row.source).collect();
    for crop in reference.crops() {
        for name in crop.figure_names() {
            used.extend(crop.figure(name).unwrap().src.iter().cloned());
        }
        for name in crop.text_names() {
            used.extend(crop.text(name).unwrap().src.iter().cloned());
        }
    }
    let listed: BTreeSet<String> = reference.sources().map(|(key, _)| key.to_owned()).collect();
    assert_eq!(listed, used);
}

/// The number of published figures by assessment.
const USES: [(Use, usize); 5] = [
    (Use::Agrees, 138),
    (Use::Moved, 33),
    (Use::Own, 97),
    (Use::Differs, 18),
    (Use::Apart, 66),
];

#[test]
fn uses_are_counted() {
    let mut counted: BTreeMap<Use, usize> = BTreeMap::new();
    for row in published() {
        *counted.entry(row.became).or_default() += 1;
    }
    assert_eq!(counted.into_iter().collect::<Vec<_>>(), USES);
}

/// The number of crop figures whose typical value rests on a source that was read, and of all figures. Before
/// the comparison with published figures it was 193 of 1,482.
const SOURCED_OF_ALL: (usize, usize) = (450, 1860);

#[test]
fn sourced_figures_are_counted() {
    let reference = Reference::builtin().unwrap();
    let file: Value = serde_json::from_str(include_str!("../data/crops.json")).unwrap();
    let (mut sourced, mut all) = (0, 0);
    for entry in file["crops"].as_array().unwrap() {
        let crop = reference.crop(entry["id"].as_str().unwrap()).unwrap();
        for (_, range) in own_figures(entry, crop) {
            all += 1;
            sourced += usize::from(range.confidence == Confidence::Sourced);
        }
    }
    assert_eq!((sourced, all), SOURCED_OF_ALL);
}
