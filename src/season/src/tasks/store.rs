//! Tasks of the cooler and of orders.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::{Subject, Task, TaskKind};
use crate::almanac::Almanac;
use crate::fact::SpaceKind;
use crate::forecast::{Window, shifted};
use crate::ids::*;
use crate::promise::lines_of;
use crate::stock::stock;
use crate::words::Say;

/// Days before its date that an order is made up.
const ORDER_AHEAD_DAYS: i64 = 1;

fn cooler(almanac: &Almanac<'_>) -> Option<SpaceId> {
    almanac
        .season()
        .spaces_in_order()
        .iter()
        .find(|s| s.what == SpaceKind::Cooler)
        .map(|s| s.id.clone())
}

/// Stems that have little keeping left.
pub(super) fn of_stock(almanac: &Almanac<'_>, today: NaiveDate, tasks: &mut Vec<Task>) {
    let mut old = BTreeMap::<VarietyId, (u32, NaiveDate, i64)>::new();
    for batch in stock(almanac, today).batches {
        let Some(keeps) = batch
            .keeps_days
            .filter(|_| batch.days_left().is_some_and(|left| left <= 1))
        else {
            continue;
        };
        let slot = old.entry(batch.variety).or_insert((0, batch.cut, keeps));
        slot.0 = slot.0.saturating_add(batch.stems);
        slot.1 = slot.1.min(batch.cut);
    }
    for (variety, (stems, cut, keeps)) in old {
        let last = shifted(cut, keeps);
        tasks.push(Task {
            kind: TaskKind::UseUp,
            subject: Subject::Variety(variety.clone()),
            variety: Some(variety),
            space: cooler(almanac),
            bed: None,
            window: Window {
                earliest: shifted(last, -1),
                best: shifted(last, -1),
                latest: last,
            },
            why: Say::new("task.use_up.why")
                .with("n", stems)
                .with("date", cut)
                .with("keeps", keeps),
            reasons: Vec::new(),
            number: Some(stems),
            caution: None,
        });
    }
}

/// Orders that come due.
pub(super) fn of_orders(almanac: &Almanac<'_>, today: NaiveDate, tasks: &mut Vec<Task>) {
    for order in almanac.season().orders.values() {
        let Some(date) = order.date.filter(|_| !order.done && !order.retired) else {
            continue;
        };
        if (date - today).num_days() > 60 {
            continue;
        }
        let stems = lines_of(almanac, order)
            .iter()
            .fold(0u32, |sum, line| sum.saturating_add(line.stems));
        tasks.push(Task {
            kind: TaskKind::FillOrder,
            subject: Subject::Order(order.id.clone()),
            variety: None,
            space: cooler(almanac),
            bed: None,
            window: Window {
                earliest: shifted(date, -3),
                best: shifted(date, -ORDER_AHEAD_DAYS),
                latest: date,
            },
            why: Say::new("task.fill_order.why")
                .with("who", order.who.clone())
                .with("date", date)
                .with("n", stems),
            reasons: Vec::new(),
            number: Some(stems),
            caution: None,
        });
    }
}
