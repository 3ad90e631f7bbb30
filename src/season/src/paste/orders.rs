//! Orders: date, for whom, what or which recipe, stems or pieces. Lines for the same person on the same day are one order.

use chrono::NaiveDate;

use super::header::{Columns, Heads, plain};
use super::wish::{wish, with_colour};
use super::{Desk, Pasted, lines};
use crate::almanac::Almanac;
use crate::fact::{OrderFact, OrderLine, OrderPieces};
use crate::ids::{OrderId, RecipeId};
use crate::limits::STEMS_MAX;
use crate::typed;
use crate::words::Say;

/// One line of an order.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderRow {
    /// For when.
    pub date: NaiveDate,
    /// For whom.
    pub who: String,
    /// What.
    pub part: OrderPart,
}

/// Stems, or pieces of a recipe.
#[derive(Debug, Clone, PartialEq)]
pub enum OrderPart {
    /// Stems of one kind.
    Stems(OrderLine),
    /// Pieces of one recipe.
    Pieces(OrderPieces),
}

/// An order with all its lines.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderTogether {
    /// For when.
    pub date: NaiveDate,
    /// For whom.
    pub who: String,
    /// Stems.
    pub lines: Vec<OrderLine>,
    /// Pieces.
    pub pieces: Vec<OrderPieces>,
}

impl OrderTogether {
    /// The entry that makes it an order.
    pub fn fact(&self, of: OrderId) -> OrderFact {
        OrderFact {
            who: Some(self.who.clone()),
            date: Some(self.date),
            lines: Some(self.lines.clone()),
            pieces: Some(self.pieces.clone()),
            ..OrderFact::new(of)
        }
    }

    fn add(&mut self, part: &OrderPart) {
        match part {
            OrderPart::Stems(line) => self.lines.push(line.clone()),
            OrderPart::Pieces(pieces) => self.pieces.push(pieces.clone()),
        }
    }
}

const DATE: usize = 0;
const WHO: usize = 1;
const WHAT: usize = 2;
const COLOUR: usize = 3;
const RECIPE: usize = 4;
const STEMS: usize = 5;
const PIECES: usize = 6;

static HEADS: Heads = Heads {
    words: &[
        "paste.head.date",
        "paste.head.who",
        "paste.head.what",
        "paste.head.colour",
        "paste.head.recipe",
        "paste.head.stems",
        "paste.head.pieces",
    ],
    usual: &[Some(DATE), Some(WHO), Some(WHAT), Some(STEMS)],
};

/// Lines of orders out of a pasted table. What has a recipe's name is pieces of it, whichever column the number stands in.
pub fn orders(almanac: &Almanac<'_>, pasted: &str, today: NaiveDate) -> Pasted<OrderRow> {
    let desk = Desk { almanac, today };
    // Any id will do for the checks: they ask only what the order says.
    let id = OrderId::mint(0, 0);
    lines(pasted, &HEADS, &desk, row, |row| {
        let together = together([row]);
        let order = together.first().map(|order| order.fact(id.clone()));
        order.unwrap_or_else(|| empty(id.clone())).into()
    })
}

fn empty(of: OrderId) -> OrderFact {
    OrderFact::new(of)
}

/// Orders of lines, in the order in which they are named first.
pub fn together<'a>(rows: impl IntoIterator<Item = &'a OrderRow>) -> Vec<OrderTogether> {
    let mut orders: Vec<OrderTogether> = Vec::new();
    for row in rows {
        let same = |order: &&mut OrderTogether| {
            order.date == row.date && plain(&order.who) == plain(&row.who)
        };
        match orders.iter_mut().find(same) {
            Some(order) => order.add(&row.part),
            None => {
                let mut order = OrderTogether {
                    date: row.date,
                    who: row.who.clone(),
                    lines: Vec::new(),
                    pieces: Vec::new(),
                };
                order.add(&row.part);
                orders.push(order);
            }
        }
    }
    orders
}

fn row(desk: &Desk<'_, '_>, columns: &Columns<'_>) -> Result<OrderRow, Say> {
    let date = columns.read(DATE, typed::date_of_sheet)?;
    let who = columns.read(WHO, typed::name)?;
    let number = if columns.get(STEMS).is_empty() && !columns.get(PIECES).is_empty() {
        PIECES
    } else {
        STEMS
    };
    let number = || columns.read(number, |text| typed::count(text, 1..=STEMS_MAX));
    let (what, named) = (columns.get(WHAT), columns.get(RECIPE));
    let recipe = if named.is_empty() {
        recipe(desk.almanac, what).ok()
    } else {
        Some(columns.read(RECIPE, |text| recipe(desk.almanac, text))?)
    };
    let part = match recipe {
        Some(recipe) => OrderPart::Pieces(OrderPieces::new(recipe, number()?)),
        None => OrderPart::Stems(OrderLine::new(
            wish(desk.almanac, &with_colour(what, columns.get(COLOUR)))?,
            number()?,
        )),
    };
    Ok(OrderRow { date, who, part })
}

fn recipe(almanac: &Almanac<'_>, text: &str) -> Result<RecipeId, Say> {
    let name = plain(text);
    let mut recipes = almanac.season().recipes.values();
    recipes
        .find(|recipe| !recipe.retired && plain(&recipe.name) == name)
        .map(|recipe| recipe.id.clone())
        .ok_or_else(|| Say::new("paste.no_recipe").with("name", text))
}
