//! Counts as they were taken, brought into an order that can be read.

use crate::error::{AgronomyError, within};

use super::DAYS_MAX;

/// One look at a sowing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Count {
    /// Days after sowing, with a fraction if the hour is known.
    pub day: f64,
    /// Seeds or cells seen up.
    pub up: u32,
    /// Seeds or cells looked at.
    pub of: u32,
}

/// A checked count whose share up never falls below that of an earlier one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Looked {
    pub(super) day: f64,
    pub(super) share: f64,
    pub(super) of: u32,
}

impl Looked {
    /// How many of `covered` this look's share stands for.
    pub(super) fn up_of(&self, covered: u32) -> u32 {
        ((self.share * f64::from(covered)).round() as u32).min(covered)
    }
}

/// The counts by day, each holding at least the share of the one before. Of two
/// on one day the higher share stands.
pub(super) fn looks(counts: &[Count]) -> Result<Vec<Looked>, AgronomyError> {
    let mut looks = Vec::with_capacity(counts.len());
    for count in counts {
        within("count.day", count.day, 0.0, DAYS_MAX)?;
        let of = within("count.of", f64::from(count.of), 1.0, f64::from(u32::MAX))?;
        let up = within("count.up", f64::from(count.up), 0.0, of)?;
        looks.push(Looked {
            day: count.day,
            share: up / of,
            of: count.of,
        });
    }
    looks.sort_by(|a: &Looked, b| a.day.total_cmp(&b.day).then(b.share.total_cmp(&a.share)));
    looks.dedup_by(|later, kept| later.day.total_cmp(&kept.day).is_eq());
    let mut most = 0.0_f64;
    for look in &mut looks {
        most = most.max(look.share);
        look.share = most;
    }
    Ok(looks)
}
