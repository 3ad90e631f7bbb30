//! The days on which orders are wanted: a standing order comes again and again.

use chrono::NaiveDate;

use crate::almanac::Almanac;
use crate::forecast::shifted;
use crate::state::Order;

/// Days ahead for which deliveries of a standing order are looked at: as far as is told what can be promised.
pub const AHEAD_DAYS: i64 = 26 * 7;
/// The most deliveries of one order that are looked at: half a year of weeks.
const DELIVERIES_MAX: usize = 26;
/// Days after which a delivery that nobody closed is taken to be over.
const LATE_DAYS: i64 = 10;

/// One delivery.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Delivery<'a> {
    /// Of which order.
    pub order: &'a Order,
    /// The day that tells it from others of a standing order; `None` for an order that is wanted once.
    pub due: Option<NaiveDate>,
    /// When it is wanted.
    pub date: NaiveDate,
}

/// The days on which an order is wanted from one day to another, both included, closed ones left out. Empty once it is done or
/// called off.
pub fn days_of(order: &Order, from: NaiveDate, to: NaiveDate) -> Vec<NaiveDate> {
    let Some(first) = order.date.filter(|_| !order.done && !order.retired) else {
        return Vec::new();
    };
    if !order.is_standing() {
        return Some(first)
            .filter(|date| (from..=to).contains(date))
            .into_iter()
            .collect();
    }
    let every = i64::from(order.every_days);
    let last = order.until.map_or(to, |until| until.min(to));
    let skip = ((from - first).num_days().max(0) + every - 1) / every;
    (skip..)
        .map(|n| shifted(first, n * every))
        .take_while(|date| *date <= last)
        // A calendar's end stands still.
        .take(usize::from(u16::MAX))
        .filter(|date| !is_closed(order, *date))
        .collect()
}

/// Whether a delivery is closed: that of the day, or one that stood there before the order's days were moved.
fn is_closed(order: &Order, date: NaiveDate) -> bool {
    let near = i64::from(order.every_days.saturating_sub(1) / 2);
    let around = shifted(date, -near)..=shifted(date, near);
    order.closed.range(around).next().is_some()
}

/// Whether nothing of an order is to come any more: done, called off, without a day, or a standing one that has run out.
pub fn is_over(order: &Order, today: NaiveDate) -> bool {
    let from = shifted(today, -LATE_DAYS);
    order.done
        || order.retired
        || order.date.is_none()
        || order.is_standing() && order.until.is_some_and(|until| until < from)
}

