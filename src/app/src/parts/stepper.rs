//! A number for a gloved thumb: typed, or tapped up and down.

use leptos::prelude::*;
use season::words::text;

use super::form::{FieldIds, Objection};
use super::read;
use super::{Icon, Typed, Words};

/// A whole number with a button for fewer and one for more. Read it with [`read::count`].
#[component]
pub fn Stepper(
    /// What is typed.
    typed: Typed,
    /// What is counted.
    #[prop(into)]
    label: Words,
    /// What to know before counting.
    #[prop(optional, into)]
    hint: Option<Words>,
    /// Smallest number that tapping reaches.
    #[prop(optional)]
    low: u32,
    /// Largest number that tapping reaches.
    high: u32,
    /// How far one tap goes.
    #[prop(default = 1)]
    by: u32,
) -> impl IntoView {
    let ids = FieldIds::new();
    let label_id = format!("{}l", ids.input);
    let described_by = ids.described_by();
    let (hint_id, error_id) = (ids.hint.clone(), ids.error.clone());
    // From a text that is no number, tapping starts at the bottom.
    let step = move |up: bool| {
        let now = read::count(&typed.text_now(), 0..=u32::MAX);
        let next = match (now, up) {
            (Ok(now), true) => now.saturating_add(by).clamp(low, high),
            (Ok(now), false) => now.saturating_sub(by).clamp(low, high),
            (Err(_), _) => low,
        };
        typed.put(next.to_string());
    };
    view! {
        <div class="field">
            <label class="field__label" id=label_id.clone() for=ids.input.clone()>
                {move || label.get()}
            </label>
            {hint
                .map(|hint| {
                    view! {
                        <span class="field__hint" id=hint_id>
                            {move || hint.get()}
                        </span>
                    }
                })}
            <Objection id=error_id typed />
            <div class="stepper" role="group" aria-labelledby=label_id>
                <button
                    class="stepper__by"
                    type="button"
                    aria-label=text("stepper.fewer")
                    on:click=move |_| step(false)
                >
                    <Icon name="minus" />
                </button>
                <input
                    class="stepper__num"
                    id=ids.input
                    type="text"
                    inputmode="numeric"
                    autocomplete="off"
                    aria-describedby=described_by
                    aria-invalid=move || typed.wrong().map(|_| "true")
                    prop:value=move || typed.text()
                    on:input=move |event| typed.put(event_target_value(&event))
                />
                <button
                    class="stepper__by"
                    type="button"
                    aria-label=text("stepper.more")
                    on:click=move |_| step(true)
                >
                    <Icon name="plus" />
                </button>
            </div>
        </div>
    }
}
