//! The thermal time of a crop, derived from its days.

use std::collections::BTreeMap;

use crate::figure::{Confidence, Range};
use crate::words::Basis;

pub(crate) const THERMAL: &str = "thermal_time_transplant_to_bloom_cd";
pub(crate) const WARM_DAYS: &str = "days_transplant_to_first_bloom_warm";
pub(crate) const BASE: &str = "base_temp_c";

/// The mean temperature at which warm days to bloom are defined.
const WARM_MEAN: f64 = 20.0;

/// Whether a thermal time from planting predicts bloom: not if the days are counted from spring shoots or
/// across a winter.
pub(crate) fn has_thermal_time(basis: Basis) -> bool {
    match basis {
        Basis::Transplant | Basis::DirectSowing | Basis::Piece => true,
        Basis::SpringShoots | Basis::AcrossWinter => false,
    }
}

/// Warm days times the degree-days of a day at 20 degrees.
pub(crate) fn thermal_time(figures: &BTreeMap<String, Range>) -> Option<Range> {
    let days = figures.get(WARM_DAYS)?.typical;
    let base = figures.get(BASE)?.typical;
    Some(Range {
        low: None,
        typical: days * (WARM_MEAN - base),
        high: None,
        src: vec!["derived".to_owned()],
        confidence: Confidence::Derived,
    })
}
