//! What an order comes to in money: as it was ordered, and as far as it was handed over.

use chrono::NaiveDate;

use crate::almanac::Almanac;
use crate::fact::{OrderLine, Wanted};
use crate::ids::*;
use crate::money::Money;
use crate::plan::answers;
use crate::promise::breadth;
use crate::state::{Closed, Order};

/// What a line of a bill is for.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// Stems, with how many the price is for.
    Stems(Wanted, u32),
    /// Pieces of a recipe.
    Pieces(RecipeId),
}

/// A line of a bill.
#[derive(Debug, Clone, PartialEq)]
pub struct BillLine {
    /// What it is for.
    pub item: Item,
    /// How many were ordered.
    pub ordered: u32,
    /// How many were handed over, at most as many as were ordered.
    pub handed: u32,
    /// The price, where one is set.
    pub price: Option<Money>,
    /// What was ordered comes to.
    pub ordered_sum: Money,
    /// What was handed over comes to.
    pub handed_sum: Money,
}

/// A bill.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Bill {
    /// Its lines, stems first.
    pub lines: Vec<BillLine>,
    /// Lines without a price.
    pub unpriced: usize,
}

impl Bill {
    /// What the whole order comes to.
    pub fn ordered(&self) -> Money {
        self.lines.iter().map(|line| line.ordered_sum).sum()
    }

    /// What can be invoiced: what was handed over.
    pub fn invoiceable(&self) -> Money {
        self.lines.iter().map(|line| line.handed_sum).sum()
    }
}

/// The bill of an order, or of one delivery of a standing order. Stems are charged as they are handed over, pieces once the order
/// is closed: until then nobody knows which stems went into which.
pub fn bill(almanac: &Almanac<'_>, order: &Order, due: Option<NaiveDate>) -> Bill {
    let mut handed: Vec<(&VarietyId, u32)> = almanac
        .season()
        .sold
        .iter()
        .filter(|sold| sold.order.as_ref() == Some(&order.id) && sold.due == due)
        .map(|sold| (&sold.variety, sold.stems))
        .collect();
    // Narrow lines have their stems first, as in the promise; the bill keeps the order in which they were written.
    let mut by_breadth: Vec<&OrderLine> = order.lines.iter().collect();
    by_breadth.sort_by_key(|line| breadth(&line.wanted));
    let mut given = Vec::new();
    for line in by_breadth {
        let mut open = line.stems;
        for (variety, stems) in &mut handed {
            if answers(almanac, variety, &line.wanted) {
                let taken = open.min(*stems);
                open -= taken;
                *stems -= taken;
            }
        }
        given.push((line, line.stems - open));
    }
    let mut bill = Bill::default();
    for line in &order.lines {
        let given = given
            .iter()
            .find(|(of, _)| core::ptr::eq(*of, line))
            .map_or(0, |(_, given)| *given);
        let per = line.per.unwrap_or(1).max(1);
        let price = line.price.unwrap_or_default();
        bill.lines.push(BillLine {
            item: Item::Stems(line.wanted.clone(), per),
            ordered: line.stems,
            handed: given,
            price: line.price,
            ordered_sum: price.for_some(line.stems, per),
            handed_sum: price.for_some(given, per),
        });
    }
    let closed = match due {
        Some(due) => order.closed.get(&due) == Some(&Closed::HandedOver),
        None => order.done,
    };
    for pieces in &order.pieces {
        let price = pieces.price.unwrap_or_default();
        let given = if closed { pieces.pieces } else { 0 };
        bill.lines.push(BillLine {
            item: Item::Pieces(pieces.recipe.clone()),
            ordered: pieces.pieces,
            handed: given,
            price: pieces.price,
            ordered_sum: price.for_some(pieces.pieces, 1),
            handed_sum: price.for_some(given, 1),
        });
    }
    bill.unpriced = bill
        .lines
        .iter()
        .filter(|line| line.price.is_none())
        .count();
    bill
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fact::{OrderFact, OrderPieces, RecipeFact, Role, SoldFact};
    use crate::sample::Sample;

    fn money(text: &str) -> Money {
        Money::of_text(text).unwrap()
    }

    /// 35 white spikes at 12.50 a bunch of ten, and four jars at 9.
    #[test]
    fn a_bill_grows_with_what_is_handed_over() {
        let mut sample = Sample::new();
        let spike = sample.variety("a", "antirrhinum", "white");
        let of = OrderId::new("o").unwrap();
        let recipe = RecipeId::new("jar").unwrap();
        let today = sample.day("2027-06-14");
        sample.add(RecipeFact {
            name: Some("Jar".into()),
            ..RecipeFact::new(recipe.clone())
        });
        let done = |done| OrderFact {
            date: Some(today),
            lines: Some(vec![OrderLine {
                price: Some(money("12.50")),
                per: Some(10),
                ..OrderLine::new(
                    Wanted {
                        role: Some(Role::Spike),
                        ..Wanted::default()
                    },
                    35,
                )
            }]),
            pieces: Some(vec![OrderPieces {
                price: Some(money("9")),
                ..OrderPieces::new(recipe.clone(), 4)
            }]),
            done,
            ..OrderFact::new(of.clone())
        };
        sample.add(done(None));
        let told = |sample: &Sample| {
            sample.with(|almanac| {
                let bill = bill(almanac, &almanac.season().orders[&of], None);
                (bill.ordered(), bill.invoiceable(), bill.unpriced)
            })
        };
        assert_eq!(told(&sample), (money("79.75"), Money::ZERO, 0));
        let hand = |stems| SoldFact {
            order: Some(of.clone()),
            ..SoldFact::new(spike.clone(), stems, today)
        };
        sample.add(hand(20));
        assert_eq!(told(&sample).1, money("25"));
        // More than was ordered is not charged.
        sample.add(hand(40));
        assert_eq!(told(&sample).1, money("43.75"));
        sample.add(done(Some(true)));
        assert_eq!(told(&sample).1, money("79.75"));
    }

    /// "Any spike" written before a spike by name, and ten of each handed over: both lines are filled.
    #[test]
    fn a_narrow_line_is_not_eaten_by_a_broad_one() {
        let mut sample = Sample::new();
        let named = sample.variety("a", "antirrhinum", "white");
        let other = sample.variety("b", "antirrhinum", "rose");
        let of = OrderId::new("o").unwrap();
        let today = sample.day("2027-06-14");
        let line = |wanted: Wanted| OrderLine {
            price: Some(money("1")),
            ..OrderLine::new(wanted, 10)
        };
        sample.add(OrderFact {
            date: Some(today),
            lines: Some(vec![
                line(Wanted {
                    role: Some(Role::Spike),
                    ..Wanted::default()
                }),
                line(Wanted {
                    variety: Some(named.clone()),
                    ..Wanted::default()
                }),
            ]),
            ..OrderFact::new(of.clone())
        });
        for variety in [&named, &other] {
            sample.add(SoldFact {
                order: Some(of.clone()),
                ..SoldFact::new(variety.clone(), 10, today)
            });
        }
        sample.with(|almanac| {
            let bill = bill(almanac, &almanac.season().orders[&of], None);
            assert_eq!(bill.invoiceable(), money("20"));
            assert!(matches!(&bill.lines[0].item, Item::Stems(wanted, 1) if wanted.role.is_some()));
        });
    }
}
