//! Orders pasted from a spreadsheet.

use chrono::{Datelike, NaiveDate};
use leptos::prelude::*;
use season::Fact;
use season::almanac::Almanac;
use season::ids::OrderId;
use season::paste::{OrderPart, OrderRow, orders, together};
use season::words::{Arg, Manner, Say};

use crate::browser::{clock, random};
use crate::parts::Back;
use crate::route::Area;
use crate::screens::paste::{Kind, PasteScreen, Preview};
use crate::screens::wanted;

fn say(almanac: &Almanac<'_>, row: &OrderRow) -> Say {
    let said = match &row.part {
        OrderPart::Stems(line) => Say::new("paste.order.stems")
            .with("n", line.stems)
            .with("what", wanted::say(almanac, &line.wanted)),
        OrderPart::Pieces(pieces) => {
            let recipe = almanac.season().recipes.get(&pieces.recipe);
            Say::new("orders.pieces")
                .with("n", pieces.pieces)
                .with("name", recipe.map_or("", |recipe| recipe.name.as_str()))
        }
    };
    Say::new("paste.order")
        .with("who", row.who.clone())
        .with("date", row.date)
        .with("year", row.date.year().to_string())
        .with("what", Arg::from(said))
}

fn preview(almanac: &Almanac<'_>, pasted: &str, today: NaiveDate, manner: Manner) -> Preview {
    let found = orders(almanac, pasted, today);
    Preview::of(&found, manner, |row| say(almanac, row))
}

fn facts(almanac: &Almanac<'_>, pasted: &str, today: NaiveDate) -> Vec<Fact> {
    let new_id = || OrderId::mint(clock::now_ms(), random::bits());
    let found = orders(almanac, pasted, today);
    together(found.rows())
        .into_iter()
        .map(|order| order.fact(new_id()).into())
        .collect()
}

fn back() -> Back {
    Back::to_area(Area::Cooler)
}

/// Pasting orders.
#[component]
pub fn PasteOrdersScreen() -> impl IntoView {
    let kind = Kind {
        title: "paste.orders",
        lead: "paste.orders.lead",
        keep: "paste.orders.keep",
        area: Area::Cooler,
        back,
        preview,
        facts,
    };
    view! { <PasteScreen kind /> }
}
