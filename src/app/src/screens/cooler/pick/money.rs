//! What an order comes to, in plain figures.

use leptos::prelude::*;
use season::almanac::Almanac;
use season::bill::{Bill, BillLine, Item};
use season::money::Money;
use season::words::{Manner, Say, text};

use crate::forms::money_arg;
use crate::parts::{Column, Section, Table, TableRow};
use crate::screens::wanted;
use crate::store::Store;

fn amount(almanac: &Almanac<'_>, amount: Money, manner: Manner) -> String {
    Say::new("plain.n")
        .with("n", money_arg(almanac, amount))
        .write(manner)
}

fn name(almanac: &Almanac<'_>, line: &BillLine) -> Say {
    match &line.item {
        Item::Stems(of, _) => wanted::say(almanac, of),
        Item::Pieces(recipe) => {
            let recipe = almanac.season().recipes.get(recipe);
            Say::new("name.plain").with("name", recipe.map_or("", |recipe| &recipe.name).to_owned())
        }
    }
}

fn price(almanac: &Almanac<'_>, line: &BillLine, manner: Manner) -> String {
    let Some(price) = line.price else {
        return text("year.none").to_owned();
    };
    match line.item {
        Item::Stems(_, per) if per > 1 => Say::new("bill.per")
            .with("price", money_arg(almanac, price))
            .with("n", per)
            .write(manner),
        _ => amount(almanac, price, manner),
    }
}

/// The bill of an order.
#[component]
pub fn BillView(bill: Bill) -> impl IntoView {
    let store = Store::here();
    let manner = store.manner_now();
    if bill.lines.is_empty() {
        return ().into_any();
    }
    let (rows, ordered, due) = store.with_almanac_now(|almanac| {
        let row = |line: &BillLine| {
            TableRow::new(name(almanac, line).write(manner))
                .with(line.ordered)
                .with(line.handed)
                .with(price(almanac, line, manner))
                .with(amount(almanac, line.handed_sum, manner))
        };
        let rows: Vec<TableRow> = bill.lines.iter().map(row).collect();
        let ordered = amount(almanac, bill.ordered(), manner);
        (rows, ordered, amount(almanac, bill.invoiceable(), manner))
    });
    let columns = vec![
        Column::Words("bill.col.what"),
        Column::Figures("bill.col.ordered"),
        Column::Figures("bill.col.handed"),
        Column::Figures("bill.col.price"),
        Column::Figures("bill.col.sum"),
    ];
    let unpriced = (bill.unpriced > 0).then(|| {
        let said = Say::new("bill.unpriced")
            .with("n", bill.unpriced)
            .write(manner);
        view! { <p class="soft small">{said}</p> }
    });
    view! {
        <Section head="bill.title">
            <Table caption="bill.title" columns rows />
            <dl class="facts">
                <div>
                    <dt>{text("bill.ordered")}</dt>
                    <dd>{ordered}</dd>
                </div>
                <div>
                    <dt>{text("bill.due")}</dt>
                    <dd><strong>{due}</strong></dd>
                </div>
            </dl>
            {unpriced}
        </Section>
    }
    .into_any()
}
