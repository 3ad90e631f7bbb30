//! Days of keeping that stems in the cooler have used up, and what is left of them.
//!
//! A crop's keeping is told for its own store temperature. A day in a cooler that is warmer, or hours that stems stood warm, use
//! up as many of these days as the stems respire more ([`agronomy::keeping`]). Crops that cold injures (figure
//! `chill_injury_below_c`) follow another rule: cold below that temperature is harm and not keeping, their keeping counts in
//! plain days, and only warmth above 10 C counts for more.

use agronomy::AgronomyError;
use agronomy::keeping::{chilling_sensitive_days_used, storage_days_used};
use agronomy::quantity::{Celsius, Hours};
use chrono::{Days, NaiveDate};

use crate::almanac::Almanac;
use crate::fact::SpaceKind;
use crate::ids::*;
use crate::state::Measured;

/// Temperature of a cooler where the crop has no store temperature of its own, C. Common practice: 2 to 4.
const STORE_USUAL_C: f64 = 3.0;
/// Stems with less than so many days left, or less than a third of their keeping, are to be used first (common practice).
const FIRST_DAYS: f64 = 2.0;
const FIRST_SHARE: f64 = 1.0 / 3.0;
/// With less than a day left, it is the last.
const LAST_DAYS: f64 = 1.0;
/// Days after the cut beyond which nobody counts any more: nothing keeps for a year.
const DAYS_MAX: i64 = 366;
/// Hours of a day.
const DAY_HOURS: f64 = 24.0;

/// Hours that stems stood outside the cooler.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Warm {
    /// When.
    pub date: NaiveDate,
    /// How long, h.
    pub hours: f64,
    /// How warm, C. What is colder than the cooler counts as the cooler.
    pub temp_c: f64,
}

/// How far stems are on their way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    /// Time left, or a crop whose keeping is not known.
    Fresh,
    /// To be used before others.
    UseFirst,
    /// Less than a day left.
    LastDay,
    /// Kept longer than the crop keeps.
    Past,
}

/// Cold that harmed a crop which cold injures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChillHarm {
    /// Below this it is injured, C.
    pub below_c: f64,
    /// Coldest noted since the cut, C.
    pub noted_c: f64,
}

/// The keeping of stems of one variety that were cut on one day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Keeping {
    /// Days since the cut; 0 for a cut to come.
    pub age_days: i64,
    /// Days of keeping used up, at the crop's store temperature.
    pub cold_days: f64,
    /// Days that the crop keeps at its store temperature, as far as known.
    pub keeps_days: Option<f64>,
    /// Days of keeping left; below 0 when past.
    pub left: Option<f64>,
    /// What to do with them.
    pub state: State,
    /// Cold that harmed them.
    pub chill: Option<ChillHarm>,
    /// Whether cold injures the crop.
    pub tender: bool,
}

/// The keeping, as of a day, of a variety's stems cut on `cut` that stood warm for some hours; spells before the cut and after
/// the day, and those that make no sense, are passed over.
///
/// Each day since the cut counts 24 h, less the hours of its spells, at the temperature noted for a cooler on that day (middle of
/// its lowest and highest; of several coolers the one nearest to the crop's store temperature), else at the crop's store
/// temperature. The last day, which is still going on, counts its spells only.
pub fn used(
    almanac: &Almanac<'_>,
    variety: &VarietyId,
    cut: NaiveDate,
    today: NaiveDate,
    warm: &[Warm],
) -> Keeping {
    let rule = Rule::of(almanac, variety);
    rule.keeping(cut, today, warm, |date| {
        rule.cooler_on(almanac.season().temperatures.get(&date)?, |space| {
            almanac
                .space(space)
                .is_some_and(|space| space.what == SpaceKind::Cooler)
        })
    })
}

/// How a crop keeps.
#[derive(Debug, Clone, Copy)]
struct Rule {
    store_c: f64,
    keeps_days: Option<f64>,
    injured_below_c: Option<f64>,
}

/// A cooler's day: its middle and its lowest, C.
type CoolerDay = (f64, f64);

impl Rule {
    fn of(almanac: &Almanac<'_>, variety: &VarietyId) -> Self {
        let figure = |name| almanac.crop(variety).and_then(|crop| crop.typical(name));
        Self {
            store_c: figure("cold_storage_c").unwrap_or(STORE_USUAL_C),
            keeps_days: figure("cold_storage_max_days"),
            injured_below_c: figure("chill_injury_below_c"),
        }
    }

    fn cooler_on(
        &self,
        measured: &[Measured],
        is_cooler: impl Fn(&SpaceId) -> bool,
    ) -> Option<CoolerDay> {
        let off = |day: &CoolerDay| (day.0 - self.store_c).abs();
        measured
            .iter()
            .filter(|day| day.space.as_ref().is_some_and(&is_cooler))
            .map(|day| (f64::midpoint(day.min_c, day.max_c), day.min_c))
            .filter(|day| self.days(DAY_HOURS, day.0).is_ok())
            .min_by(|a, b| off(a).total_cmp(&off(b)))
    }

    /// Days of keeping that hours at a temperature use up.
    fn days(&self, hours: f64, at_c: f64) -> Result<f64, AgronomyError> {
        let rule = match self.injured_below_c {
            Some(_) => chilling_sensitive_days_used,
            None => storage_days_used,
        };
        rule(Hours(hours), Celsius(at_c), Celsius(self.store_c))
    }

    fn keeping(
        &self,
        cut: NaiveDate,
        today: NaiveDate,
        warm: &[Warm],
        cooler: impl Fn(NaiveDate) -> Option<CoolerDay>,
    ) -> Keeping {
        let age_days = (today - cut).num_days().max(0);
        let mut used = 0.0;
        let mut coldest = f64::INFINITY;
        let mut date = cut;
        for _ in 0..=age_days.min(DAYS_MAX) {
            let noted = cooler(date);
            let at_c = noted.map_or(self.store_c, |(middle, _)| middle);
            coldest = coldest.min(noted.map_or(f64::INFINITY, |(_, lowest)| lowest));
            let mut in_cooler = DAY_HOURS;
            for spell in warm
                .iter()
                .filter(|spell| spell.date == date && date <= today)
            {
                if let Ok(days) = self.days(spell.hours, spell.temp_c.max(at_c)) {
                    used += days;
                    in_cooler = (in_cooler - spell.hours).max(0.0);
                    coldest = coldest.min(spell.temp_c);
                }
            }
            if date < today {
                used += self.days(in_cooler, at_c).unwrap_or(in_cooler / DAY_HOURS);
            }
            let Some(next) = date.checked_add_days(Days::new(1)) else {
                break;
            };
            date = next;
        }
        let left = self.keeps_days.map(|keeps| keeps - used);
        Keeping {
            age_days,
            cold_days: used,
            keeps_days: self.keeps_days,
            left,
            state: state(left, self.keeps_days),
            chill: self
                .injured_below_c
                .filter(|below| coldest < *below)
                .map(|below_c| ChillHarm {
                    below_c,
                    noted_c: coldest,
                }),
            tender: self.injured_below_c.is_some(),
        }
    }
}

fn state(left: Option<f64>, keeps: Option<f64>) -> State {
    let (Some(left), Some(keeps)) = (left, keeps) else {
        return State::Fresh;
    };
    if left < 0.0 {
        State::Past
    } else if left < LAST_DAYS {
        State::LastDay
    } else if left < FIRST_DAYS.max(keeps * FIRST_SHARE) {
        State::UseFirst
    } else {
        State::Fresh
    }
}

#[cfg(test)]
mod tests;
