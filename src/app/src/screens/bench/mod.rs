//! The bench: trays where they stand, what to sow, and one tray in full.

mod card;
mod count;
mod find;
mod labels;
pub mod racks;
mod slots;
mod sow;
mod tray;

use leptos::prelude::*;
use season::ids::SowingId;
use season::tasks::{Task, TaskKind};
use season::words::{Say, text};

use self::card::TrayCard;
pub use self::count::CountScreen;
pub use self::find::FindScreen;
pub use self::labels::LabelsScreen;
use self::racks::{Rack, racks};
use self::slots::{Slots, Wanting};
pub use self::sow::SowScreen;
pub use self::tray::TrayScreen;
use super::task_list::TaskList;
use crate::forms::{RecordSheet, Recorder, names};
use crate::parts::{Drawing, Empty, Frame, Icon, Section, Words};
use crate::route::{Area, Route};
use crate::store::Store;

/// All trays.
#[component]
pub fn BenchScreen() -> impl IntoView {
    let store = Store::here();
    let recorder = Recorder::new();
    let found = Memo::new(move |_| racks(&store.season(), store.outlook().supply(), store.today()));
    let wanting = Wanting::new();
    view! {
        <Frame title="place.bench" area=Area::Bench>
            <ToSow recorder />
            {move || {
                found
                    .with(|found| {
                        if found.is_empty() {
                            return view! { <NoTrays /> }.into_any();
                        }
                        let (sowings, trays) = found.tally();
                        let tally = Say::new("bench.tally")
                            .with("n", sowings)
                            .with("trays", trays)
                            .write(store.manner());
                        let racks = found
                            .racks
                            .iter()
                            .map(|rack| {
                                view! { <RackSection rack=rack.clone() wanting recorder /> }
                            })
                            .collect_view();
                        view! {
                            <p class="lead">{tally}</p>
                            <SowButton />
                            <slots::WantingChoice wanting />
                            {racks}
                            <Ended ids=found.ended.clone() />
                        }
                            .into_any()
                    })
            }}
            <RecordSheet recorder />
        </Frame>
    }
}

/// What a screen of one sowing is called: its variety.
fn title_of(store: Store, id: &SowingId) -> Signal<String> {
    let id = id.clone();
    Signal::derive(move || {
        let manner = store.manner();
        store.with_almanac(|almanac| {
            let sowing = almanac.season().sowings.get(&id);
            sowing.map_or_else(
                || text("tray.unknown").to_owned(),
                |sowing| names::variety(almanac, &sowing.variety).write(manner),
            )
        })
    })
}

#[component]
fn NoTrays() -> impl IntoView {
    view! {
        <Empty drawing=Drawing::Bench head="bench.empty" text="bench.empty.text">
            <a class="btn btn--primary btn--great" href=Route::Sow.href()>
                {text("bench.empty.go")}
            </a>
        </Empty>
    }
}

#[component]
fn SowButton() -> impl IntoView {
    view! {
        <div class="actions no-print">
            <a class="btn" href=Route::Sow.href()>
                <Icon name="sow" small=true />
                {text("do.sow")}
            </a>
            <a class="btn" href=Route::Find.href()>
                {text("bench.find")}
            </a>
            <a class="btn" href=Route::Labels(None).href()>
                {text("bench.labels")}
            </a>
        </div>
    }
}

/// Sowings to do, as accepted from the plan.
pub(super) fn to_sow(tasks: &[Task]) -> impl Iterator<Item = &Task> {
    tasks.iter().filter(|task| task.kind == TaskKind::Sow)
}

/// Accepted sowings that are due or come within the week.
#[component]
fn ToSow(recorder: Recorder) -> impl IntoView {
    let store = Store::here();
    let soon = Memo::new(move |_| {
        let (outlook, today) = (store.outlook(), store.today());
        to_sow(outlook.tasks())
            .filter(|task| task.due(today) < season::tasks::Due::Later)
            .cloned()
            .collect::<Vec<Task>>()
    });
    let any = Memo::new(move |_| soon.with(|soon| !soon.is_empty()));
    let tally = Signal::derive(move || {
        let n = soon.with(Vec::len);
        Say::new("today.tally").with("n", n).write(store.manner())
    });
    move || {
        any.get().then(|| {
            view! {
                <Section head="bench.to_sow" tally=tally>
                    <TaskList tasks=soon recorder />
                </Section>
            }
        })
    }
}

#[component]
fn RackSection(rack: Rack, wanting: Wanting, recorder: Recorder) -> impl IntoView {
    let store = Store::here();
    let season = store.season_now();
    let space = rack.space.as_ref().and_then(|id| season.spaces.get(id));
    let head = match space {
        Some(space) if space.name.is_empty() => Words::from(space.what.key()),
        Some(space) => Words::from(space.name.clone()),
        None => Words::from("bench.nowhere"),
    };
    let tally = match rack.room {
        Some(room) => Say::new("bench.room_used")
            .with("n", rack.trays)
            .with("room", room),
        None => Say::new("bench.trays").with("n", rack.trays),
    };
    let empty = rack.sowings.is_empty() && rack.room.is_none();
    let sowings = StoredValue::new(rack.sowings.clone());
    let cards = move || {
        let shown = sowings.with_value(|all| wanting.of(all, store));
        shown
            .into_iter()
            .map(|id| view! { <TrayCard id recorder /> })
            .collect_view()
    };
    view! {
        <Section head=head tally=tally>
            {empty.then(|| view! { <p class="soft">{text("bench.rack_empty")}</p> })}
            <Slots rack recorder />
            {cards}
        </Section>
    }
}

/// Sowings of which nothing is left in trays.
#[component]
fn Ended(ids: Vec<SowingId>) -> impl IntoView {
    let store = Store::here();
    if ids.is_empty() {
        return ().into_any();
    }
    let manner = store.manner_now();
    let tally = Say::new("bench.ended_tally")
        .with("n", ids.len())
        .write(manner);
    let lines = store.with_almanac_now(|almanac| {
        ids.iter()
            .map(|id| (id.clone(), names::sowing(almanac, id).write(manner)))
            .collect::<Vec<_>>()
    });
    let lines = lines
        .into_iter()
        .map(|(id, name)| {
            view! {
                <li>
                    <a class="contents__link" href=Route::Tray(id).href()>
                        <span>
                            <span class="contents__name">{name}</span>
                        </span>
                        <Icon name="chevron" />
                    </a>
                </li>
            }
        })
        .collect_view();
    view! {
        <details class="section fold">
            <summary class="section__head fold__ask">
                <h2>{text("bench.ended")}</h2>
                <span class="section__tally">{tally}</span>
            </summary>
            <ul class="contents">{lines}</ul>
        </details>
    }
    .into_any()
}
