//! What becomes of cut stems: bunched, sold twice a week, handed over for an order, thrown away when too old.

use std::collections::BTreeMap;

use chrono::{Datelike, Days, NaiveDate, Weekday};
use culture::Reference;
use season::fact::*;
use season::ids::OrderId;

use super::super::Trouble;
use super::beds::Cut;
use super::book::{Book, Device};
use super::set_up::{Farm, crop_of, money};
use super::trade::Florist;
use super::{day, today};

/// Stems of one variety by the day they were cut.
type Buckets = BTreeMap<NaiveDate, u32>;

/// Takes up to so many stems, oldest first; gives how many there were.
fn take(buckets: &mut Buckets, wanted: u32) -> u32 {
    let mut left = wanted;
    for stems in buckets.values_mut() {
        let taken = left.min(*stems);
        *stems -= taken;
        left -= taken;
    }
    buckets.retain(|_, stems| *stems > 0);
    wanted - left
}

/// Records bunches, sales and what was thrown away, day by day up to the demo's day.
pub fn sell(
    book: &mut Book,
    farm: &Farm,
    reference: &Reference,
    florist: &Florist,
    cuts: Vec<Cut>,
) -> Result<(), Trouble> {
    let mut by_day: BTreeMap<NaiveDate, Vec<Cut>> = BTreeMap::new();
    for cut in cuts {
        by_day.entry(cut.date).or_default().push(cut);
    }
    let Some(mut date) = by_day.keys().next().copied() else {
        return Ok(());
    };
    let mut cooler: BTreeMap<&'static str, Buckets> = BTreeMap::new();
    while date < today() {
        for cut in by_day.remove(&date).unwrap_or_default() {
            *cooler
                .entry(cut.variety)
                .or_default()
                .entry(date)
                .or_default() += cut.stems;
        }
        for (name, buckets) in &mut cooler {
            let crop = reference.crop(crop_of(name));
            let figure = |figure: &str| crop.and_then(|crop| crop.typical(figure));
            let keeps = figure("cold_storage_max_days").map_or(7, |days| days as u64);
            bunch(book, farm, name, buckets, date, figure("bunch_size"))?;
            throw_away(book, farm, name, buckets, date, keeps)?;
            deliver(book, farm, florist, name, buckets, date)?;
            sales(book, farm, name, buckets, date)?;
        }
        date = date + Days::new(1);
    }
    let done = OrderFact {
        done: Some(true),
        ..OrderFact::new(order(farm, "first")?)
    };
    book.record(delivery(), 21, Device::Laptop, done)?;
    Ok(())
}

fn order(farm: &Farm, name: &str) -> Result<OrderId, Trouble> {
    farm.orders
        .get(name)
        .cloned()
        .ok_or_else(|| Trouble::Inside(format!("no order called {name}")))
}

/// The day of the order that was handed over.
fn delivery() -> NaiveDate {
    day(2027, 7, 16)
}

fn bunch(
    book: &mut Book,
    farm: &Farm,
    name: &str,
    buckets: &Buckets,
    date: NaiveDate,
    size: Option<f64>,
) -> Result<(), Trouble> {
    let stems_each = size.map_or(10, |size| size as u32).max(1);
    let bunches = buckets.get(&date).map_or(0, |stems| stems / stems_each);
    if bunches == 0 {
        return Ok(());
    }
    let fact = BunchedFact::new(farm.variety(name)?.clone(), bunches, stems_each, date);
    book.record(date, 14, Device::Phone, fact)?;
    Ok(())
}

fn throw_away(
    book: &mut Book,
    farm: &Farm,
    name: &str,
    buckets: &mut Buckets,
    date: NaiveDate,
    keeps: u64,
) -> Result<(), Trouble> {
    let old: u32 = buckets
        .iter()
        .filter(|(cut, _)| **cut + Days::new(keeps) < date)
        .map(|(_, stems)| stems)
        .sum();
    if old == 0 {
        return Ok(());
    }
    let fact = DiscardedFact::new(farm.variety(name)?.clone(), take(buckets, old), date);
    book.record(date, 17, Device::Phone, fact)?;
    Ok(())
}

/// What the florist takes of a variety on the day of a delivery, as far as it is there.
fn deliver(
    book: &mut Book,
    farm: &Farm,
    florist: &Florist,
    name: &str,
    buckets: &mut Buckets,
    date: NaiveDate,
) -> Result<(), Trouble> {
    let stems = florist
        .takes(name, date)
        .map_or(0, |wanted| take(buckets, wanted));
    if stems == 0 {
        return Ok(());
    }
    let fact = SoldFact {
        order: Some(florist.order.clone()),
        due: Some(date),
        ..SoldFact::new(farm.variety(name)?.clone(), stems, date)
    };
    book.record(date, 18, Device::Phone, fact)?;
    Ok(())
}

/// What a stem brings at the market, in hundredths: invented.
fn market_price(name: &str) -> u32 {
    match name {
        "Pale open cup" | "Peach round" => 150,
        "Tall straw face" => 120,
        "Dark stem leaf" | "Flat white umbel" => 50,
        _ => 80,
    }
}

/// Tuesdays and Fridays most of what is there goes; on one Friday some of it for an order.
fn sales(
    book: &mut Book,
    farm: &Farm,
    name: &str,
    buckets: &mut Buckets,
    date: NaiveDate,
) -> Result<(), Trouble> {
    let market = matches!(date.weekday(), Weekday::Tue | Weekday::Fri);
    let there: u32 = buckets.values().sum();
    if !market || there == 0 {
        return Ok(());
    }
    let variety = farm.variety(name)?.clone();
    if date == delivery() && name == "Chalk spike" {
        let fact = SoldFact {
            order: Some(order(farm, "first")?),
            ..SoldFact::new(variety.clone(), take(buckets, 30), date)
        };
        book.record(date, 18, Device::Phone, fact)?;
    }
    let there: u32 = buckets.values().sum();
    let wanted = (f64::from(there) * book.chance.between(0.55, 0.95)) as u32;
    let stems = take(buckets, wanted);
    if stems > 0 {
        let sum = stems * market_price(name);
        let income = money(&format!("{}.{:02}", sum / 100, sum % 100))?;
        let fact = SoldFact {
            income: Some(income),
            ..SoldFact::new(variety, stems, date)
        };
        book.record(date, 19, Device::Phone, fact)?;
    }
    Ok(())
}
