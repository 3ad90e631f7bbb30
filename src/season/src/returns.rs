//! What stems brought: of sales with their own sum, and of orders by the prices of their lines.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::almanac::Almanac;
use crate::fact::OrderLine;
use crate::ids::*;
use crate::money::Money;
use crate::plan::answers;
use crate::state::{Order, StemsMoved};

/// What a variety's stems brought.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Returns {
    /// In all.
    pub money: Money,
    /// Stems that went out at a price.
    pub stems: u32,
}

impl Returns {
    /// About what a stem brought; `None` where none went out at a price.
    pub fn per_stem(self) -> Option<f64> {
        (self.stems > 0).then(|| self.money.about() / f64::from(self.stems))
    }
}

/// What each variety's stems brought from one day to another, both included. Stems of an order count at the price of the first line
/// that they answer to, else at their part of the first piece that has a price; stems without either are left out.
pub fn returns(
    almanac: &Almanac<'_>,
    from: NaiveDate,
    to: NaiveDate,
) -> BTreeMap<VarietyId, Returns> {
    let season = almanac.season();
    let mut found = BTreeMap::<VarietyId, Returns>::new();
    for sold in season
        .sold
        .iter()
        .filter(|sold| (from..=to).contains(&sold.date))
    {
        let order = sold.order.as_ref().and_then(|id| season.orders.get(id));
        let money = sold
            .money
            .or_else(|| order.and_then(|order| of_order(almanac, order, sold)));
        if let Some(money) = money {
            let sum = found.entry(sold.variety.clone()).or_default();
            sum.money = sum.money.plus(money);
            sum.stems = sum.stems.saturating_add(sold.stems);
        }
    }
    found
}

fn of_order(almanac: &Almanac<'_>, order: &Order, sold: &StemsMoved) -> Option<Money> {
    let answering = |line: &&OrderLine| answers(almanac, &sold.variety, &line.wanted);
    if let Some((line, price)) = order
        .lines
        .iter()
        .filter(answering)
        .find_map(|line| Some((line, line.price?)))
    {
        return Some(price.for_some(sold.stems, line.per.unwrap_or(1)));
    }
    order.pieces.iter().find_map(|pieces| {
        let price = pieces.price?;
        let recipe = almanac.season().recipes.get(&pieces.recipe)?;
        recipe.lines.iter().find(answering)?;
        let stems = recipe
            .lines
            .iter()
            .fold(0u32, |sum, line| sum.saturating_add(line.stems));
        Some(price.for_some(sold.stems, stems))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fact::{OrderFact, OrderPieces, RecipeFact, Role, SoldFact, Wanted};
    use crate::sample::Sample;

    fn money(text: &str) -> Money {
        Money::of_text(text).unwrap()
    }

    #[test]
    fn sales_count_at_their_sum_and_orders_at_their_prices() {
        let mut sample = Sample::new();
        let spike = sample.variety("a", "antirrhinum", "white");
        let filler = sample.variety("b", "ammi_majus", "white");
        let role = |role, stems| {
            OrderLine::new(
                Wanted {
                    role: Some(role),
                    ..Wanted::default()
                },
                stems,
            )
        };
        let (of, recipe) = (OrderId::new("o").unwrap(), RecipeId::new("r").unwrap());
        sample.add(RecipeFact {
            lines: Some(vec![
                role(Role::Filler, 2),
                role(Role::Airy, 2),
                role(Role::Spike, 1),
            ]),
            ..RecipeFact::new(recipe.clone())
        });
        let day = sample.day("2027-06-14");
        sample.add(OrderFact {
            date: Some(day),
            lines: Some(vec![OrderLine {
                price: Some(money("8")),
                per: Some(10),
                ..role(Role::Spike, 20)
            }]),
            pieces: Some(vec![OrderPieces {
                price: Some(money("5")),
                ..OrderPieces::new(recipe, 3)
            }]),
            ..OrderFact::new(of.clone())
        });
        let mut sell = |variety: &VarietyId, stems, order: Option<&OrderId>, income| {
            sample.add(SoldFact {
                order: order.cloned(),
                income,
                ..SoldFact::new(variety.clone(), stems, day)
            });
        };
        sell(&spike, 20, Some(&of), None);
        sell(&spike, 10, None, Some(money("4.50")));
        sell(&spike, 99, None, None);
        sell(&filler, 6, Some(&of), None);
        sample.with(|almanac| {
            let found = returns(almanac, day, day);
            assert_eq!(
                found[&spike],
                Returns {
                    money: money("20.50"),
                    stems: 30
                }
            );
            // Six stems of pieces that have five for 5.00.
            assert_eq!(found[&filler].money, money("6"));
            let next = day.succ_opt().unwrap();
            assert!(returns(almanac, next, next).is_empty());
        });
    }
}
