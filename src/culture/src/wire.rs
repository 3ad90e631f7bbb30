//! The reference as written in the file, before validation.

use std::collections::BTreeMap;

use agronomy::bloom::Pace;
use agronomy::seed_age::Longevity;
use serde::Deserialize;

use crate::words::{Basis, Hardiness, Role, Unit};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct File {
    /// Notes for readers of the file.
    #[serde(rename = "about")]
    _about: String,
    pub(crate) rules: BTreeMap<String, Rule>,
    pub(crate) every_crop: BTreeMap<String, Figure>,
    pub(crate) crops: Vec<Crop>,
}

/// Title and status by key.
pub(crate) type Sources = BTreeMap<String, (String, Status)>;

/// Low, typical, high, source keys separated by spaces, and the confidence if it differs from that of the
/// sources.
#[derive(Deserialize, Clone)]
pub(crate) struct Figure(
    pub(crate) Option<f64>,
    pub(crate) f64,
    pub(crate) Option<f64>,
    pub(crate) String,
    #[serde(default)] pub(crate) Option<Trust>,
);

/// Text, source keys separated by spaces, and the confidence if it differs from that of the sources.
#[derive(Deserialize, Clone)]
pub(crate) struct Note(
    pub(crate) String,
    pub(crate) String,
    #[serde(default)] pub(crate) Option<Trust>,
);

/// A note that many crops share, with its figures.
#[derive(Deserialize, Clone)]
pub(crate) struct Rule(
    pub(crate) String,
    pub(crate) String,
    pub(crate) Trust,
    pub(crate) BTreeMap<String, Figure>,
);

#[derive(Deserialize, Clone, Copy)]
pub(crate) enum Trust {
    #[serde(rename = "s")]
    Sourced,
    #[serde(rename = "m")]
    Memory,
    #[serde(rename = "p")]
    Practice,
    #[serde(rename = "d")]
    Derived,
}

#[derive(Deserialize, Clone, Copy)]
pub(crate) enum Status {
    #[serde(rename = "read")]
    Read,
    #[serde(rename = "part read")]
    PartRead,
    #[serde(rename = "memory")]
    Memory,
    #[serde(rename = "practice")]
    Practice,
    #[serde(rename = "derived")]
    Derived,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Crop {
    pub(crate) id: String,
    pub(crate) name: String,
    #[serde(default)]
    pub(crate) also: Vec<String>,
    pub(crate) botanical: String,
    pub(crate) family: String,
    pub(crate) lifecycle: String,
    pub(crate) hardiness: Hardiness,
    pub(crate) unit: Unit,
    pub(crate) basis: Basis,
    #[serde(with = "PaceWord")]
    pub(crate) pace: Pace,
    #[serde(with = "LongevityWord")]
    pub(crate) longevity: Longevity,
    pub(crate) roles: Vec<Role>,
    #[serde(default)]
    pub(crate) bloom_groups: u8,
    pub(crate) mat: String,
    pub(crate) dome: String,
    pub(crate) support: String,
    pub(crate) figures: BTreeMap<String, Figure>,
    pub(crate) texts: BTreeMap<String, Note>,
}

#[derive(Deserialize)]
#[serde(remote = "Pace", rename_all = "lowercase")]
enum PaceWord {
    Warm,
    Cool,
    Slow,
}

#[derive(Deserialize)]
#[serde(remote = "Longevity", rename_all = "lowercase")]
enum LongevityWord {
    Short,
    Middle,
    Long,
}
