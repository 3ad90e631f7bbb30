//! What is promised in orders, against what stands in the cooler and what is still to be cut by then.
//!
//! The order with the earliest date has the stems first; within an order the narrower line. Stems in the cooler count only if they
//! still keep on the order's day, stems to come only if they are cut by then and keep until then. What was put aside for an order
//! is for no other.

mod fill;
mod lines;
mod store;

#[cfg(test)]
mod tests;

use std::sync::Arc;

use chrono::NaiveDate;

pub use fill::{Fill, fills};
pub(crate) use lines::breadth;
pub use lines::{LineCover, OrderCover, lines_of};
use store::{ByVariety, Store};
pub(crate) use store::{cut_from, share_between};

use crate::almanac::Almanac;
pub use crate::deliveries::{AHEAD_DAYS, Delivery, days_of, deliveries, is_over};
use crate::forecast::{Outlook, shifted};
use crate::ids::*;
use crate::keeping::State;
use crate::state::Order;
use crate::stock::stock_today;

/// Days before an order's date by which missing stems are bought in, where the grower sets none: the later end of 7 to 10, common
/// practice.
pub const BUY_IN_DAYS_USUAL: u32 = 10;
/// Share of the forecast that may be promised, where the grower sets none: middle of 60 to 70 in 100, common practice.
pub const PROMISE_SHARE_USUAL: f64 = 0.65;

/// Days before an order's date by which missing stems have to be bought in.
pub fn buy_in_days(almanac: &Almanac<'_>) -> u32 {
    let place = almanac.season().place();
    place
        .and_then(|place| place.buy_in_days)
        .unwrap_or(BUY_IN_DAYS_USUAL)
}

/// Share of the forecast that may be promised, above 0 to 1.
pub fn promise_share(almanac: &Almanac<'_>) -> f64 {
    let place = almanac.season().place();
    place
        .and_then(|place| place.promise_share)
        .unwrap_or(PROMISE_SHARE_USUAL)
}

/// All open deliveries with what there is for them, and what is left then.
#[derive(Debug, Clone)]
pub struct Promises {
    /// Earliest date first.
    pub orders: Vec<OrderCover>,
    left: Store,
}

impl Promises {
    /// Stems of a variety for nobody that would do on a day: in the cooler, and of what is to be cut the share that may be
    /// promised.
    pub fn spare(&self, almanac: &Almanac<'_>, variety: &VarietyId, date: NaiveDate) -> (u32, u32) {
        self.left.spare(almanac, variety, date)
    }

    /// Stems of a variety in the cooler that still keep and are neither put aside nor wanted by an open order.
    pub fn free_in_stock(&self, variety: &VarietyId) -> u32 {
        let batches = self.left.batches.iter();
        let own = batches.filter(|b| {
            b.variety == *variety && b.cut <= self.left.today && b.keeping.state != State::Past
        });
        own.fold(0, |sum, batch| sum.saturating_add(batch.stems))
    }

    /// The share of a week's stems of a variety that open orders don't ask for, 0 to 1; 1 where nothing is forecast.
    pub fn free_share(&self, variety: &VarietyId, week: agronomy::iso_week::IsoWeek) -> f64 {
        let weeks = self.left.to_come.get(variety);
        weeks
            .and_then(|weeks| weeks.get(&week))
            .map_or(1.0, |coming| coming.free.clamp(0.0, 1.0))
    }
}

/// All open deliveries, and what there is for them.
pub fn promises(outlook: &Outlook<'_>) -> Arc<Promises> {
    outlook.keep(promised)
}

fn promised(outlook: &Outlook<'_>) -> Promises {
    let almanac = outlook.almanac();
    let mut store = Store::of(outlook, &stock_today(outlook), promise_share(almanac));
    let ahead = i64::from(buy_in_days(almanac));
    let orders = deliveries(almanac, outlook.today())
        .into_iter()
        .map(|Delivery { order, due, date }| {
            let whom = (order.id.clone(), due);
            let mut handed = handed(almanac, order, due);
            let lines = lines_of(almanac, order)
                .into_iter()
                .map(|line| store.serve(almanac, line, &whom, date, &mut handed))
                .collect();
            OrderCover {
                order: order.id.clone(),
                due,
                date,
                buy_in_by: shifted(date, -ahead),
                lines,
            }
        })
        .collect();
    Promises {
        orders,
        left: store,
    }
}

fn handed(almanac: &Almanac<'_>, order: &Order, due: Option<NaiveDate>) -> ByVariety {
    let mut handed = ByVariety::new();
    for sold in &almanac.season().sold {
        if sold.order.as_ref() == Some(&order.id) && sold.due == due {
            let stems = handed.entry(sold.variety.clone()).or_default();
            *stems = stems.saturating_add(sold.stems);
        }
    }
    handed
}
