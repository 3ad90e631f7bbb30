//! When a new sowing would bloom: the last useful day, and what waiting costs.

use agronomy::bloom::StageKnown;
use chrono::NaiveDate;
use culture::Crop;

use crate::almanac::Almanac;
use crate::forecast::{bloom_if_planted, planting_window, shifted};
use crate::state::{PlannedSowing, Sowing, Space, Target};

/// Without a target a second sowing still goes with the first for so long. Common practice: three to four weeks.
const WITHOUT_TARGET_DAYS: i64 = 28;
/// A planting is worth while if it can be cut for two weeks of the target. Common practice.
const USEFUL_DAYS: i64 = 14;
/// Days ahead that are looked at.
const AHEAD_DAYS: i64 = 400;

/// Weeks of a target that the stems of a new sowing come too late for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cost {
    /// Weeks wanted.
    pub weeks: u32,
    /// Weeks missed if sown today.
    pub today: u32,
    /// Weeks missed if sown a week later.
    pub in_a_week: u32,
}

/// A new sowing that makes up for a first one.
pub(super) struct Blooms<'a> {
    pub(super) almanac: &'a Almanac<'a>,
    pub(super) crop: &'a Crop,
    /// What it makes up for.
    pub(super) first: &'a Sowing,
    /// Where it is to be planted.
    pub(super) space: Option<&'a Space>,
}

impl Blooms<'_> {
    fn planned(&self) -> Option<&PlannedSowing> {
        let planned = &self.almanac.season().planned;
        planned.get(self.first.planned.as_ref()?)
    }

    fn target(&self) -> Option<&Target> {
        let targets = &self.almanac.season().targets;
        targets.get(self.planned()?.target.as_ref()?)
    }

    /// First bloom, in the middle, if sown on a day.
    fn of(&self, sow: NaiveDate) -> Option<NaiveDate> {
        let variety = self.almanac.variety(&self.first.variety);
        let group = variety.and_then(|v| v.group);
        let (window, _) = planting_window(self.almanac, self.crop, self.space, sow, 0)?;
        let stage = StageKnown::Sown;
        bloom_if_planted(
            self.almanac,
            self.crop,
            group,
            self.space,
            window.best,
            stage,
        )
        .map(|bloom| bloom.p50)
    }

    /// The last sowing day from which stems still come in the target's last weeks; without a target, while it still goes with the
    /// first. The day before `today` where it has passed.
    pub(super) fn latest_useful(&self, today: NaiveDate) -> NaiveDate {
        let Some(end) = self.target().and_then(|t| t.to).map(|week| week.sunday()) else {
            let planned = self.planned().and_then(|planned| planned.sow);
            return shifted(planned.unwrap_or(self.first.date), WITHOUT_TARGET_DAYS);
        };
        let useful = shifted(end, -USEFUL_DAYS);
        (0..AHEAD_DAYS)
            .map(|ahead| shifted(today, ahead))
            .take_while(|sow| self.of(*sow).is_some_and(|bloom| bloom <= useful))
            .last()
            .unwrap_or(shifted(today, -1))
    }

    /// What sowing again costs the target.
    pub(super) fn cost(&self, today: NaiveDate) -> Option<Cost> {
        let target = self.target()?;
        let (from, after) = (target.from?.monday(), shifted(target.to?.sunday(), 1));
        let weeks_before = |date: NaiveDate| {
            let days = (date.min(after) - from).num_days().max(0);
            u32::try_from(days / 7).unwrap_or(0)
        };
        Some(Cost {
            weeks: weeks_before(after),
            today: weeks_before(self.of(today)?),
            in_a_week: weeks_before(self.of(shifted(today, 7))?),
        })
    }
}
