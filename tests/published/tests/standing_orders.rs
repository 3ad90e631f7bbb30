//! Dates of standing orders compared with recurrence rules of RFC 5545.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate};
use published::table;
use season::ids::OrderId;
use season::promise::days_of;
use season::state::Order;

fn standing(first: NaiveDate, every_days: u32, until: Option<NaiveDate>) -> Order {
    Order {
        id: OrderId::new("o").unwrap(),
        who: String::new(),
        date: Some(first),
        lines: Vec::new(),
        pieces: Vec::new(),
        every_days,
        until,
        closed: BTreeMap::new(),
        done: false,
        retired: false,
    }
}

#[test]
fn a_standing_order_recurs_by_its_rule() {
    for row in table("standing_days.csv") {
        let first: NaiveDate = row.text("first").parse().unwrap();
        let days: Vec<NaiveDate> = row
            .text("days")
            .split(' ')
            .map(|day| day.parse().unwrap())
            .collect();
        let (every, last) = (row.count("every_days"), *days.last().unwrap());
        // It ends on the last day of the rule's count, and no fewer are requested.
        let order = standing(first, every, Some(last));
        assert_eq!(
            days_of(&order, first, last + Days::new(400)),
            days,
            "{row:?}"
        );
        // Without an end it is limited by the requested period, and a period that begins between two dates
        // misses none.
        let order = standing(first, every, None);
        for (n, day) in days.iter().enumerate() {
            assert_eq!(days_of(&order, *day, last), days[n..], "{row:?}");
            let next = *day + Days::new(1);
            assert_eq!(days_of(&order, next, last), days[n + 1..], "{row:?}");
        }
    }
}
