//! One crop: its names, classification, figures and notes.

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
    /// The id with this text, whether or not the reference has such a crop.
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
    /// The id in the reference.
    pub fn id(&self) -> &CropId {
        &self.id
    }

    /// Common name, such as `snapdragon`.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Further common names for searching.
    pub fn also(&self) -> &[String] {
        &self.also
    }

    /// Botanical name.
    pub fn botanical(&self) -> &str {
        &self.botanical
    }

    /// Botanical family.
    pub fn family(&self) -> &str {
        &self.family
    }

    /// Life cycle and way of growing, in words.
    pub fn lifecycle(&self) -> &str {
        &self.lifecycle
    }

    /// Cold tolerance.
    pub fn hardiness(&self) -> Hardiness {
        self.hardiness
    }

    /// Seed, corm, tuber or bulb.
    pub fn unit(&self) -> Unit {
        self.unit
    }

    /// The event from which its days to bloom are counted.
    pub fn basis(&self) -> Basis {
        self.basis
    }

    /// How reliably it blooms on time.
    pub fn pace(&self) -> Pace {
        self.pace
    }

    /// How well its seed stores.
    pub fn longevity(&self) -> Longevity {
        self.longevity
    }

    /// Roles of its stems in a bouquet, the main one first.
    pub fn roles(&self) -> &[Role] {
        &self.roles
    }

    /// Number of bloom groups it is bred in; 0 if groups are not used.
    pub fn bloom_groups(&self) -> u8 {
        self.bloom_groups
    }

    /// Whether its trays go on the heat mat.
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

    /// Its usual emergence, for [`agronomy::emergence`]. The germination is worth 20 seeds of evidence (from
    /// memory of practice); use a lower [`EmergenceFigures::weight_seeds`] for old seed.
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

    /// The constants of its seed in the viability equation of [`agronomy::seed_age`]: the figures
    /// `viability_ke`, `viability_cw`, `viability_ch` and `viability_cq`. `None` if they are not published or
    /// out of range of the equation.
    pub fn viability_constants(&self) -> Option<Constants> {
        Constants::new(
            self.typical("viability_ke")?,
            self.typical("viability_cw")?,
            self.typical("viability_ch")?,
            self.typical("viability_cq")?,
        )
        .ok()
    }

    /// The bloom group of a variety: `group`, if the crop is bred in groups and has that one.
    pub fn group_of(&self, group: Option<u8>) -> Option<u8> {
        group.filter(|group| (1..=self.bloom_groups).contains(group))
    }

    /// Its time to bloom, for [`agronomy::bloom`]. `group` only matters for a crop that is bred in groups.
    /// `None` for bulbs whose days are counted from spring shoots, which no planting date determines.
    pub fn bloom_figures(&self, group: Option<u8>) -> Option<BloomFigures> {
        if self.basis == Basis::SpringShoots {
            return None;
        }
        let line_factor = self
            .group_of(group)
            .and_then(|group| self.typical(&format!("group_{group}_factor")))
            .unwrap_or(1.0);
        // The grower's own factor for the line multiplies that of its group.
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

    /// Its response to day length: the figures `daylength_full_h`, `daylength_least_h` and
    /// `daylength_slowdown`. `None` for a day-neutral crop, if nothing is known, or if a grower's own figures
    /// are not a valid response.
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
