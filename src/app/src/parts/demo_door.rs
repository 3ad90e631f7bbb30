//! The way into the demo season; the way out stands above every screen.

use leptos::prelude::*;
use leptos::task::spawn_local;
use season::words::{Say, text};

use super::{Notice, NoticeKind};
use crate::store::Store;

/// The button that opens the demo season, and why it did not open. Nothing while it is open.
#[component]
pub fn DemoDoor() -> impl IntoView {
    let store = Store::here();
    let wrong = RwSignal::new(None::<Say>);
    let busy = RwSignal::new(false);
    let enter = move |_| {
        if busy.get_untracked() {
            return;
        }
        busy.set(true);
        wrong.set(None);
        spawn_local(async move {
            let result = store.enter_demo().await;
            busy.try_set(false);
            wrong.try_set(result.err());
        });
    };
    let why = move || {
        let why = wrong.get()?;
        Some(view! { <Notice kind=NoticeKind::Problem head="demo.not_open" text=why /> })
    };
    let door = move || {
        view! {
            <div class="actions">
                <button
                    class="btn"
                    type="button"
                    aria-busy=move || busy.get().then_some("true")
                    on:click=enter
                >
                    {text("demo.open")}
                </button>
            </div>
        }
    };
    view! {
        {why}
        {move || (!store.in_demo()).then(door)}
    }
}
