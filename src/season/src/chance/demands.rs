//! What is wanted, in numbers for playing.

use std::collections::BTreeMap;

use agronomy::iso_week::IsoWeek;
use chrono::NaiveDate;
use planner::chance::{Demand, Draw, Part};

use super::{WEEKS_MAX, Wish};
use crate::almanac::Almanac;
use crate::fact::Wanted;
use crate::forecast::Outlook;
use crate::ids::*;
use crate::plan::{answers, in_order};
use crate::promise::{OrderCover, cut_from, promises, share_between};
use crate::state::Target;

/// Every demand from this week on, in the order of serving.
#[derive(Default)]
pub(super) struct Demands {
    pub demands: Vec<Demand>,
    pub wishes: Vec<Wish>,
    /// Weeks up to the last that any of them is about.
    pub weeks: usize,
}

type Classes = BTreeMap<VarietyId, usize>;

/// Orders by date, then targets as the plan serves them.
pub(super) fn of(outlook: &Outlook<'_>, classes: &Classes) -> Demands {
    let (almanac, today) = (outlook.almanac(), outlook.today());
    let mut found = Demands::default();
    // A delivery of a standing order that was let pass has nothing to come any more.
    let to_come = |order: &OrderCover| order.due.is_none() || order.date >= today;
    for order in promises(outlook)
        .orders
        .iter()
        .filter(|order| to_come(order))
    {
        found.order(almanac, classes, order, today);
    }
    for target in in_order(almanac) {
        found.target(almanac, classes, target, today);
    }
    found
}

impl Demands {
    fn order(
        &mut self,
        almanac: &Almanac<'_>,
        classes: &Classes,
        order: &OrderCover,
        today: NaiveDate,
    ) {
        let first = IsoWeek::of(today);
        let parts = order.lines.iter().map(|line| {
            let mut from = Vec::new();
            for (variety, class) in answering(almanac, classes, &line.wanted) {
                let cut = cut_from(almanac, variety, order.date).max(today);
                let weeks = first.weeks_until(IsoWeek::of(order.date));
                from.extend(weeks_of(weeks).filter_map(|n| {
                    let share = share_between(first.plus(n as i32), today, cut, order.date);
                    (share > 0.0).then_some(Draw {
                        class,
                        week: n,
                        share,
                    })
                }));
            }
            Part {
                stems: f64::from(line.missing()),
                from,
            }
        });
        let demand = Demand {
            parts: parts.collect(),
        };
        let lines = order
            .lines
            .iter()
            .map(|line| (line.wanted.clone(), line.missing()));
        self.add(demand, Wish::Order(order.order.clone(), lines.collect()));
    }

    fn target(
        &mut self,
        almanac: &Almanac<'_>,
        classes: &Classes,
        target: &Target,
        today: NaiveDate,
    ) {
        let first = IsoWeek::of(today);
        let (Some(from), Some(to)) = (target.from, target.to) else {
            return;
        };
        let begin = first.weeks_until(from).max(0) as usize;
        let weeks: Vec<usize> = weeks_of(first.weeks_until(to)).skip(begin).collect();
        if weeks.is_empty() {
            return;
        }
        let varieties: Vec<usize> = answering(almanac, classes, &target.wanted)
            .map(|(_, class)| class)
            .collect();
        let part = |week: &usize| Part {
            stems: f64::from(target.stems),
            from: varieties
                .iter()
                .map(|class| Draw {
                    class: *class,
                    week: *week,
                    share: 1.0,
                })
                .collect(),
        };
        let demand = Demand {
            parts: weeks.iter().map(part).collect(),
        };
        let weeks = weeks.iter().map(|n| first.plus(*n as i32)).collect();
        self.add(demand, Wish::Target(target.id.clone(), weeks, target.stems));
    }

    fn add(&mut self, demand: Demand, wish: Wish) {
        let draws = demand.parts.iter().flat_map(|part| &part.from);
        self.weeks = draws.map(|draw| draw.week + 1).fold(self.weeks, usize::max);
        self.demands.push(demand);
        self.wishes.push(wish);
    }
}

/// Weeks from this one to the one so many weeks on; none where that is past.
fn weeks_of(last: i32) -> std::ops::Range<usize> {
    0..usize::try_from(last + 1).unwrap_or(0).min(WEEKS_MAX)
}

/// The varieties that grow and answer to what is wanted, in the order of walking.
fn answering<'a>(
    almanac: &'a Almanac<'a>,
    classes: &'a Classes,
    wanted: &'a Wanted,
) -> impl Iterator<Item = (&'a VarietyId, usize)> {
    classes
        .iter()
        .filter(move |(variety, _)| answers(almanac, variety, wanted))
        .map(|(variety, class)| (variety, *class))
}
