//! A tray's card on the bench.

use leptos::prelude::*;
use season::forecast::TrayStage;
use season::ids::SowingId;
use season::tasks::{Due, Subject, Task};
use season::verdict::{Verdict, verdict};
use season::words::{Say, text};

use crate::forms::{OfTray, Recorder, names};
use crate::route::Route;
use crate::store::Store;

/// Cells above which a tick stands for two.
const TICKS: u32 = 80;

/// What a card shows.
#[derive(Debug, Clone, PartialEq)]
struct Shown {
    day: i64,
    name: Say,
    place: Say,
    up: Option<u32>,
    cells: u32,
    verdict: Verdict,
    next: Option<Task>,
    growing: bool,
}

/// A tray with its day, its count, and what to do.
#[component]
pub(super) fn TrayCard(id: SowingId, recorder: Recorder) -> impl IntoView {
    let store = Store::here();
    let for_shown = id.clone();
    let shown = Memo::new(move |_| shown(store, &for_shown));
    move || {
        shown
            .get()
            .map(|shown| view! { <Card shown id=id.clone() recorder /> })
    }
}

fn shown(store: Store, id: &SowingId) -> Option<Shown> {
    let (outlook, today) = (store.outlook(), store.today());
    store.with_almanac(|almanac| {
        let sowing = almanac.season().sowings.get(id)?;
        let forecast = outlook.supply().trays.get(id)?;
        let subject = Subject::Sowing(id.clone());
        Some(Shown {
            day: forecast.day,
            name: names::variety(almanac, &sowing.variety),
            place: Say::new("bench.sown")
                .with_some("number", names::number(sowing))
                .with("cells", names::cells(sowing))
                .with("date", sowing.date)
                .with_some("label", sowing.label.clone()),
            up: forecast.standing.up,
            cells: forecast.standing.cells,
            verdict: verdict(sowing, forecast, outlook.tasks(), today),
            next: outlook
                .tasks()
                .iter()
                .find(|task| task.subject == subject && task.due(today) <= Due::Today)
                .cloned(),
            growing: forecast.stage > TrayStage::Emerging,
        })
    })
}

#[component]
fn Card(shown: Shown, id: SowingId, recorder: Recorder) -> impl IntoView {
    let manner = Store::here().manner_now();
    let class = if shown.growing {
        "tray tray--done"
    } else {
        "tray"
    };
    let expect = shown.verdict.expect.map(|say| say.write(manner));
    let name = shown.name.write(manner);
    view! {
        <article class=class data-guarded="">
            <p class="stake">
                <span>{text("bench.day")}</span>
                <span class="stake__num">{shown.day}</span>
            </p>
            <div>
                <h3 class="tray__name">
                    <a href=Route::Tray(id.clone()).href()>{name.clone()}</a>
                </h3>
                <p class="tray__place">{shown.place.write(manner)}</p>
                <Count up=shown.up cells=shown.cells expect />
                <p class="tray__verdict">
                    <strong>{shown.verdict.advice.write(manner)}</strong>
                </p>
                <Actions next=shown.next id name growing=shown.growing recorder />
            </div>
        </article>
    }
}

#[component]
fn Count(up: Option<u32>, cells: u32, expect: Option<String>) -> impl IntoView {
    let manner = Store::here().manner_now();
    let of = Say::new(if up.is_some() {
        "bench.of_up"
    } else {
        "bench.not_counted"
    })
    .with("of", cells)
    .write(manner);
    view! {
        <p class="tray__count">
            {up.map(|up| view! { <span class="tray__up">{up}</span> })}
            <span>{of}</span>
            {expect.map(|expect| view! { <span class="soft">{expect}</span> })}
        </p>
        <Ticks up=up.unwrap_or(0) cells />
    }
}

/// One tick a cell, those that are up tall; the count beside it says the same.
#[component]
pub(super) fn Ticks(up: u32, cells: u32) -> impl IntoView {
    let by = if cells > TICKS { 2 } else { 1 };
    let all = cells.div_ceil(by);
    let tall = up.min(cells).div_ceil(by);
    let share = if all == 0 {
        0.0
    } else {
        f64::from(tall) / f64::from(all) * 100.0
    };
    (all > 0).then(|| {
        view! {
            <svg class="ticks" aria-hidden="true">
                <line
                    class="ticks__all"
                    x1="0"
                    x2="100%"
                    y1="17"
                    y2="17"
                    pathLength=all
                    stroke-dasharray="0.45 0.55"
                />
                {(tall > 0)
                    .then(|| {
                        view! {
                            <line
                                class="ticks__up"
                                x1="0"
                                x2=format!("{share:.2}%")
                                y1="10"
                                y2="10"
                                pathLength=tall
                                stroke-dasharray="0.45 0.55"
                            />
                        }
                    })}
            </svg>
        }
    })
}

#[component]
fn Actions(
    next: Option<Task>,
    id: SowingId,
    name: String,
    growing: bool,
    recorder: Recorder,
) -> impl IntoView {
    let others = if growing {
        [OfTray::Lost, OfTray::Move]
    } else {
        [OfTray::Count, OfTray::Lost]
    };
    // What the task already offers is not offered twice.
    let counting = next.as_ref().map(|task| task.kind.key()) == Some("task.count");
    let main = next.map(|task| {
        let what = text(task.kind.key());
        view! {
            <button
                class="btn btn--primary"
                type="button"
                aria-haspopup="dialog"
                on:click=move |_| recorder.task(&task)
            >
                {what}
                <span class="visually-hidden">": " {name.clone()}</span>
            </button>
        }
    });
    let others = others
        .into_iter()
        .filter(|what| !(counting && *what == OfTray::Count))
        .map(|what| {
            let id = id.clone();
            view! {
                <button
                    class="btn"
                    type="button"
                    aria-haspopup="dialog"
                    on:click=move |_| recorder.of_tray(what, &id)
                >
                    {text(what.key())}
                </button>
            }
        })
        .collect_view();
    view! { <div class="actions">{main} {others}</div> }
}
