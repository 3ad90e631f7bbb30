//! Weeks in which a role was missing: fewer stems cut than targets asked for.

use std::collections::BTreeMap;

use agronomy::iso_week::IsoWeek;

use super::Look;
use crate::fact::Role;
use crate::roles::role_of;

/// Stems missing in a week that are let pass: less than this share of what was wanted, as the plan has it.
const SHORT_LET_PASS: f64 = 0.05;

/// A week in which a role was missing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RoleRow {
    /// Which week.
    pub week: IsoWeek,
    /// Which role.
    pub role: Role,
    /// Stems that targets asked for.
    pub wanted: u32,
    /// Stems cut.
    pub cut: u32,
}

impl RoleRow {
    /// Stems missing.
    pub fn missing(&self) -> u32 {
        self.wanted.saturating_sub(self.cut)
    }
}

/// The rows, by week and role; only of weeks for which cuts are known.
pub(super) fn rows(look: &Look<'_, '_>) -> Vec<RoleRow> {
    let season = look.almanac.season();
    let mut sums = BTreeMap::<(IsoWeek, Role), (u32, u32)>::new();
    for target in season.targets.values().filter(|target| !target.retired) {
        let (Some(from), Some(to)) = (target.from, target.to) else {
            continue;
        };
        let Some(role) = role_of(look.almanac, &target.wanted) else {
            continue;
        };
        let from = from.max(IsoWeek::of(look.from));
        let to = to.min(IsoWeek::of(look.until));
        for week in (0..=from.weeks_until(to)).map(|n| from.plus(n)) {
            if look.knows(week) {
                let sum = sums.entry((week, role)).or_default();
                sum.0 = sum.0.saturating_add(target.stems);
            }
        }
    }
    for planting in look.plantings() {
        let Some(role) = look.almanac.role(&planting.variety) else {
            continue;
        };
        for cut in look.cuts(planting) {
            if let Some(sum) = sums.get_mut(&(IsoWeek::of(cut.date), role)) {
                sum.1 = sum.1.saturating_add(cut.stems);
            }
        }
    }
    sums.into_iter()
        .map(|((week, role), (wanted, cut))| RoleRow {
            week,
            role,
            wanted,
            cut,
        })
        .filter(|row| f64::from(row.missing()) > SHORT_LET_PASS * f64::from(row.wanted))
        .collect()
}
