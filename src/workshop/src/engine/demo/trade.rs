//! What is promised beyond the first orders: a florist every week, an event that is short, and what stands ready for them.

use chrono::{Days, NaiveDate};
use season::fact::*;
use season::ids::OrderId;

use super::super::Trouble;
use super::book::{Book, Device};
use super::set_up::{Farm, id, money, priced};
use super::{day, today};

/// Days from one of the florist's deliveries to the next.
const EVERY_DAYS: u32 = 7;

/// What the florist has had so far: delivery, variety, stems.
const DELIVERED: [(u32, &str, u32); 5] = [
    (7, "Chalk spike", 10),
    (7, "Brick spike", 4),
    (7, "Linen upright", 8),
    (14, "Slate wand", 15),
    (14, "Linen upright", 8),
];

/// The florist's order.
pub struct Florist {
    /// The order.
    pub order: OrderId,
}

/// The day of a delivery in July.
fn delivery(date: u32) -> NaiveDate {
    day(2027, 7, date)
}

impl Florist {
    /// Stems of a variety that the florist takes on a day; `None` on other days.
    pub fn takes(&self, name: &str, date: NaiveDate) -> Option<u32> {
        DELIVERED
            .iter()
            .find(|(due, variety, _)| delivery(*due) == date && *variety == name)
            .map(|(_, _, stems)| *stems)
    }
}

/// Records the florist's standing order and the event's.
pub fn orders(book: &mut Book) -> Result<Florist, Trouble> {
    let taken = day(2027, 6, 27);
    let florist = id(OrderId::new(book.new_id(taken)))?;
    let fact = OrderFact {
        who: Some("Florist by the bridge".into()),
        date: Some(delivery(7)),
        lines: Some(vec![
            priced(Role::Spike, 15, "8.50")?,
            priced(Role::Secondary, 8, "7.00")?,
        ]),
        every_days: Some(EVERY_DAYS),
        until: Some(day(2027, 9, 15)),
        ..OrderFact::new(florist.clone())
    };
    book.record(taken, 19, Device::Laptop, fact)?;
    // White spikes go over just then; blue ones do not.
    let mut white = priced(Role::Spike, 90, "9.00")?;
    white.wanted.colour = Some("white".into());
    let fact = OrderFact {
        who: Some("Wedding in the orchard".into()),
        date: Some(day(2027, 8, 8)),
        lines: Some(vec![white, priced(Role::Focal, 30, "14.00")?]),
        ..OrderFact::new(id(OrderId::new(book.new_id(taken)))?)
    };
    book.record(day(2027, 7, 3), 20, Device::Laptop, fact)?;
    Ok(Florist { order: florist })
}

/// Deliveries closed, stems bought in, put aside, warmed and rested in water.
pub fn ready(book: &mut Book, farm: &Farm, florist: &Florist) -> Result<(), Trouble> {
    for due in [7, 14].map(delivery) {
        let fact = HandedOverFact::new(florist.order.clone(), due, due);
        book.record(due, 20, Device::Phone, fact)?;
    }
    let date = day(2027, 7, 17);
    let fact = BoughtInFact {
        cost: Some(money("9.50")?),
        ..BoughtInFact::new(farm.variety("Dark stem leaf")?.clone(), 20, date)
    };
    book.record(date, 12, Device::Phone, fact)?;
    let date = day(2027, 7, 18);
    let fact = WarmedFact {
        variety: Some(farm.variety("Flat white umbel")?.clone()),
        cut: Some(day(2027, 7, 17)),
        ..WarmedFact::new(2.5, 31.0, date)
    };
    book.record(date, 17, Device::Phone, fact)?;
    let fact = NoteFact {
        about: Some(farm.variety("Flat white umbel")?.to_string()),
        ..NoteFact::new(
            "Buckets stood in the van in the sun at the fair. Shade cloth goes along from now on."
                .into(),
            date,
        )
    };
    book.record(date, 17, Device::Phone, fact)?;
    let variety = farm.variety("Slate wand")?.clone();
    let rested = ConditionedFact::new(variety.clone(), date);
    book.record(date, 15, Device::Phone, rested)?;
    let fact = AllocatedFact {
        due: Some(delivery(14) + Days::new(u64::from(EVERY_DAYS))),
        ..AllocatedFact::new(florist.order.clone(), variety, 10, today())
    };
    book.record(today(), 19, Device::Phone, fact)?;
    let cooler = farm.space("Cooler")?;
    for (date, min_c, max_c) in [(16, 2.6, 4.4), (17, 2.8, 6.9), (18, 2.5, 4.6)] {
        let fact = TemperatureFact {
            space: Some(cooler.clone()),
            ..TemperatureFact::new(min_c, max_c, day(2027, 7, date))
        };
        book.record(day(2027, 7, date), 20, Device::Phone, fact)?;
    }
    Ok(())
}
