//! The usual caution beside what has a hazard.

use leptos::prelude::*;

use super::{Icon, Words};

/// The same in one line that unfolds, for a list of tasks; in full it stands where the work is recorded.
#[component]
pub fn FoldedCaution(
    /// What is hazardous.
    #[prop(into)]
    head: Words,
    /// The usual caution.
    #[prop(into)]
    text: Words,
) -> impl IntoView {
    view! {
        <details class="hazard hazard--folded">
            <summary class="hazard__head">
                <Icon name="caution" small=true />
                {move || head.get()}
            </summary>
            <Said text />
        </details>
    }
}

/// A caution that defers to the label, local code and licensed practice.
#[component]
pub fn Caution(
    /// What is hazardous.
    #[prop(into)]
    head: Words,
    /// The usual caution.
    #[prop(into)]
    text: Words,
) -> impl IntoView {
    view! {
        <div class="hazard">
            <p class="hazard__head">
                <Icon name="caution" small=true />
                {move || head.get()}
            </p>
            <Said text />
        </div>
    }
}

#[component]
fn Said(text: Words) -> impl IntoView {
    let defer = Words::from("caution.defer");
    view! {
        <p>{move || text.get()}</p>
        <p class="hazard__defer">{move || defer.get()}</p>
    }
}
