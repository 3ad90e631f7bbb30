//! Sowing a tray: what the plan says is due first, then any variety.

use leptos::prelude::*;
use season::tasks::Task;
use season::words::text;

use super::to_sow;
use crate::forms::{RecordSheet, Recorder, names};
use crate::parts::{Back, Drawing, Empty, Frame, Icon, Section};
use crate::route::{Area, Route, ShedPart};
use crate::screens::task_list::TaskList;
use crate::store::Store;

/// What to sow.
#[component]
pub fn SowScreen() -> impl IntoView {
    let recorder = Recorder::new();
    view! {
        <Frame title="bench.empty.go" area=Area::Bench back=Back::to_area(Area::Bench)>
            <div class="spread">
                <div class="leaf">
                    <Planned recorder />
                </div>
                <div class="leaf">
                    <Varieties recorder />
                </div>
            </div>
            <RecordSheet recorder />
        </Frame>
    }
}

#[component]
fn Planned(recorder: Recorder) -> impl IntoView {
    let store = Store::here();
    let planned = Memo::new(move |_| {
        let outlook = store.outlook();
        to_sow(outlook.tasks()).cloned().collect::<Vec<Task>>()
    });
    let any = Memo::new(move |_| planned.with(|planned| !planned.is_empty()));
    move || {
        any.get().then(|| {
            view! {
                <Section head="sow.planned">
                    <TaskList tasks=planned recorder />
                </Section>
            }
        })
    }
}

#[component]
fn Varieties(recorder: Recorder) -> impl IntoView {
    let store = Store::here();
    move || {
        let manner = store.manner();
        let varieties = store.with_almanac(|almanac| {
            almanac
                .season()
                .varieties_in_order()
                .into_iter()
                .map(|v| (v.id.clone(), names::variety(almanac, &v.id).write(manner)))
                .collect::<Vec<_>>()
        });
        if varieties.is_empty() {
            return view! {
                <Empty drawing=Drawing::Bench head="sow.no_variety" text="sow.no_variety.text">
                    <a
                        class="btn btn--primary btn--great"
                        href=Route::Shed(ShedPart::Varieties).href()
                    >
                        {text("sow.no_variety.go")}
                    </a>
                </Empty>
            }
            .into_any();
        }
        let lines = varieties
            .into_iter()
            .map(|(id, name)| {
                view! {
                    <li data-guarded="">
                        <button
                            class="contents__link contents__link--deed"
                            type="button"
                            aria-haspopup="dialog"
                            on:click=move |_| recorder.sow(&id)
                        >
                            <Icon name="sow" />
                            <span>
                                <span class="contents__name">{name}</span>
                            </span>
                            <Icon name="chevron" />
                        </button>
                    </li>
                }
            })
            .collect_view();
        view! {
            <Section head="sow.any">
                <ul class="contents">{lines}</ul>
            </Section>
        }
        .into_any()
    }
}
