//! Quantities typed in the reader's unit.

use core::ops::RangeInclusive;

use super::plain_number;
use crate::words::{Arg, Manner, Say};

/// A typed quantity with its unit, SI inside.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// Degrees C.
    Temperature,
    /// Metres.
    Length,
    /// Centimetres.
    Spacing,
    /// Plants or stems to a square metre.
    PerArea,
    /// Seeds to a gram.
    PerWeight,
    /// Degree-days C.
    DegreeDays,
}

impl Measure {
    /// A value as the number the reader would type.
    pub fn shown(self, si: f64, manner: Manner) -> f64 {
        match self {
            Self::Temperature => manner.temperature_value(si),
            Self::Length => manner.length_value(si),
            Self::Spacing => manner.spacing_value(si),
            Self::PerArea => manner.per_area_value(si),
            Self::PerWeight => manner.per_weight_value(si),
            Self::DegreeDays => manner.degree_days_value(si),
        }
    }

    /// The value of the number that the reader typed.
    pub fn of(self, typed: f64, manner: Manner) -> f64 {
        match self {
            Self::Temperature => manner.temperature_of(typed),
            Self::Length => manner.length_of(typed),
            Self::Spacing => manner.spacing_of(typed),
            Self::PerArea => manner.per_area_of(typed),
            Self::PerWeight => manner.per_weight_of(typed),
            Self::DegreeDays => manner.degree_days_of(typed),
        }
    }

    /// Decimals that say as much in the reader's unit as one does in ours.
    pub fn decimals(self, manner: Manner) -> usize {
        use crate::words::Units;
        match (self, manner.units) {
            (Self::PerArea, Units::Us) => 2,
            (Self::PerWeight, Units::Us) => 0,
            _ => 1,
        }
    }

    /// The key of the unit that the reader types in.
    pub fn unit_key(self, manner: Manner) -> &'static str {
        use crate::words::Units;
        match (self, manner.units) {
            (Self::Temperature, Units::Metric) => "unit.c",
            (Self::Temperature, Units::Us) => "unit.f",
            (Self::Length, Units::Metric) => "unit.m",
            (Self::Length, Units::Us) => "unit.ft",
            (Self::Spacing, Units::Metric) => "unit.cm",
            (Self::Spacing, Units::Us) => "unit.in",
            (Self::PerArea, Units::Metric) => "unit.per_m2",
            (Self::PerArea, Units::Us) => "unit.per_ft2",
            (Self::PerWeight, Units::Metric) => "unit.per_gram",
            (Self::PerWeight, Units::Us) => "unit.per_ounce",
            (Self::DegreeDays, Units::Metric) => "unit.degree_days_c",
            (Self::DegreeDays, Units::Us) => "unit.degree_days_f",
        }
    }

    /// The measure of a field or a figure by its name in files, whose ending is its unit.
    pub fn of_name(name: &str) -> Option<Self> {
        // Two names of figures go on behind the unit.
        let has = |unit: &str| name.ends_with(unit) || name.contains(&format!("{unit}_"));
        if has("_per_m2") {
            Some(Self::PerArea)
        } else if has("_per_gram") {
            Some(Self::PerWeight)
        } else if has("_cd") {
            Some(Self::DegreeDays)
        } else if has("_cm") {
            Some(Self::Spacing)
        } else if has("_c") {
            Some(Self::Temperature)
        } else if has("_m") {
            Some(Self::Length)
        } else {
            None
        }
    }

    /// A value with its unit.
    pub fn arg(self, si: f64) -> Arg {
        match self {
            Self::Temperature => Arg::Temperature(si),
            Self::Length => Arg::Length(si),
            Self::Spacing => Arg::Spacing(si),
            Self::PerArea => Arg::PerArea(si),
            Self::PerWeight => Arg::PerWeight(si),
            Self::DegreeDays => Arg::DegreeDays(si),
        }
    }
}

/// A quantity typed in the reader's unit; the bounds and the result are SI.
pub fn quantity(
    text: &str,
    measure: Measure,
    within: RangeInclusive<f64>,
    manner: Manner,
) -> Result<f64, Say> {
    if text.trim().is_empty() {
        return Err(Say::new("typed.no_number"));
    }
    let typed = plain_number(text).ok_or_else(|| Say::new("typed.not_number"))?;
    let value = measure.of(typed, manner);
    // A bound may not be met to the last digit after converting there and back.
    let slack = 1e-9 * (within.end() - within.start()).abs();
    if (*within.start() - slack..=*within.end() + slack).contains(&value) {
        Ok(value)
    } else {
        Err(Say::new("typed.out_of_range")
            .with("low", measure.arg(*within.start()))
            .with("high", measure.arg(*within.end())))
    }
}
