//! Things that are no longer in use: kept for their history, out of the way.

use leptos::prelude::*;
use season::Fact;
use season::words::text;

use crate::parts::{SaveProblem, Saver};

/// A button that takes a thing out of use or back into it.
#[component]
pub(super) fn Retire(
    /// Whether it is out of use.
    #[prop(into)]
    retired: Signal<bool>,
    /// The entry that says so, or the contrary.
    fact: Callback<bool, Fact>,
) -> impl IntoView {
    let saver = Saver::new();
    let tap = move |_| {
        let retire = !retired.get_untracked();
        saver.save(vec![fact.run(retire)], |_| ());
    };
    let key = move || {
        text(if retired.get() {
            "shed.use_again"
        } else {
            "shed.retire"
        })
    };
    view! {
        <section class="section">
            <SaveProblem saver />
            <p class="soft small">
                {move || retired.get().then(|| text("shed.retired.text"))}
            </p>
            <div class="actions">
                <button
                    class="btn"
                    type="button"
                    aria-busy=move || saver.is_busy().then_some("true")
                    on:click=tap
                >
                    {key}
                </button>
            </div>
        </section>
    }
}
