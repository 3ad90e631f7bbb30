//! What people want, target by target and order by order, in the order in which they are served.

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Chance;
use agronomy::yields::dependable;
use chrono::NaiveDate;

use super::{answers, in_order};
use crate::almanac::Almanac;
use crate::fact::Wanted;
use crate::forecast::{shifted, sown_variation};
use crate::ids::*;
use crate::promise::{days_of, lines_of};
use crate::state::CHANCE_USUAL;

/// Days for which a standing order is planned for.
const STANDING_DAYS: i64 = 52 * 7;

/// Who wants stems.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Asker {
    /// A target.
    Target(TargetId),
    /// A dated order.
    Order(OrderId),
}

/// Stems of one kind wanted by somebody.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Wish {
    pub asker: Asker,
    pub wanted: Wanted,
    /// Where they are to be grown, if that matters.
    pub space: Option<SpaceId>,
    /// First and last week.
    pub weeks: (IsoWeek, IsoWeek),
    /// Stems in each week.
    pub stems: u32,
    /// The chance wanted of having them.
    pub chance: f64,
}

impl Wish {
    /// The target that it is of.
    pub fn target(&self) -> Option<&TargetId> {
        match &self.asker {
            Asker::Target(id) => Some(id),
            Asker::Order(_) => None,
        }
    }

    /// The share of the stems expected that comes with the chance wanted.
    pub fn dependable(&self) -> f64 {
        let chance = Chance::new(self.chance.clamp(0.5, 0.99)).unwrap_or(Chance::EVEN);
        dependable(chance, sown_variation()).unwrap_or(1.0)
    }

    /// Stems to be expected in a week so that those wanted come with the chance wanted.
    pub fn needed(&self) -> f64 {
        f64::from(self.stems) / self.dependable()
    }

    /// Whether a variety grown in a space serves it.
    pub fn is_served_by(
        &self,
        almanac: &Almanac<'_>,
        variety: &VarietyId,
        space: Option<&SpaceId>,
    ) -> bool {
        let there = self.space.is_none() || self.space.as_ref() == space;
        there && answers(almanac, variety, &self.wanted)
    }
}

/// All that is wanted from a day's week on: targets, the narrow ones first, then orders by date.
pub(super) fn wishes(almanac: &Almanac<'_>, today: NaiveDate) -> Vec<Wish> {
    let this_week = IsoWeek::of(today);
    let targets = in_order(almanac).into_iter().filter_map(|target| {
        let (from, to) = (target.from?.max(this_week), target.to?);
        (from <= to && target.stems > 0).then(|| Wish {
            asker: Asker::Target(target.id.clone()),
            wanted: target.wanted.clone(),
            space: target.space.clone(),
            weeks: (from, to),
            stems: target.stems,
            chance: target.chance,
        })
    });
    let mut orders: Vec<_> = almanac
        .season()
        .orders
        .values()
        .flat_map(|order| {
            let to = if order.is_standing() {
                shifted(today, STANDING_DAYS)
            } else {
                NaiveDate::MAX
            };
            let days = days_of(order, today, to);
            days.into_iter().map(move |date| (date, order))
        })
        .collect();
    orders.sort_by(|a, b| (a.0, &a.1.id).cmp(&(b.0, &b.1.id)));
    let orders = orders.into_iter().flat_map(|(date, order)| {
        let week = IsoWeek::of(date);
        lines_of(almanac, order)
            .into_iter()
            .filter(|line| line.stems > 0)
            .map(move |line| Wish {
                asker: Asker::Order(order.id.clone()),
                wanted: line.wanted,
                space: None,
                weeks: (week, week),
                stems: line.stems,
                chance: CHANCE_USUAL,
            })
    });
    targets.chain(orders).collect()
}
