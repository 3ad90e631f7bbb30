//! One line of an order, and what there is for it.

use agronomy::quantity::Spread;
use chrono::NaiveDate;

use crate::almanac::Almanac;
use crate::fact::{OrderLine, Wanted};
use crate::ids::*;
use crate::state::Order;

/// One line of an order and what there is for it.
#[derive(Debug, Clone, PartialEq)]
pub struct LineCover {
    /// What is wanted.
    pub wanted: Wanted,
    /// How many stems, those of recipes included.
    pub stems: u32,
    /// Handed over for it already.
    pub handed: u32,
    /// In the cooler.
    pub in_stock: u32,
    /// Of these, put aside for it.
    pub aside: u32,
    /// Those in the cooler by variety and day of cutting, the oldest that will do first.
    pub stock: Vec<(VarietyId, NaiveDate, u32)>,
    /// To be cut in time, not promised to an earlier order.
    pub to_come: Spread<f64>,
    /// The share of it that may be promised.
    pub share: f64,
}

impl LineCover {
    /// Stems that are neither handed over nor in the cooler.
    pub fn missing(&self) -> u32 {
        self.stems
            .saturating_sub(self.handed)
            .saturating_sub(self.in_stock)
    }

    /// Stems that are likely to be missing on the day.
    pub fn short(&self) -> u32 {
        self.short_of(1.0)
    }

    /// Stems that are promised beyond the share of the forecast that may be promised: nothing to send for yet, but not safe.
    pub fn at_risk(&self) -> u32 {
        self.short_of(self.share)
    }

    fn short_of(&self, share: f64) -> u32 {
        let short = f64::from(self.missing()) - self.to_come.p50 * share;
        short.round().max(0.0) as u32
    }
}

/// An order, or one delivery of a standing order, and what there is for it.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderCover {
    /// Which order.
    pub order: OrderId,
    /// Which delivery of a standing order; `None` for an order that is wanted once.
    pub due: Option<NaiveDate>,
    /// For when.
    pub date: NaiveDate,
    /// The last day on which missing stems can still be bought in.
    pub buy_in_by: NaiveDate,
    /// Its lines, narrow ones first.
    pub lines: Vec<LineCover>,
}

impl OrderCover {
    /// Stems that are likely to be missing on the day, all lines together.
    pub fn short(&self) -> u32 {
        self.sum(LineCover::short)
    }

    /// Stems promised beyond the share that may be promised, all lines together.
    pub fn at_risk(&self) -> u32 {
        self.sum(LineCover::at_risk)
    }

    /// Stems wanted in all.
    pub fn stems(&self) -> u32 {
        self.sum(|line| line.stems)
    }

    fn sum(&self, of: impl Fn(&LineCover) -> u32) -> u32 {
        self.lines
            .iter()
            .fold(0, |sum, line| sum.saturating_add(of(line)))
    }
}

/// An order's lines with the stems of its recipes, like lines together, narrow ones first.
pub fn lines_of(almanac: &Almanac<'_>, order: &Order) -> Vec<OrderLine> {
    let mut lines: Vec<OrderLine> = Vec::new();
    let mut add =
        |wanted: &Wanted, stems: u32| match lines.iter_mut().find(|line| line.wanted == *wanted) {
            Some(line) => line.stems = line.stems.saturating_add(stems),
            None => lines.push(OrderLine::new(wanted.clone(), stems)),
        };
    for line in &order.lines {
        add(&line.wanted, line.stems);
    }
    for pieces in &order.pieces {
        let recipe = almanac.season().recipes.get(&pieces.recipe);
        for line in recipe.iter().flat_map(|recipe| &recipe.lines) {
            add(&line.wanted, line.stems.saturating_mul(pieces.pieces));
        }
    }
    lines.sort_by_key(|line| breadth(&line.wanted));
    lines
}

/// How much a wish leaves open: 0 for one variety.
pub(crate) fn breadth(wanted: &Wanted) -> u8 {
    if wanted.variety.is_some() {
        return 0;
    }
    let open = |named: bool| u8::from(!named);
    1 + 2 * open(wanted.crop.is_some()) + open(wanted.colour.is_some())
}
