//! The bench as a place: a slot for every tray, what is free, and which trays want something today.

use leptos::prelude::*;
use season::fact::TemperatureFact;
use season::ids::SowingId;
use season::tasks::{Due, Subject, Task};
use season::words::{Say, text};

use super::racks::{Rack, SLOTS_MOST};
use crate::forms::{Recorder, names};
use crate::route::Route;
use crate::store::Store;

/// Whether a tray has something due.
fn wants(tasks: &[Task], id: &SowingId, today: chrono::NaiveDate) -> bool {
    let subject = Subject::Sowing(id.clone());
    tasks
        .iter()
        .any(|task| task.subject == subject && task.due(today) <= Due::Today)
}

/// Whether all trays are shown or only those that want something today.
#[derive(Clone, Copy)]
pub(super) struct Wanting(RwSignal<bool>);

impl Wanting {
    pub(super) fn new() -> Self {
        Self(RwSignal::new(false))
    }

    /// Those of some sowings that are shown. Follows changes.
    pub(super) fn of(self, all: &[SowingId], store: Store) -> Vec<SowingId> {
        if !self.0.get() {
            return all.to_vec();
        }
        let (outlook, today) = (store.outlook(), store.today());
        let due = |id: &&SowingId| wants(outlook.tasks(), id, today);
        all.iter().filter(due).cloned().collect()
    }
}

/// All trays, or those that want something today.
#[component]
pub(super) fn WantingChoice(wanting: Wanting) -> impl IntoView {
    let store = Store::here();
    let n = move || {
        let (outlook, today) = (store.outlook(), store.today());
        let season = store.season();
        let standing = season.sowings.values().filter(|sowing| sowing.in_trays());
        standing
            .filter(|sowing| wants(outlook.tasks(), &sowing.id, today))
            .count()
    };
    let label = move || {
        Say::new("bench.show_wanting")
            .with("n", n())
            .write(store.manner())
    };
    let Wanting(only) = wanting;
    view! {
        <div class="brushes no-print" role="group" aria-label=text("bench.show")>
            <button
                class="brush"
                type="button"
                aria-pressed=move || (!only.get()).to_string()
                on:click=move |_| only.set(false)
            >
                {text("bench.show_all")}
            </button>
            <button
                class="brush"
                type="button"
                aria-pressed=move || only.get().to_string()
                on:click=move |_| only.set(true)
            >
                {label}
            </button>
        </div>
    }
}

/// A space's slots: who stands in each, which are free, and when the next ones will be.
#[component]
pub(super) fn Slots(rack: Rack, recorder: Recorder) -> impl IntoView {
    let store = Store::here();
    let (outlook, today, manner) = (store.outlook(), store.today_now(), store.manner_now());
    let Some(space) = rack.space.clone() else {
        return ().into_any();
    };
    let note = {
        let fact = TemperatureFact {
            space: Some(space),
            ..TemperatureFact::new(0.0, 0.0, today)
        };
        view! {
            <button
                class="btn"
                type="button"
                aria-haspopup="dialog"
                on:click=move |_| recorder.record(fact.clone())
            >
                {text("bench.note_temperature")}
            </button>
        }
    };
    let said = rack.free().map(|free| {
        let next = rack
            .next_to_go(outlook.tasks())
            .filter(|(date, _)| *date >= today);
        Say::new(if free > 0 { "bench.free" } else { "bench.full" })
            .with("n", free)
            .with_some("date", next.map(|(date, _)| date))
            .with_some("going", next.map(|(_, trays)| trays))
            .write(manner)
    });
    let taken = rack
        .slots
        .iter()
        .map(|id| {
            let name = store.with_almanac_now(|almanac| {
                (
                    names::sowing(almanac, id).write(manner),
                    names::slot(almanac, id),
                )
            });
            let due = wants(outlook.tasks(), id, today);
            view! {
                <li>
                    <a
                        class="slot"
                        data-due=due.then_some("true")
                        href=Route::Tray(id.clone()).href()
                        aria-label=name.0
                    >
                        {name.1}
                    </a>
                </li>
            }
        })
        .collect_view();
    let left = SLOTS_MOST.saturating_sub(rack.slots.len() as u32);
    let free = rack.free().unwrap_or(0);
    let free_slots = (0..free.min(left))
        .map(|_| view! { <li class="slot slot--free">{text("bench.slot_free")}</li> })
        .collect_view();
    let more = (free > left).then(|| {
        let say = Say::new("bench.more_slots").with("n", free - left);
        view! { <li class="slot slot--free">{say.write(manner)}</li> }
    });
    view! {
        <ul class="slots" aria-label=text("bench.slots")>
            {taken}
            {free_slots}
            {more}
        </ul>
        <div class="slots__said">
            {said.map(|said| view! { <p class="soft">{said}</p> })}
            {note}
        </div>
    }
    .into_any()
}
