//! What a season leaves open: trays with plants, beds that stand, orders, stems in the cooler.

use leptos::prelude::*;
use season::Fact;
use season::almanac::Almanac;
use season::fact::FinishedFact;
use season::ids::{PlantingId, SowingId};
use season::stock::stock;
use season::words::{Say, text};

use crate::forms::names;
use crate::parts::{Contents, ContentsLine, SaveProblem, Saver, Section};
use crate::route::{Area, Route};
use crate::store::Store;

/// A lifecycle that stands for more than a season, as the crop reference tells it.
const STAYS: [&str; 2] = ["perennial", "biennial"];

/// What is open.
#[derive(Clone, PartialEq, Default)]
struct Left {
    /// Trays that are still minded.
    trays: Vec<SowingId>,
    /// Plantings that were cut or are over, of crops that do not stand for years.
    plantings: Vec<(PlantingId, String)>,
    orders: usize,
    stems: u32,
}

fn left(store: Store) -> Left {
    let (today, manner) = (store.today(), store.manner());
    store.with_almanac(|almanac| {
        let season = almanac.season();
        let trays = season.sowings.values().filter(|sowing| sowing.in_trays());
        let plantings = season.plantings.values().filter(|planting| {
            planting.finished.is_none() && !planting.cuts.is_empty() && !stays(almanac, planting)
        });
        let orders = season.orders.values();
        Left {
            trays: trays.map(|sowing| sowing.id.clone()).collect(),
            plantings: plantings
                .map(|planting| {
                    let name = names::planting(almanac, &planting.id).write(manner);
                    (planting.id.clone(), name)
                })
                .collect(),
            orders: orders.filter(|order| !order.done && !order.retired).count(),
            stems: stock(almanac, today)
                .batches
                .iter()
                .fold(0, |sum, batch| sum.saturating_add(batch.stems)),
        }
    })
}

fn stays(almanac: &Almanac<'_>, planting: &season::state::Planting) -> bool {
    almanac.crop(&planting.variety).is_some_and(|crop| {
        let life = crop.lifecycle();
        // "Tender perennial grown as annual" is pulled like one.
        STAYS.iter().any(|word| life.contains(word)) && !life.contains("grown as annual")
    })
}

/// What is open, with the ways to settle it.
#[component]
pub(super) fn Open() -> impl IntoView {
    let store = Store::here();
    let saver = Saver::new();
    let left = Memo::new(move |_| left(store));
    view! {
        <Section head="next.open">
            {move || {
                let left = left.get();
                if left == Left::default() {
                    return view! { <p class="soft">{text("next.open.none")}</p> }.into_any();
                }
                view! { <Lines left saver /> }.into_any()
            }}
            <SaveProblem saver />
        </Section>
    }
}

#[component]
fn Lines(left: Left, saver: Saver) -> impl IntoView {
    let store = Store::here();
    let line = |n: usize, key: &'static str, to: Route| {
        (n > 0).then(|| {
            let name = Say::new(key).with("n", n);
            view! { <ContentsLine to name=name /> }
        })
    };
    let trays = line(left.trays.len(), "next.open.trays", Route::Bench);
    let orders = line(left.orders, "next.open.orders", Route::Cooler);
    let stems = line(left.stems as usize, "next.open.stems", Route::Cooler);
    let plantings = (!left.plantings.is_empty()).then(|| {
        let names = left
            .plantings
            .iter()
            .map(|(_, name)| view! { <li>{name.clone()}</li> })
            .collect_view();
        let said = Say::new("next.open.beds")
            .with("n", left.plantings.len())
            .write(store.manner_now());
        let ids: Vec<PlantingId> = left.plantings.iter().map(|(id, _)| id.clone()).collect();
        let clear = move |_| {
            let facts = ids.iter().map(|id| -> Fact {
                FinishedFact {
                    sowing: None,
                    planting: Some(id.clone()),
                    date: store.today_now(),
                }
                .into()
            });
            saver.save(facts.collect(), |_| {});
        };
        view! {
            <details class="why">
                <summary class="why__ask">{said}</summary>
                <ul class="soft small">{names}</ul>
            </details>
            <div class="actions">
                <button class="btn" type="button" on:click=clear>
                    {text("next.open.clear")}
                </button>
                <a class="btn btn--quiet" href=Area::Beds.route().href()>
                    {text(Area::Beds.key())}
                </a>
            </div>
        }
    });
    view! {
        {plantings}
        <Contents>{trays} {orders} {stems}</Contents>
    }
}
