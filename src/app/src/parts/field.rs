//! Fields of forms. Each shows its label, its hint, what is wrong with it, and what was typed, which stays.

use leptos::ev::Event;
use leptos::prelude::*;

use super::form::{Field, FieldIds, Picked};
use super::read::{self, Measure};
use super::{Typed, Words};
use crate::store::Store;

/// An input of one line inside a field.
#[component]
fn Line(
    ids: FieldIds,
    typed: Typed,
    class: &'static str,
    kind: &'static str,
    mode: &'static str,
) -> impl IntoView {
    let described_by = ids.described_by();
    view! {
        <input
            class=class
            id=ids.input
            type=kind
            inputmode=mode
            autocomplete="off"
            autocapitalize="off"
            spellcheck="false"
            aria-describedby=described_by
            aria-invalid=move || typed.wrong().map(|_| "true")
            prop:value=move || typed.text()
            on:input=move |event| typed.put(event_target_value(&event))
        />
    }
}

/// A field for a text of one line.
#[component]
pub fn TextField(
    /// What is typed.
    typed: Typed,
    /// What it is for.
    #[prop(into)]
    label: Words,
    /// What to know before typing.
    #[prop(optional, into)]
    hint: Option<Words>,
) -> impl IntoView {
    let ids = FieldIds::new();
    view! {
        <Field ids=ids.clone() typed label hint>
            <Line ids typed class="input" kind="text" mode="text" />
        </Field>
    }
}

/// A field for a number, with a unit behind it. Read it with [`read::count`], [`read::decimal`], [`read::share`] or
/// [`read::quantity`].
#[component]
pub fn NumberField(
    /// What is typed.
    typed: Typed,
    /// What it is for.
    #[prop(into)]
    label: Words,
    /// What to know before typing.
    #[prop(optional, into)]
    hint: Option<Words>,
    /// A quantity in the reader's units.
    #[prop(optional)]
    measure: Option<Measure>,
    /// Any other unit.
    #[prop(optional, into)]
    unit: Option<Words>,
) -> impl IntoView {
    let ids = FieldIds::new();
    let store = Store::here();
    let unit = move || match (measure, &unit) {
        (Some(measure), _) => season::words::text(measure.unit_key(store.manner())).to_owned(),
        (None, Some(unit)) => unit.get(),
        (None, None) => String::new(),
    };
    view! {
        <Field ids=ids.clone() typed label hint>
            <span class="with-unit">
                // Text, not number: a browser takes away what it can't read, and the objection with it.
                <Line ids typed class="input" kind="text" mode="decimal" />
                <span>{unit}</span>
            </span>
        </Field>
    }
}

/// A field for a date. Read it with [`read::date`].
#[component]
pub fn DateField(
    /// What is typed: `2027-02-15`.
    typed: Typed,
    /// What it is for.
    #[prop(into)]
    label: Words,
    /// What to know before typing.
    #[prop(optional, into)]
    hint: Option<Words>,
) -> impl IntoView {
    let ids = FieldIds::new();
    view! {
        <Field ids=ids.clone() typed label hint>
            <Line ids typed class="input" kind="date" mode="none" />
        </Field>
    }
}

/// A field for a week, typed as number, as `2027-W14` or as a date in it. Read it with [`read::week`]; below the field stands
/// which week was understood.
#[component]
pub fn WeekField(
    /// What is typed.
    typed: Typed,
    /// What it is for.
    #[prop(into)]
    label: Words,
    /// What to know before typing.
    #[prop(optional, into)]
    hint: Option<Words>,
) -> impl IntoView {
    let ids = FieldIds::new();
    let store = Store::here();
    let understood = move || {
        let week = read::week(&typed.text(), store.today()).ok()?;
        let manner = store.manner();
        let say = season::words::Say::new("week.understood")
            .with("week", week.to_string())
            .with("from", manner.full_date(week.monday()));
        Some(say.write(manner))
    };
    view! {
        <Field ids=ids.clone() typed label hint>
            <Line ids typed class="input input--short" kind="text" mode="text" />
            <span class="field__hint" aria-live="polite">
                {understood}
            </span>
        </Field>
    }
}

/// A field for a text of several lines.
#[component]
pub fn AreaField(
    /// What is typed.
    typed: Typed,
    /// What it is for.
    #[prop(into)]
    label: Words,
    /// What to know before typing.
    #[prop(optional, into)]
    hint: Option<Words>,
) -> impl IntoView {
    let ids = FieldIds::new();
    let (id, described_by) = (ids.input.clone(), ids.described_by());
    view! {
        <Field ids typed label hint>
            <textarea
                class="input"
                id=id
                aria-describedby=described_by
                aria-invalid=move || typed.wrong().map(|_| "true")
                prop:value=move || typed.text()
                on:input=move |event| typed.put(event_target_value(&event))
            ></textarea>
        </Field>
    }
}

/// A choice out of a list that is too long to show. An empty value is none.
#[component]
pub fn SelectField(
    /// What is chosen; holds the value of the one that is.
    typed: Typed,
    /// What it is for.
    #[prop(into)]
    label: Words,
    /// What to know before choosing.
    #[prop(optional, into)]
    hint: Option<Words>,
    /// What there is to choose from.
    #[prop(into)]
    options: Signal<Vec<Picked>>,
) -> impl IntoView {
    let ids = FieldIds::new();
    let (id, described_by) = (ids.input.clone(), ids.described_by());
    let lines = move || {
        let chosen = typed.text();
        options
            .get()
            .into_iter()
            .map(|option| {
                let is_chosen = option.value == chosen;
                view! {
                    <option value=option.value.clone() prop:selected=is_chosen>
                        {option.words.get()}
                    </option>
                }
            })
            .collect_view()
    };
    view! {
        <Field ids typed label hint>
            <select
                class="input"
                id=id
                aria-describedby=described_by
                aria-invalid=move || typed.wrong().map(|_| "true")
                on:change=move |event: Event| typed.put(event_target_value(&event))
            >
                {lines}
            </select>
        </Field>
    }
}

/// Yes or no.
#[component]
pub fn Tick(
    /// Whether it is ticked.
    ticked: RwSignal<bool>,
    /// What it means.
    #[prop(into)]
    label: Words,
) -> impl IntoView {
    view! {
        <label class="tick">
            <input
                type="checkbox"
                prop:checked=move || ticked.get()
                on:change=move |event| ticked.set(event_target_checked(&event))
            />
            {move || label.get()}
        </label>
    }
}