/// All open deliveries, earliest first: orders that are wanted once however far ahead or late, those of standing orders from some
/// days back to [`AHEAD_DAYS`] ahead.
pub fn deliveries<'a>(almanac: &Almanac<'a>, today: NaiveDate) -> Vec<Delivery<'a>> {
    let (from, to) = (shifted(today, -LATE_DAYS), shifted(today, AHEAD_DAYS));
    let mut found: Vec<Delivery<'a>> = Vec::new();
    for order in almanac.season().orders.values() {
        if order.is_standing() {
            let mut days = days_of(order, from, to);
            days.truncate(DELIVERIES_MAX);
            // One that begins later still is seen by its first day.
            let later = order
                .date
                .filter(|date| days.is_empty() && *date > to && !is_over(order, today));
            found.extend(days.into_iter().chain(later).map(|date| Delivery {
                order,
                due: Some(date),
                date,
            }));
        } else if let Some(date) = order.date.filter(|_| !order.done && !order.retired) {
            found.push(Delivery {
                order,
                due: None,
                date,
            });
        }
    }
    found.sort_by(|a, b| (a.date, &a.order.id).cmp(&(b.date, &b.order.id)));
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fact::{HandedOverFact, OrderFact};
    use crate::ids::OrderId;
    use crate::sample::Sample;

    fn order(sample: &mut Sample, date: &str, every: u32, until: Option<&str>) -> OrderId {
        let of = OrderId::new("o").unwrap();
        let (date, until) = (Some(sample.day(date)), until.map(|day| sample.day(day)));
        sample.add(OrderFact {
            who: Some("Corner shop".into()),
            date,
            every_days: Some(every),
            until,
            ..OrderFact::new(of.clone())
        });
        of
    }

    fn days(sample: &Sample, from: &str, to: &str) -> Vec<String> {
        let (from, to) = (sample.day(from), sample.day(to));
        sample.with(|almanac| {
            let order = almanac.season().orders.values().next().unwrap();
            let days = days_of(order, from, to);
            days.iter().map(ToString::to_string).collect()
        })
    }

    #[test]
    fn a_standing_order_comes_again_until_its_last_day() {
        let mut sample = Sample::new();
        order(&mut sample, "2027-06-03", 14, Some("2027-07-15"));
        assert_eq!(
            days(&sample, "2027-05-01", "2027-12-31"),
            ["2027-06-03", "2027-06-17", "2027-07-01", "2027-07-15"]
        );
        assert_eq!(days(&sample, "2027-06-04", "2027-06-17"), ["2027-06-17"]);
        assert!(days(&sample, "2027-07-16", "2027-12-31").is_empty());
    }

    #[test]
    fn deliveries_that_are_closed_do_not_come_back_and_late_ones_wait_a_while() {
        let mut sample = Sample::new();
        let id = order(&mut sample, "2027-06-03", 7, None);
        let (due, today) = (sample.day("2027-06-10"), sample.day("2027-06-14"));
        sample.add(HandedOverFact::new(id, due, due));
        sample.with(|almanac| {
            let open = deliveries(almanac, today);
            let first: Vec<_> = open.iter().take(2).map(|d| d.date.to_string()).collect();
            assert_eq!(first, ["2027-06-17", "2027-06-24"]);
            // Half a year ahead, no further.
            assert_eq!(open.len(), 26);
            assert!(open.iter().all(|d| d.due == Some(d.date)));
        });
        let before = sample.day("2027-06-08");
        sample.with(|almanac| {
            let open = deliveries(almanac, before);
            assert_eq!(open.first().unwrap().date, sample.day("2027-06-03"));
        });
    }

    #[test]
    fn an_order_that_is_wanted_once_is_wanted_however_late() {
        let mut sample = Sample::new();
        order(&mut sample, "2027-06-03", 0, None);
        let today = sample.day("2027-09-01");
        sample.with(|almanac| {
            let open = deliveries(almanac, today);
            assert_eq!((open.len(), open.first().unwrap().due), (1, None));
        });
        assert_eq!(days(&sample, "2027-06-01", "2027-06-30"), ["2027-06-03"]);
    }

    #[test]
    fn a_standing_order_that_begins_late_or_has_run_out_is_told_so() {
        let mut sample = Sample::new();
        order(&mut sample, "2027-12-03", 7, Some("2027-12-24"));
        let (early, after) = (sample.day("2027-01-10"), sample.day("2028-01-20"));
        sample.with(|almanac| {
            let open = deliveries(almanac, early);
            assert_eq!(open.len(), 1, "its first day is seen");
            let order = almanac.season().orders.values().next().unwrap();
            assert!(!is_over(order, early) && is_over(order, after));
            assert!(deliveries(almanac, after).is_empty());
        });
    }

    #[test]
    fn a_closed_delivery_stays_closed_when_the_days_are_moved() {
        let mut sample = Sample::new();
        let id = order(&mut sample, "2027-06-03", 7, None);
        let due = sample.day("2027-06-10");
        sample.add(HandedOverFact::new(id, due, due));
        order(&mut sample, "2027-06-04", 7, None);
        assert_eq!(
            days(&sample, "2027-06-01", "2027-06-20"),
            ["2027-06-04", "2027-06-18"]
        );
    }

    #[test]
    fn the_end_of_the_calendar_is_the_end() {
        let mut sample = Sample::new();
        order(&mut sample, "2199-12-31", 366, None);
        assert_eq!(days(&sample, "2190-01-01", "2199-12-31"), ["2199-12-31"]);
    }
}
