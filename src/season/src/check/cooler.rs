//! Objections to what became of cut stems.

use chrono::NaiveDate;

use super::Objections;
use crate::almanac::Almanac;
use crate::fact::{AllocatedFact, Fact, WarmedFact};
use crate::ids::VarietyId;
use crate::stock::stock;
use crate::words::Say;

/// Hours in the warm after which most stems are past selling, whatever they are.
const HOURS_LONG: f64 = 72.0;

pub(super) fn check(almanac: &Almanac<'_>, fact: &Fact, found: &mut Objections) {
    match fact {
        Fact::Discarded(f) => from_stock(almanac, &f.variety, f.stems, f.date, found),
        Fact::Sold(f) => from_stock(almanac, &f.variety, f.stems, f.date, found),
        Fact::BoughtIn(f) if !almanac.season().varieties.contains_key(&f.variety) => {
            found.refuse("variety", Say::new("check.variety_missing"));
        }
        Fact::Allocated(f) => allocated(almanac, f, found),
        Fact::HandedOver(f) if !almanac.season().orders.contains_key(&f.order) => {
            found.refuse("order", Say::new("check.order_missing"));
        }
        Fact::Warmed(f) => warmed(f, found),
        _ => {}
    }
}

fn warmed(f: &WarmedFact, found: &mut Objections) {
    if f.hours > HOURS_LONG {
        found.ask(
            "hours",
            Say::new("check.warm_long").with("n", f.hours.round() as i64),
        );
    }
    if f.cut.is_some_and(|cut| f.date < cut) {
        found.refuse("date", Say::new("check.warm_before_cut"));
    }
}

fn allocated(almanac: &Almanac<'_>, f: &AllocatedFact, found: &mut Objections) {
    if !almanac.season().orders.contains_key(&f.order) {
        found.refuse("order", Say::new("check.order_missing"));
    }
    let free = stock(almanac, f.date).free(&f.variety);
    if f.stems > free {
        found.ask(
            "stems",
            Say::new("check.more_than_free")
                .with("n", f.stems)
                .with("there", free),
        );
    }
}

fn from_stock(
    almanac: &Almanac<'_>,
    variety: &VarietyId,
    stems: u32,
    date: NaiveDate,
    found: &mut Objections,
) {
    let there = stock(almanac, date).there(variety);
    if stems > there {
        found.ask(
            "stems",
            Say::new("check.more_than_stock")
                .with("n", stems)
                .with("there", there),
        );
    }
}
