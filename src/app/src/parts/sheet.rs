//! The sheet in which one thing is recorded: a native dialog, from below on a phone.

use leptos::ev::Event;
use leptos::html::Dialog;
use leptos::prelude::*;
use season::words::text;

use super::form::next_id;
use super::{Icon, Words};
use crate::browser::page;

/// A sheet, open for as long as it is mounted. The browser keeps the focus inside; on closing it returns to where it was.
///
/// Children are a `div.sheet__body` and a `div.sheet__foot`.
#[component]
pub fn Sheet(
    /// What it is for.
    #[prop(into)]
    title: Words,
    /// What it is about.
    #[prop(optional, into)]
    which: Option<Words>,
    /// Called by Escape and the close button: unmount it then.
    on_close: Callback<()>,
    /// Body and foot.
    children: Children,
) -> impl IntoView {
    let dialog = NodeRef::<Dialog>::new();
    let id = next_id();
    let label = id.clone();
    let before = StoredValue::new_local(page::focused());
    Effect::new(move |_| {
        if let Some(dialog) = dialog.get() {
            request_animation_frame(move || {
                if dialog.is_connected() && !dialog.open() {
                    // Refused only for a dialog that is already open.
                    let _shown = dialog.show_modal();
                }
            });
        }
    });
    on_cleanup(move || {
        let element = before.try_get_value().flatten();
        request_animation_frame(move || {
            if let Some(element) = element.filter(|element| element.is_connected()) {
                let _focused = element.focus();
            }
        });
    });
    view! {
        <dialog
            class="sheet"
            aria-labelledby=label
            node_ref=dialog
            on:cancel=move |event: Event| {
                event.prevent_default();
                on_close.run(());
            }
            on:close=move |_| on_close.run(())
        >
            <div class="sheet__head">
                <h2 id=id>{move || title.get()}</h2>
                {which.map(|which| view! { <p class="sheet__which">{move || which.get()}</p> })}
                <button
                    class="btn btn--icon btn--quiet sheet__close"
                    type="button"
                    aria-label=text("sheet.close")
                    on:click=move |_| on_close.run(())
                >
                    <Icon name="close" />
                </button>
            </div>
            {children()}
        </dialog>
    }
}
