//! Seed that the plan needs, against seed in hand.

use leptos::prelude::*;
use season::almanac::Almanac;
use season::seed::{SeedNeed, seed_needs};
use season::words::{Say, text};

use super::planning::Planning;
use crate::forms::names;
use crate::parts::{Back, Frame, Section};
use crate::route::{Area, Route, SeasonPart, ShedPart};
use crate::store::Store;

/// The seed list.
#[component]
pub fn SeedScreen() -> impl IntoView {
    let planning = Planning::here();
    view! {
        <Frame title="seed.title" area=Area::Season back=Back::to_area(Area::Season)>
            <Section head="seed.head">
                <p class="section__lead">{text("seed.lead")}</p>
                <p class="soft" role="status">
                    {move || planning.is_busy().then(|| text("plan.busy"))}
                </p>
                <SeedTable planning />
                <div class="actions">
                    <a class="btn" href=Route::Season(SeasonPart::Plan).href()>
                        {text("seed.to_plan")}
                    </a>
                    <a class="btn" href=Route::Shed(ShedPart::Varieties).href()>
                        {text("seed.to_lots")}
                    </a>
                </div>
            </Section>
        </Frame>
    }
}

#[derive(Clone, PartialEq)]
struct Row {
    name: Say,
    need: SeedNeed,
}

fn rows(almanac: &Almanac<'_>, planning: Planning) -> Option<Vec<Row>> {
    let plan = planning.plan()?;
    let rows = seed_needs(almanac, &plan.proposals)
        .into_iter()
        .map(|need| Row {
            name: names::variety(almanac, &need.variety),
            need,
        })
        .collect();
    Some(rows)
}

/// Seed needed by variety.
#[component]
pub fn SeedTable(planning: Planning) -> impl IntoView {
    let store = Store::here();
    move || {
        let rows = store.with_almanac(|almanac| rows(almanac, planning))?;
        if rows.is_empty() {
            return Some(view! { <p class="soft">{text("seed.none")}</p> }.into_any());
        }
        let manner = store.manner();
        let lines = rows
            .into_iter()
            .map(|row| {
                let in_hand = row
                    .need
                    .in_hand
                    .map_or_else(|| text("seed.not_said").to_owned(), |n| n.to_string());
                let order = match row.need.to_order() {
                    0 => text("seed.enough").to_owned(),
                    n => n.to_string(),
                };
                view! {
                    <tr role="row">
                        <th scope="row" role="rowheader">
                            {row.name.write(manner)}
                        </th>
                        <td class="table__num" role="cell" data-label=text("seed.col.need")>
                            {row.need.needed()}
                        </td>
                        <td class="table__num" role="cell" data-label=text("seed.col.in_hand")>
                            {in_hand}
                        </td>
                        <td class="table__num" role="cell" data-label=text("seed.col.order")>
                            {order}
                        </td>
                    </tr>
                }
            })
            .collect_view();
        Some(
            view! {
                <table class="table table--stack" role="table">
                    <caption class="visually-hidden">{text("seed.title")}</caption>
                    <thead role="rowgroup">
                        <tr role="row">
                            <th scope="col" role="columnheader">
                                {text("year.col.what")}
                            </th>
                            <th scope="col" role="columnheader" class="table__num">
                                {text("seed.col.need")}
                            </th>
                            <th scope="col" role="columnheader" class="table__num">
                                {text("seed.col.in_hand")}
                            </th>
                            <th scope="col" role="columnheader" class="table__num">
                                {text("seed.col.order")}
                            </th>
                        </tr>
                    </thead>
                    <tbody role="rowgroup">{lines}</tbody>
                </table>
            }
            .into_any(),
        )
    }
}
