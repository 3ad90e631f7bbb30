//! Tasks of the cooler and of orders.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::{Subject, Task, TaskKind};
use crate::almanac::Almanac;
use crate::fact::SpaceKind;
use crate::forecast::{Outlook, Window, shifted};
use crate::ids::*;
use crate::keeping::State;
use crate::promise::{OrderCover, promises};
use crate::stock::{Batch, Stock, stock_today};
use crate::words::{Arg, Say};

/// Days before its date that an order is made up, looked at, and told of at all.
const ORDER_AHEAD_DAYS: i64 = 1;
const ORDER_EARLIEST_DAYS: i64 = 3;
const ORDER_TOLD_DAYS: i64 = 60;
/// Days before the last one for buying in on which a shortage becomes a task of its own.
const BUY_IN_TOLD_DAYS: i64 = 14;

/// Tasks of stems that were cut, and of what is promised of them and of the forecast.
pub(super) fn of_store(outlook: &Outlook<'_>, tasks: &mut Vec<Task>) {
    let (almanac, today) = (outlook.almanac(), outlook.today());
    let stock = stock_today(outlook);
    let cooler = cooler(almanac);
    conditioning(almanac, &stock, cooler.as_ref(), today, tasks);
    use_up(&stock, cooler.as_ref(), today, tasks);
    for cover in &promises(outlook).orders {
        if (cover.date - today).num_days() <= ORDER_TOLD_DAYS {
            tasks.extend(fill(almanac, cover, cooler.as_ref()));
        }
        tasks.extend(buy_in(almanac, cover, today));
    }
}

fn cooler(almanac: &Almanac<'_>) -> Option<SpaceId> {
    almanac
        .season()
        .spaces_in_order()
        .iter()
        .find(|s| s.what == SpaceKind::Cooler)
        .map(|s| s.id.clone())
}

fn of_variety(kind: TaskKind, variety: VarietyId, cooler: Option<&SpaceId>, why: Say) -> Task {
    let day = NaiveDate::MIN;
    Task {
        kind,
        subject: Subject::Variety(variety.clone()),
        variety: Some(variety),
        space: cooler.cloned(),
        bed: None,
        window: Window {
            earliest: day,
            best: day,
            latest: day,
        },
        why,
        reasons: Vec::new(),
        number: None,
        caution: None,
    }
}

/// Stems cut today that have not rested in water yet: once they are bunched or noted as rested, or a day is over, it is past.
fn conditioning(
    almanac: &Almanac<'_>,
    stock: &Stock,
    cooler: Option<&SpaceId>,
    today: NaiveDate,
    tasks: &mut Vec<Task>,
) {
    let season = almanac.season();
    for batch in stock.batches.iter().filter(|batch| batch.cut == today) {
        let rested = season
            .conditioned
            .get(&batch.variety)
            .is_some_and(|days| days.contains(&today));
        let bunched = season
            .bunched
            .iter()
            .any(|b| b.variety == batch.variety && b.date == today);
        let cut = season
            .plantings
            .values()
            .filter(|p| p.variety == batch.variety)
            .any(|p| p.cuts.iter().any(|cut| cut.date == today));
        if rested || bunched || !cut {
            continue;
        }
        let harm = almanac
            .crop(&batch.variety)
            .and_then(|crop| crop.typical("ethylene_harm"))
            .unwrap_or(0.0);
        let tender = batch.keeping.tender;
        let why = Say::new("task.condition.why")
            .with("n", batch.stems)
            .with_some("ethylene", (harm >= ETHYLENE_TOLD).then_some(1u32))
            .with_some("tender", tender.then_some(1u32));
        tasks.push(Task {
            window: Window {
                earliest: today,
                best: today,
                latest: today,
            },
            number: Some(batch.stems),
            caution: (harm >= ETHYLENE_TOLD).then_some("caution.ethylene"),
            ..of_variety(TaskKind::Condition, batch.variety.clone(), cooler, why)
        });
    }
}

/// From this much harm by ethylene on it is told beside the stems: moderate.
pub(crate) const ETHYLENE_TOLD: f64 = 2.0;

/// Stems that have a day of keeping left or less.
fn use_up(stock: &Stock, cooler: Option<&SpaceId>, today: NaiveDate, tasks: &mut Vec<Task>) {
    let mut old = BTreeMap::<&VarietyId, (u32, &Batch)>::new();
    let due = |batch: &&Batch| batch.days_left().is_some_and(|left| left <= 1);
    // The batches are sorted by what is left, so the first of a variety is the oldest.
    for batch in stock.batches.iter().filter(due) {
        let slot = old.entry(&batch.variety).or_insert((0, batch));
        slot.0 = slot.0.saturating_add(batch.stems);
    }
    for (variety, (stems, oldest)) in old {
        let last = shifted(today, oldest.days_left().unwrap_or(0));
        let past = oldest.keeping.state == State::Past;
        let why = Say::new(if past {
            "task.use_up.past"
        } else {
            "task.use_up.why"
        })
        .with("n", stems)
        .with("date", oldest.cut)
        .with_some(
            "keeps",
            oldest.keeping.keeps_days.map(|n| Arg::Decimal(n, 0)),
        );
        tasks.push(Task {
            window: Window {
                earliest: shifted(last, -1),
                best: shifted(last, -1),
                latest: last,
            },
            number: Some(stems),
            ..of_variety(TaskKind::UseUp, variety.clone(), cooler, why)
        });
    }
}

fn subject(cover: &OrderCover) -> Subject {
    match cover.due {
        Some(due) => Subject::Delivery(cover.order.clone(), due),
        None => Subject::Order(cover.order.clone()),
    }
}

/// An order that comes due.
fn fill(almanac: &Almanac<'_>, cover: &OrderCover, cooler: Option<&SpaceId>) -> Option<Task> {
    let order = almanac.season().orders.get(&cover.order)?;
    let stems = cover.stems();
    Some(Task {
        kind: TaskKind::FillOrder,
        subject: subject(cover),
        variety: None,
        space: cooler.cloned(),
        bed: None,
        window: Window {
            earliest: shifted(cover.date, -ORDER_EARLIEST_DAYS),
            best: shifted(cover.date, -ORDER_AHEAD_DAYS),
            latest: cover.date,
        },
        why: Say::new("task.fill_order.why")
            .with("who", order.who.clone())
            .with("date", cover.date)
            .with("n", stems),
        reasons: Vec::new(),
        number: Some(stems),
        caution: None,
    })
}

/// Stems that an order will lack, while they can still be bought in and once it is too late for that.
fn buy_in(almanac: &Almanac<'_>, cover: &OrderCover, today: NaiveDate) -> Option<Task> {
    let short = cover.short();
    let ahead = (cover.buy_in_by - today).num_days();
    if short == 0 || cover.date < today || ahead > BUY_IN_TOLD_DAYS {
        return None;
    }
    let order = almanac.season().orders.get(&cover.order)?;
    let key = if ahead < 0 {
        "task.buy_in.too_late"
    } else {
        "task.buy_in.why"
    };
    Some(Task {
        kind: TaskKind::BuyIn,
        subject: subject(cover),
        variety: None,
        space: None,
        bed: None,
        window: Window {
            earliest: today,
            best: shifted(cover.buy_in_by, -ORDER_EARLIEST_DAYS).max(today),
            latest: cover.buy_in_by.max(today),
        },
        why: Say::new(key)
            .with("n", short)
            .with("who", order.who.clone())
            .with("date", cover.date)
            .with("by", cover.buy_in_by),
        reasons: Vec::new(),
        number: Some(short),
        caution: None,
    })
}
