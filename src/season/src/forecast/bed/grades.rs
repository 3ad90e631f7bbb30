//! How the saleable stems of a variety fall into grades.

use agronomy::quantity::{Chance, Metres, Spread};
use agronomy::yields::by_grade;

use crate::almanac::Almanac;
use crate::fact::Grade;
use crate::ids::VarietyId;

/// The least length of a stem that florists take, cm (common practice: 45, market bouquets from 35).
const FLORIST_CM: f64 = 45.0;
/// Stems whose grade the crop's lengths stand for beside the grower's own graded cuts.
const PRIOR_STEMS: f64 = 20.0;
/// Share of first grade where no length of the crop is known.
const UNKNOWN_SHARE: f64 = 0.7;

/// Shares of the saleable stems by grade, summing to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GradeShares {
    /// First grade: long and straight enough for florists.
    pub first: f64,
    /// Second grade.
    pub second: f64,
    /// Own graded stems that they rest on; 0 where only the crop's lengths are known.
    pub rests_on: u32,
}

/// What share of a variety's saleable stems is first and second grade: by its own graded cuts, with the crop's stem lengths for a
/// weak beginning. `None` for a variety without a crop.
pub fn grade_shares(almanac: &Almanac<'_>, variety: &VarietyId) -> Option<GradeShares> {
    let crop = almanac.crop(variety)?;
    let metres = |cm: f64| Metres((cm / 100.0).max(0.0));
    let usual = crop
        .figure("stem_length_cm")
        .and_then(|length| {
            let (low, typical, high) = length.spread();
            let length = Spread {
                p10: metres(low),
                p50: metres(typical),
                p90: metres(high),
            };
            by_grade(length, &[metres(FLORIST_CM)])
                .ok()?
                .first()
                .copied()
        })
        .map_or(UNKNOWN_SHARE, Chance::get);
    let plantings = almanac.season().plantings.values();
    let cuts = plantings
        .filter(|planting| planting.variety == *variety)
        .flat_map(|planting| &planting.cuts);
    let (mut first, mut second) = (0u32, 0u32);
    for cut in cuts {
        match cut.grade {
            Some(Grade::First) => first = first.saturating_add(cut.stems),
            Some(Grade::Second) => second = second.saturating_add(cut.stems),
            None => {}
        }
    }
    let graded = first.saturating_add(second);
    let share = (f64::from(first) + PRIOR_STEMS * usual) / (f64::from(graded) + PRIOR_STEMS);
    Some(GradeShares {
        first: share,
        second: 1.0 - share,
        rests_on: graded,
    })
}
