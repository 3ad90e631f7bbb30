//! The usual caution beside what has a hazard.

use leptos::prelude::*;

use super::{Icon, Words};

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
    let defer = Words::from("caution.defer");
    view! {
        <div class="hazard">
            <p class="hazard__head">
                <Icon name="caution" small=true />
                {move || head.get()}
            </p>
            <p>{move || text.get()}</p>
            <p class="hazard__defer">{move || defer.get()}</p>
        </div>
    }
}
