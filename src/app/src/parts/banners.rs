//! What stands above every screen until it is dealt with.

use leptos::prelude::*;
use leptos::task::spawn_local;
use season::words::{Say, text};

use super::{Notice, NoticeKind};
use crate::app::Here;
use crate::browser::boot::{self, Told};
use crate::browser::page;
use crate::route::{Area, Route, ShedPart};
use crate::store::Store;

/// The banners of a place: what concerns every screen, and in Today and the Shed the reminder to export.
#[component]
pub fn Banners(
    /// Where one is.
    area: Area,
) -> impl IntoView {
    let store = Store::here();
    let here = Here::now();
    let reminds = matches!(area, Area::Today | Area::Shed);
    view! {
        <div class="stack banners no-print">
            {move || {
                here.is_astray()
                    .then(|| {
                        view! {
                            <Notice
                                kind=NoticeKind::Info
                                head="frame.astray"
                                text="frame.astray.text"
                            />
                        }
                    })
            }}
            {move || store.in_demo().then(|| view! { <DemoBar /> })}
            {move || store.given_up().then(|| view! { <GivenUp /> })}
            {move || {
                store
                    .in_memory()
                    .then(|| {
                        view! {
                            <Notice
                                kind=NoticeKind::Caution
                                head="banner.memory"
                                text="banner.memory.text"
                            />
                        }
                    })
            }}
            {move || store.was_told(Told::UpdateReady).then(|| view! { <UpdateReady /> })}
            {move || {
                store.export_due().filter(|_| reminds).map(|n| view! { <ExportDue n /> })
            }}
        </div>
    }
}

#[component]
fn DemoBar() -> impl IntoView {
    let store = Store::here();
    let head = Signal::derive(move || {
        let manner = store.manner();
        Say::new("demo.bar")
            .with("date", manner.full_date(store.today()))
            .write(manner)
    });
    let leave = move |_| {
        spawn_local(async move {
            store.leave_demo().await;
            page::go(&Route::Today.href());
        });
    };
    view! {
        <aside class="demo">
            <p class="demo__said">
                <strong>{head}</strong>
                <span class="soft">{text("demo.bar.text")}</span>
            </p>
            <button class="btn" type="button" on:click=leave>
                {text("demo.leave")}
            </button>
        </aside>
    }
}

#[component]
fn GivenUp() -> impl IntoView {
    view! {
        <Notice kind=NoticeKind::Problem head="banner.given_up" text="banner.given_up.text">
            <button class="btn btn--primary" type="button" on:click=|_| page::reload()>
                {text("banner.reload")}
            </button>
        </Notice>
    }
}

#[component]
fn UpdateReady() -> impl IntoView {
    view! {
        <Notice kind=NoticeKind::Info head="banner.update" text="banner.update.text">
            <button class="btn" type="button" on:click=|_| boot::take_update()>
                {text("banner.update.take")}
            </button>
        </Notice>
    }
}

#[component]
fn ExportDue(n: usize) -> impl IntoView {
    let head = Say::new("banner.export").with("n", n);
    view! {
        <Notice kind=NoticeKind::Caution head=head text="banner.export.text">
            <a class="btn" href=Route::Shed(ShedPart::Export).href()>
                {text("banner.export.go")}
            </a>
        </Notice>
    }
}
