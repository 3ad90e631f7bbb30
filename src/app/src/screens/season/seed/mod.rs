//! The seed order: what the plan sows, less usable seed in hand, in packets, to print, copy or save.

mod notices;
mod table;

use leptos::prelude::*;
use season::seed::{SPARE_USUAL, SeedOrder, as_csv, as_text, seed_order};
use season::words::text;

use super::planning::Planning;
use crate::parts::hand_on::{HandOn, Ready};
use crate::parts::{Back, Frame, Section, Tick};
use crate::route::{Area, Route, SeasonPart, ShedPart};
use crate::store::Store;

use notices::Notices;
use table::OrderTable;

/// The seed order of a plan; none before the first plan is ready.
fn reckoned(planning: Planning, spare: RwSignal<bool>) -> Memo<Option<SeedOrder>> {
    let store = Store::here();
    Memo::new(move |_| {
        let plan = planning.plan()?;
        let today = store.today();
        let share = if spare.get() { SPARE_USUAL } else { 0.0 };
        Some(store.with_almanac(|almanac| seed_order(almanac, &plan.proposals, today, share)))
    })
}

/// The order as text and as a table.
fn ready(store: Store, order: &SeedOrder) -> Ready {
    let manner = store.manner();
    let (text, table) = store.with_almanac(|almanac| {
        let text = as_text(almanac, order, manner);
        (text, as_csv(almanac, order))
    });
    let name = format!("stemtide-seed-{}.csv", store.today());
    Ready::with_table(text, name, &table)
}

/// The seed order.
#[component]
pub fn SeedScreen() -> impl IntoView {
    let store = Store::here();
    let planning = Planning::here();
    let spare = RwSignal::new(true);
    let order = reckoned(planning, spare);
    view! {
        <Frame title="seed.title" area=Area::Season back=Back::to_area(Area::Season)>
            <Section head="seed.head">
                <p class="section__lead no-print">{text("seed.lead")}</p>
                <p class="soft no-print" role="status">
                    {move || planning.is_busy().then(|| text("plan.busy"))}
                </p>
                <div class="field no-print">
                    <Tick ticked=spare label="seed.spare" />
                    <p class="field__hint">{text("seed.spare.hint")}</p>
                </div>
                <OrderTable order />
                <Notices order />
            </Section>
            {move || {
                let order = order.get().filter(|order| !order.lines.is_empty())?;
                Some(view! { <HandOn ready=ready(store, &order) /> })
            }}
            <div class="actions no-print">
                <a class="btn" href=Route::Season(SeasonPart::Plan).href()>
                    {text("seed.to_plan")}
                </a>
                <a class="btn" href=Route::Shed(ShedPart::Varieties).href()>
                    {text("seed.to_lots")}
                </a>
            </div>
        </Frame>
    }
}

/// Seed to order in one sentence, with the usual spare.
#[component]
pub fn SeedSum(
    /// The plan that it is for.
    planning: Planning,
) -> impl IntoView {
    let store = Store::here();
    let order = reckoned(planning, RwSignal::new(true));
    move || {
        let order = order.get()?;
        let said = if order.lines.is_empty() {
            text("seed.none").to_owned()
        } else {
            table::total(&order.totals, store.manner())
        };
        Some(view! { <p class="section__lead">{said}</p> })
    }
}
