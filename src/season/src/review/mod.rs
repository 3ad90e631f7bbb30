//! A season looked back on: what was forecast beside what came, by planting, week, lot, loss and role; and what that suggests for
//! the next one.
//!
//! The forecast of a planting is the one of its planting day: its later records are left out, and so are all temperatures noted,
//! which nobody knew then. The figures are those of today, since the log does not tell when a figure was set.

mod beds;
mod losses;
mod lots;
mod notes;
mod roles;
mod suggest;
mod varieties;
mod weeks;

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;
use chrono::NaiveDate;

use crate::almanac::Almanac;
use crate::ids::*;
use crate::state::{CutRecord, Planting};

pub use beds::PlantingRow;
pub use losses::LossRow;
pub use lots::LotRow;
pub use notes::{About, Note};
pub use roles::RoleRow;
pub use suggest::{RestsOn, Suggestion, learned_value, suggest};
pub use varieties::VarietyRow;
pub use weeks::WeekRow;

/// How many outcomes lay within the 80 in 100 of their forecast.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Held {
    /// So many did.
    pub held: u32,
    /// Of so many.
    pub of: u32,
}

impl Held {
    fn of(outcomes: impl Iterator<Item = bool>) -> Self {
        outcomes.fold(Self::default(), |sum, held| Self {
            held: sum.held + u32::from(held),
            of: sum.of + 1,
        })
    }

    /// The share that did; `None` of nothing.
    pub fn share(self) -> Option<f64> {
        (self.of > 0).then(|| f64::from(self.held) / f64::from(self.of))
    }
}

/// How well this season's forecasts told what they did not know.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Calibration {
    /// First blooms.
    pub blooms: Held,
    /// Stems of plantings that are over.
    pub stems: Held,
    /// Stems of whole weeks.
    pub weeks: Held,
}

/// A season looked back on.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Review {
    /// By planting, in the order in which they were planted.
    pub plantings: Vec<PlantingRow>,
    /// By variety, what paid most first.
    pub varieties: Vec<VarietyRow>,
    /// By week.
    pub weeks: Vec<WeekRow>,
    /// Germination by lot, in the order of varieties' names.
    pub lots: Vec<LotRow>,
    /// Losses by cause, the largest first.
    pub losses: Vec<LossRow>,
    /// Weeks in which fewer stems of a role were cut than targets asked for.
    pub roles: Vec<RoleRow>,
    /// How many outcomes lay within their band.
    pub calibration: Calibration,
    /// What stands out, in words.
    pub notes: Vec<Note>,
}

/// Looks back on all that was recorded from a day to another, as far as it is past by `today`. `price`: money for a saleable stem
/// of a variety, where the grower knows it.
pub fn review(
    almanac: &Almanac<'_>,
    from: NaiveDate,
    to: NaiveDate,
    today: NaiveDate,
    price: &dyn Fn(&VarietyId) -> Option<f64>,
) -> Review {
    let look = Look::new(almanac, from, to, today);
    let (plantings, courses) = beds::rows(&look, price);
    let weeks = weeks::rows(&look, courses);
    let varieties = varieties::rows(&look, &plantings);
    let calibration = Calibration {
        blooms: Held::of(plantings.iter().filter_map(PlantingRow::bloom_held)),
        stems: Held::of(plantings.iter().filter_map(PlantingRow::stems_held)),
        weeks: Held::of(weeks.iter().filter_map(WeekRow::held)),
    };
    Review {
        notes: notes::notes(&look, &plantings, &varieties),
        lots: lots::rows(&look),
        losses: losses::rows(&look),
        roles: roles::rows(&look),
        plantings,
        varieties,
        weeks,
        calibration,
    }
}

/// The span that is looked back on.
struct Look<'a, 'b> {
    almanac: &'b Almanac<'a>,
    from: NaiveDate,
    /// Its last day that is past.
    until: NaiveDate,
    /// The last day of it on which a cut or a clearing was noted: of what came after, nobody knows.
    noted: NaiveDate,
}

impl<'a, 'b> Look<'a, 'b> {
    fn new(almanac: &'b Almanac<'a>, from: NaiveDate, to: NaiveDate, today: NaiveDate) -> Self {
        let until = to.min(today);
        let plantings = almanac.season().plantings.values();
        let noted = plantings
            .flat_map(|planting| {
                let cuts = planting.cuts.iter().map(|cut| cut.date);
                cuts.chain(planting.finished)
            })
            .filter(|date| (from..=until).contains(date))
            .max();
        Self {
            almanac,
            from,
            until,
            noted: noted.unwrap_or(from),
        }
    }

    fn holds(&self, date: NaiveDate) -> bool {
        (self.from..=self.until).contains(&date)
    }

    /// Whether a whole week lies in the span and is past, and cuts were noted to its days or later.
    fn knows(&self, week: IsoWeek) -> bool {
        let past = week.monday() >= self.from && week.sunday() <= self.until;
        past && week <= IsoWeek::of(self.noted)
    }

    /// Plantings that were planted, cut or cleared in the span, in the order in which they were planted.
    fn plantings(&self) -> Vec<&'a Planting> {
        let season = self.almanac.season();
        let mut plantings: Vec<&Planting> = season
            .plantings
            .values()
            .filter(|planting| planting.date <= self.until)
            .filter(|planting| {
                self.holds(planting.date)
                    || planting.finished.is_some_and(|date| self.holds(date))
                    || self.cuts(planting).next().is_some()
            })
            .collect();
        plantings.sort_by_key(|planting| (planting.date, planting.id.clone()));
        plantings
    }

    fn cuts<'p>(&self, planting: &'p Planting) -> impl Iterator<Item = &'p CutRecord> + use<'p> {
        let (from, until) = (self.from, self.until);
        planting
            .cuts
            .iter()
            .filter(move |cut| (from..=until).contains(&cut.date))
    }
}

/// A planting as it was on its first day, but for what its later life keeps.
fn as_planted(planting: &Planting, keep: impl FnOnce(&mut Planting)) -> Planting {
    let mut young = Planting {
        lost: 0,
        pinched: None,
        netted: None,
        visible_bud: None,
        first_colour: None,
        cuts: Vec::new(),
        finished: None,
        ..planting.clone()
    };
    keep(&mut young);
    young
}

/// Whether a count lies within a band, which is told in whole stems.
fn within(band: Spread<f64>, count: u32) -> bool {
    (band.p10.floor()..=band.p90.ceil()).contains(&f64::from(count))
}

#[cfg(test)]
mod tests;
