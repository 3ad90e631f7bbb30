//! The seed order as a table, each row with what made its figures.

use leptos::prelude::*;
use season::almanac::Almanac;
use season::seed::{SeedLine, SeedOrder, Totals, money};
use season::words::{Manner, Say, text};

use crate::forms::names;
use crate::parts::why::Reasons;
use crate::store::Store;

/// Heads of the figures' columns, after the variety's name.
const COLUMNS: [&str; 6] = [
    "seed.col.need",
    "seed.col.in_hand",
    "seed.col.order",
    "seed.col.packets",
    "seed.col.cost",
    "seed.col.left",
];

/// A line in words.
struct Told {
    name: String,
    cells: [String; COLUMNS.len()],
    line: SeedLine,
}

fn told(almanac: &Almanac<'_>, line: SeedLine, manner: Manner) -> Told {
    let or = |cell: Option<String>, key| cell.unwrap_or_else(|| text(key).to_owned());
    let count = |n: u32| n.to_string();
    let has_to = line.to_order.value > 0;
    let is_known = almanac
        .variety(&line.variety)
        .is_some_and(|v| v.packet_seeds.is_some());
    let in_hand = if line.has_no_lot() {
        text("seed.no_lot").to_owned()
    } else if line.lots.iter().all(|lot| lot.left.is_none()) {
        text("seed.not_said").to_owned()
    } else {
        count(line.usable.value)
    };
    let packets = line.packets.map(|packets| {
        Say::new("seed.packets")
            .with("n", packets.number)
            .with("size", packets.size)
            .write(manner)
    });
    let nothing = || String::from("\u{2013}");
    let cells = [
        count(line.needed.value.saturating_add(line.spare)),
        in_hand,
        or(has_to.then(|| count(line.to_order.value)), "seed.enough"),
        match packets {
            Some(packets) => packets,
            None if has_to && !is_known => text("seed.packet_not_known").to_owned(),
            None => nothing(),
        },
        match line.packets.map(|packets| packets.cost()) {
            Some(cost) => or(cost.map(money), "seed.price_not_known"),
            None => nothing(),
        },
        line.left_over.map_or_else(nothing, count),
    ];
    Told {
        name: names::variety(almanac, &line.variety).write(manner),
        cells,
        line,
    }
}

/// Seed needed, in hand and to order, by variety.
#[component]
pub(super) fn OrderTable(
    /// The order; none before it is reckoned.
    order: Memo<Option<SeedOrder>>,
) -> impl IntoView {
    let store = Store::here();
    move || {
        let order = order.get()?;
        if order.lines.is_empty() {
            return Some(view! { <p class="soft">{text("seed.none")}</p> }.into_any());
        }
        let manner = store.manner();
        let rows = store.with_almanac(|almanac| {
            let lines = order.lines.into_iter();
            lines
                .map(|line| told(almanac, line, manner))
                .collect::<Vec<_>>()
        });
        let rows = rows.into_iter().map(row).collect_view();
        let heads = COLUMNS
            .map(|key| {
                view! {
                    <th scope="col" role="columnheader" class="table__num">
                        {text(key)}
                    </th>
                }
            })
            .collect_view();
        let sum = total(&order.totals, manner);
        Some(
            view! {
                <table class="table table--stack" role="table">
                    <caption class="visually-hidden">{text("seed.title")}</caption>
                    <thead role="rowgroup">
                        <tr role="row">
                            <th scope="col" role="columnheader">
                                {text("seed.col.what")}
                            </th>
                            {heads}
                        </tr>
                    </thead>
                    <tbody role="rowgroup">{rows}</tbody>
                </table>
                <p class="lead table__sum" role="status">
                    {sum}
                </p>
            }
            .into_any(),
        )
    }
}

/// All of it in one sentence.
pub(super) fn total(totals: &Totals, manner: Manner) -> String {
    Say::new("seed.total")
        .with("seeds", totals.seeds)
        .with_some("packets", (totals.packets > 0).then_some(totals.packets))
        .with_some("cost", totals.cost.map(money))
        .write(manner)
}

fn row(told: Told) -> impl IntoView {
    let Told { name, cells, line } = told;
    let figures = COLUMNS
        .into_iter()
        .zip(cells)
        .map(|(key, cell)| {
            view! {
                <td class="table__num" role="cell" data-label=text(key)>
                    {cell}
                </td>
            }
        })
        .collect_view();
    let columns = (COLUMNS.len() + 1).to_string();
    let of = name.clone();
    let chains = [
        ("seed.col.need", line.needed.why),
        ("seed.col.in_hand", line.usable.why),
        ("seed.col.order", line.to_order.why),
    ]
    .map(|(key, reasons)| {
        view! {
            <h4>{text(key)}</h4>
            <Reasons reasons />
        }
    })
    .collect_view();
    view! {
        <tr role="row">
            <th scope="row" role="rowheader">
                {name}
            </th>
            {figures}
        </tr>
        <tr role="row" class="table__why no-print">
            <td role="cell" colspan=columns>
                <details class="fold">
                    <summary class="fold__ask">
                        {text("seed.why")} <span class="visually-hidden">": " {of}</span>
                    </summary>
                    <div class="why__panel">{chains}</div>
                </details>
            </td>
        </tr>
    }
}
