//! The warmth a crop needs to bloom, reckoned from its days.

use std::collections::BTreeMap;

use crate::figure::{Confidence, Range};
use crate::words::Basis;

pub(crate) const THERMAL: &str = "thermal_time_transplant_to_bloom_cd";
pub(crate) const WARM_DAYS: &str = "days_transplant_to_first_bloom_warm";
pub(crate) const BASE: &str = "base_temp_c";

/// The mean temperature that warm days to bloom are read for.
const WARM_MEAN: f64 = 20.0;

/// Whether warmth summed from the planting date says when a crop blooms: not
/// where its days are counted from spring shoots or across a winter.
pub(crate) fn counts_warmth(basis: Basis) -> bool {
    match basis {
        Basis::Transplant | Basis::DirectSowing | Basis::Piece => true,
        Basis::SpringShoots | Basis::AcrossWinter => false,
    }
}

/// Warm days times the warmth a day at 20 degrees gives above the base.
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
