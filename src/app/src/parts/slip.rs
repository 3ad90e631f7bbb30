//! The slip that says what was saved, with its way back.

use leptos::prelude::*;
use leptos::task::spawn_local;
use season::words::text;

use super::Icon;
use crate::store::Store;

/// The page's one slip.
#[component]
pub fn SavedSlip() -> impl IntoView {
    let store = Store::here();
    let undo = move |_| {
        let Some(slip) = store.slip() else { return };
        store.put_slip_away();
        spawn_local(async move {
            // What went wrong stands beside the date, as for every recording.
            let _told = store.undo(&slip.entries).await;
        });
    };
    view! {
        // The region stays, so that readers announce what comes into it.
        <div role="status">
            {move || {
                store
                    .slip()
                    .map(|slip| {
                        let said = slip.said.write(store.manner());
                        view! {
                            <div class="slip" data-guarded="">
                                <p class="slip__said">
                                    <Icon name="saved" />
                                    {said}
                                </p>
                                <button class="btn" type="button" on:click=undo>
                                    <Icon name="undo" small=true />
                                    {text("slip.undo")}
                                </button>
                            </div>
                        }
                    })
            }}
        </div>
    }
}
