//! What can be promised: stems by week, less what is promised already.
//!
//! Of the forecast only a share is offered ([`crate::promise::promise_share`]); stems in the cooler count whole, in this week.

mod list;

#[cfg(test)]
mod tests;

use std::collections::{BTreeMap, BTreeSet};

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;

pub use list::list;

use crate::almanac::Almanac;
use crate::fact::{Grade, Role};
use crate::forecast::{Outlook, Source, Sum, grade_shares};
use crate::ids::*;
use crate::promise::{promise_share, promises};
use crate::stock::stock_today;

/// What stems are told together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum By {
    /// By role and colour: as florists ask.
    #[default]
    RoleAndColour,
    /// By role.
    Role,
    /// By colour.
    Colour,
    /// By crop.
    Crop,
    /// By variety.
    Variety,
    /// By grade.
    Grade,
}

impl By {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Self; 6] = [
        Self::RoleAndColour,
        Self::Role,
        Self::Colour,
        Self::Crop,
        Self::Variety,
        Self::Grade,
    ];

    /// The key of its name.
    pub fn key(self) -> &'static str {
        match self {
            Self::RoleAndColour => "avail.by.role_colour",
            Self::Role => "avail.by.role",
            Self::Colour => "avail.by.colour",
            Self::Crop => "avail.by.crop",
            Self::Variety => "avail.by.variety",
            Self::Grade => "avail.by.grade",
        }
    }
}

/// What a line is about; what it does not tell apart is `None`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct What {
    /// The role.
    pub role: Option<Role>,
    /// The colour, as the grower writes it.
    pub colour: Option<String>,
    /// The crop's id.
    pub crop: Option<String>,
    /// The variety.
    pub variety: Option<VarietyId>,
    /// The grade; `Some(None)` where nobody can say.
    pub grade: Option<Option<Grade>>,
}

/// One week of a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Week {
    /// Which week.
    pub week: IsoWeek,
    /// Saleable stems to be cut.
    pub stems: Spread<f64>,
    /// Stems of these that open orders are likely to take.
    pub promised: f64,
    /// Stems in the cooler that nobody is promised; in this week only.
    pub in_stock: u32,
    /// Stems that can be promised now: the share of the forecast, less what is promised, and those in the cooler.
    pub free: u32,
    /// Sowings and plantings that give at least a tenth of the stems.
    pub sources: u32,
}

impl Week {
    /// Whether the stems to come hang on a single sowing or planting: one hailstorm, and there are none.
    pub fn is_thin(&self) -> bool {
        self.sources == 1 && self.stems.p50 >= 1.0
    }
}

/// Stems that are told together, week by week.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// What they are.
    pub what: What,
    /// From this week on, as many as were asked for.
    pub weeks: Vec<Week>,
}

impl Line {
    /// Whether anything can be promised in any of the weeks.
    pub fn has_any(&self) -> bool {
        self.weeks.iter().any(|week| week.free > 0)
    }
}

#[derive(Default)]
struct Total {
    stems: Sum,
    promised: f64,
    in_stock: u32,
    by_source: BTreeMap<Source, f64>,
}

/// Sources that give less than this share of a week's stems do not carry it.
const CARRIES: f64 = 0.1;

/// What can be promised in this week and the next ones, `weeks` in all.
pub fn availability(outlook: &Outlook<'_>, by: By, weeks: usize) -> Vec<Line> {
    let almanac = outlook.almanac();
    let (stock, promises) = (stock_today(outlook), promises(outlook));
    let first = IsoWeek::of(outlook.today());
    let mut sums = BTreeMap::<What, BTreeMap<IsoWeek, Total>>::new();
    for (source, course) in &outlook.supply().courses {
        for (what, share) in whats(almanac, &course.variety, by) {
            for (week, stems) in course.weeks.iter().filter(|(week, _)| *week >= first) {
                let sum = sums
                    .entry(what.clone())
                    .or_default()
                    .entry(*week)
                    .or_default();
                let middle = stems.p50 * share;
                sum.stems.add(stems.map(|n| n * share));
                sum.promised += middle * (1.0 - promises.free_share(&course.variety, *week));
                *sum.by_source.entry(source.clone()).or_default() += middle;
            }
        }
    }
    let varieties: BTreeSet<&VarietyId> = stock.batches.iter().map(|b| &b.variety).collect();
    for variety in varieties {
        let free = promises.free_in_stock(variety);
        for (what, share) in whats(almanac, variety, by) {
            let sum = sums.entry(what).or_default().entry(first).or_default();
            let stems = (f64::from(free) * share).floor() as u32;
            sum.in_stock = sum.in_stock.saturating_add(stems);
        }
    }
    let share = promise_share(almanac);
    sums.into_iter()
        .map(|(what, mut by_week)| Line {
            what,
            weeks: (0..weeks)
                .map(|n| {
                    let week = first.plus(n as i32);
                    by_week.remove(&week).unwrap_or_default().told(week, share)
                })
                .collect(),
        })
        .filter(|line| {
            let any = |week: &Week| week.in_stock > 0 || week.stems.p50 >= 0.5;
            line.weeks.iter().any(any)
        })
        .collect()
}

impl Total {
    fn told(self, week: IsoWeek, share: f64) -> Week {
        let middle = self.stems.middle();
        let coming = (middle * share - self.promised).floor().max(0.0) as u32;
        let carries = |stems: &&f64| **stems >= CARRIES * middle && **stems > 0.0;
        Week {
            week,
            stems: self.stems.spread(),
            promised: self.promised,
            in_stock: self.in_stock,
            free: coming.saturating_add(self.in_stock),
            sources: self.by_source.values().filter(carries).count() as u32,
        }
    }
}

/// The lines that a variety's stems belong to, with the share of them.
fn whats(almanac: &Almanac<'_>, variety: &VarietyId, by: By) -> Vec<(What, f64)> {
    let entity = almanac.variety(variety);
    let colour = || {
        let colour = entity.map_or("", |entity| entity.colour.trim());
        Some(colour.to_lowercase())
    };
    let role = || almanac.role(variety);
    let one = |what: What| vec![(what, 1.0)];
    match by {
        By::RoleAndColour => one(What {
            role: role(),
            colour: colour(),
            ..What::default()
        }),
        By::Role => one(What {
            role: role(),
            ..What::default()
        }),
        By::Colour => one(What {
            colour: colour(),
            ..What::default()
        }),
        By::Crop => one(What {
            crop: entity.map(|entity| entity.crop.clone()),
            ..What::default()
        }),
        By::Variety => one(What {
            variety: Some(variety.clone()),
            ..What::default()
        }),
        By::Grade => {
            let of = |grade| What {
                grade: Some(grade),
                ..What::default()
            };
            match grade_shares(almanac, variety) {
                Some(shares) => vec![
                    (of(Some(Grade::First)), shares.first),
                    (of(Some(Grade::Second)), shares.second),
                ],
                None => one(of(None)),
            }
        }
    }
}
