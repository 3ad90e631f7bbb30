//! Counts as they were taken, and their order for the model.

use crate::error::{AgronomyError, within};

use super::DAYS_MAX;

/// One count of a sowing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Count {
    /// Days after sowing, with a fraction if the hour is known.
    pub day: f64,
    /// Seeds or cells seen up.
    pub up: u32,
    /// Seeds or cells inspected.
    pub of: u32,
}

/// A validated count whose share up is not below that of an earlier one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Inspection {
    pub(super) day: f64,
    pub(super) share: f64,
    pub(super) of: u32,
}

impl Inspection {
    /// The number of `covered` that corresponds to this share.
    pub(super) fn up_of(&self, covered: u32) -> u32 {
        ((self.share * f64::from(covered)).round() as u32).min(covered)
    }
}

/// The counts by day, each with at least the share of the one before. Of two on one day the higher share
/// counts.
pub(super) fn inspections(counts: &[Count]) -> Result<Vec<Inspection>, AgronomyError> {
    let mut inspections = Vec::with_capacity(counts.len());
    for count in counts {
        within("count.day", count.day, 0.0, DAYS_MAX)?;
        let of = within("count.of", f64::from(count.of), 1.0, f64::from(u32::MAX))?;
        let up = within("count.up", f64::from(count.up), 0.0, of)?;
        inspections.push(Inspection {
            day: count.day,
            share: up / of,
            of: count.of,
        });
    }
    inspections
        .sort_by(|a: &Inspection, b| a.day.total_cmp(&b.day).then(b.share.total_cmp(&a.share)));
    inspections.dedup_by(|later, kept| later.day.total_cmp(&kept.day).is_eq());
    let mut most = 0.0_f64;
    for inspection in &mut inspections {
        most = most.max(inspection.share);
        inspection.share = most;
    }
    Ok(inspections)
}
