//! One crop: its names, how it is sorted, its figures and notes.

use std::borrow::Borrow;
use std::collections::BTreeMap;
use std::fmt;

use agronomy::bloom::{BloomFigures, DayLengthResponse, Pace};
use agronomy::emergence::EmergenceFigures;
use agronomy::quantity::{Celsius, DegreeDays, Hours};
use agronomy::seed_age::{Constants, Longevity};

use crate::figure::{Range, Text};
use crate::words::{Basis, Hardiness, MatUse, Role, Unit};

/// A crop's short name in the reference, such as `antirrhinum`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct CropId(String);

impl CropId {
    /// An id of this text; whether such a crop exists is the reference's to say.
    pub fn new(id: impl Into<String>) -> Self {
        Self(id.into())
    }

    /// The id as text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl Borrow<str> for CropId {
    fn borrow(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for CropId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// A species or horticultural group with its culture figures.
#[derive(Debug, Clone, PartialEq)]
pub struct Crop {
    pub(crate) id: CropId,
    pub(crate) name: String,
    pub(crate) also: Vec<String>,
    pub(crate) botanical: String,
    pub(crate) family: String,
    pub(crate) lifecycle: String,
    pub(crate) hardiness: Hardiness,
    pub(crate) unit: Unit,
    pub(crate) basis: Basis,
    pub(crate) pace: Pace,
    pub(crate) longevity: Longevity,
    pub(crate) roles: Vec<Role>,
    pub(crate) bloom_groups: u8,
    pub(crate) mat_use: MatUse,
    pub(crate) figures: BTreeMap<String, Range>,
    pub(crate) texts: BTreeMap<String, Text>,
}

impl Crop {
    /// Its id in the reference.
    pub fn id(&self) -> &CropId {
        &self.id
    }

    /// Its common name, such as `snapdragon`.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Further common names to find it by.
    pub fn also(&self) -> &[String] {
        &self.also
    }

    /// Its botanical name.
    pub fn botanical(&self) -> &str {
        &self.botanical
    }

    /// Its botanical family.
    pub fn family(&self) -> &str {
        &self.family
    }

    /// How it lives and how it is grown, in words.
    pub fn lifecycle(&self) -> &str {
        &self.lifecycle
    }

    /// The cold it bears.
    pub fn hardiness(&self) -> Hardiness {
        self.hardiness
    }

    /// Seed, corm, tuber or bulb.
    pub fn unit(&self) -> Unit {
        self.unit
    }

    /// From when its days to bloom are counted.
    pub fn basis(&self) -> Basis {
        self.basis
    }

    /// How reliably it keeps its time.
    pub fn pace(&self) -> Pace {
        self.pace
    }

    /// How well its seed keeps.
    pub fn longevity(&self) -> Longevity {
        self.longevity
    }

    /// What its stems do in a bouquet, first use first.
    pub fn roles(&self) -> &[Role] {
        &self.roles
    }

    /// Number of bloom groups it is bred in; 0 where groups are not used.
    pub fn bloom_groups(&self) -> u8 {
        self.bloom_groups
    }

    /// Whether its trays belong on the heat mat.
    pub fn mat_use(&self) -> MatUse {
        self.mat_use
    }

    /// A figure by name, such as `spacing_cm`.
    pub fn figure(&self, name: &str) -> Option<&Range> {
        self.figures.get(name)
    }

    /// The typical value of a figure.
    pub fn typical(&self, name: &str) -> Option<f64> {
        self.figure(name).map(|range| range.typical)
    }

    /// The names of its figures, in alphabetical order.
    pub fn figure_names(&self) -> impl Iterator<Item = &str> {
        self.figures.keys().map(String::as_str)
    }

    /// A note by name, such as `harvest_stage`.
    pub fn text(&self, name: &str) -> Option<&Text> {
        self.texts.get(name)
    }

    /// The names of its notes, in alphabetical order.
    pub fn text_names(&self) -> impl Iterator<Item = &str> {
        self.texts.keys().map(String::as_str)
    }

    /// How it usually comes up, in the terms of [`agronomy::emergence`]. The
    /// usual germination weighs as much as 20 seeds (from memory of practice);
    /// lower [`EmergenceFigures::weight_seeds`] for old seed.
    pub fn emergence_usual(&self) -> Option<EmergenceFigures> {
        let (first_day, half_day, most_day) =
            self.figure("days_to_emergence_first_typ_most")?.spread();
        let (low, typical, high) = self.figure("germination_pct")?.spread();
        Some(EmergenceFigures {
            first_day,
            half_day,
            most_day,
            germination: typical / 100.0,
            germination_low: low / 100.0,
            germination_high: high / 100.0,
            weight_seeds: 20.0,
        })
    }

    /// Its seed's constants in the viability equation of [`agronomy::seed_age`]: the
    /// figures `viability_ke`, `viability_cw`, `viability_ch` and `viability_cq`.
    /// `None` where they are not published, or lie beyond what the equation takes.
    pub fn viability_constants(&self) -> Option<Constants> {
        Constants::new(
            self.typical("viability_ke")?,
            self.typical("viability_cw")?,
            self.typical("viability_ch")?,
            self.typical("viability_cq")?,
        )
        .ok()
    }

    /// The bloom group a variety of it belongs to: `group`, if the crop is bred in
    /// groups and has so many.
    pub fn group_of(&self, group: Option<u8>) -> Option<u8> {
        group.filter(|group| (1..=self.bloom_groups).contains(group))
    }

    /// What is known of its way to bloom, in the terms of [`agronomy::bloom`].
    /// `group` only counts for a crop that is bred in groups. `None` for bulbs
    /// whose days are counted from spring shoots, which no planting date gives.
    pub fn bloom_figures(&self, group: Option<u8>) -> Option<BloomFigures> {
        if self.basis == Basis::SpringShoots {
            return None;
        }
        let line_factor = self
            .group_of(group)
            .and_then(|group| self.typical(&format!("group_{group}_factor")))
            .unwrap_or(1.0);
        // What a grower's own years say of the line multiplies what its group says.
        let own = self.typical("own_bloom_factor").unwrap_or(1.0);
        Some(BloomFigures {
            base: Celsius(self.typical("base_temp_c")?),
            ceiling: self.typical("bloom_ceiling_c").map(Celsius),
            thermal_time: self
                .typical("thermal_time_transplant_to_bloom_cd")
                .map(DegreeDays),
            days_cool: self.figure("days_transplant_to_first_bloom_cool")?.spread(),
            days_warm: self.figure("days_transplant_to_first_bloom_warm")?.spread(),
            harvest_window_days: self.typical("harvest_window_days")?,
            line_factor: line_factor * own,
            day_length: self.day_length_response(),
            pace: self.pace,
        })
    }

    /// How day length hastens or holds its bloom: the figures `daylength_full_h`,
    /// `daylength_least_h` and `daylength_slowdown`. `None` where it does
    /// neither, nothing is known, or a grower's own figures make no response.
    pub fn day_length_response(&self) -> Option<DayLengthResponse> {
        let hours = |name| self.typical(name).map(Hours);
        DayLengthResponse::new(
            hours("daylength_full_h")?,
            hours("daylength_least_h")?,
            self.typical("daylength_slowdown"),
        )
        .ok()
    }
}
