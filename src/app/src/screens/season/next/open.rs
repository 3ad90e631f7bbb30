//! What a season leaves open: trays with plants, beds that stand, orders, stems in the cooler.

use chrono::NaiveDate;
use leptos::prelude::*;
use season::Fact;
use season::almanac::Almanac;
use season::fact::FinishedFact;
use season::ids::{PlantingId, SowingId};
use season::promise::is_over;
use season::stock::stock_today;
use season::words::{Say, text};

use crate::forms::names;
use crate::parts::{Contents, ContentsLine, SaveProblem, Saver, Section};
use crate::route::{Area, Route};
use crate::store::Store;

/// A lifecycle that stands for more than a season, as the crop reference tells it.
const STAYS: [&str; 2] = ["perennial", "biennial"];

/// Stems to come that nobody waits for, and days without a cut after which a planting is taken to be over.
const FEW_STEMS: f64 = 3.0;
const QUIET_DAYS: i64 = 28;

/// What is open.
#[derive(Clone, PartialEq, Default)]
struct Left {
    /// Trays that are still minded.
    trays: Vec<SowingId>,
    /// Plantings that were cut and have nothing to come, of crops that do not stand for years, with their last cut.
    plantings: Vec<(PlantingId, NaiveDate, String)>,
    orders: usize,
    stems: u32,
}

fn left(store: Store) -> Left {
    let manner = store.manner();
    store.outlook().with(|outlook| {
        let (almanac, today) = (outlook.almanac(), outlook.today());
        let season = almanac.season();
        let trays = season.sowings.values().filter(|sowing| sowing.in_trays());
        let to_come = |id: &PlantingId| {
            let forecast = outlook.supply().beds.get(id);
            let weeks = forecast.map_or(&[][..], |forecast| &forecast.weeks);
            weeks.iter().map(|(_, stems)| stems.p50).sum::<f64>()
        };
        let plantings = season.plantings.values().filter_map(|planting| {
            let last = planting.cuts.last()?.date;
            let over = to_come(&planting.id) < FEW_STEMS || (today - last).num_days() > QUIET_DAYS;
            let ends = planting.finished.is_none() && over && !stays(almanac, planting);
            ends.then_some((planting, last))
        });
        let orders = season.orders.values();
        Left {
            trays: trays.map(|sowing| sowing.id.clone()).collect(),
            plantings: plantings
                .map(|(planting, last)| {
                    let name = names::planting(almanac, &planting.id).write(manner);
                    (planting.id.clone(), last, name)
                })
                .collect(),
            orders: orders.filter(|order| !is_over(order, today)).count(),
            stems: stock_today(outlook)
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
            .map(|(_, _, name)| view! { <li>{name.clone()}</li> })
            .collect_view();
        let said = Say::new("next.open.beds")
            .with("n", left.plantings.len())
            .write(store.manner_now());
        let ids: Vec<_> = left
            .plantings
            .iter()
            .map(|(id, last, _)| (id.clone(), *last))
            .collect();
        let clear = move |_| {
            // The bed was free from its last cut on, as far as anybody noted.
            let facts = ids.iter().map(|(id, last)| -> Fact {
                FinishedFact {
                    planting: Some(id.clone()),
                    ..FinishedFact::new(*last)
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
