//! What the fields of forms have in common, and choices between a few.

use std::sync::atomic::{AtomicU32, Ordering};

use leptos::prelude::*;

use super::{Icon, Typed, Words};

/// An id for an element of the page, not used before.
pub fn next_id() -> String {
    static NEXT: AtomicU32 = AtomicU32::new(1);
    format!("e{}", NEXT.fetch_add(1, Ordering::Relaxed))
}

/// The ids of a field's parts.
#[derive(Debug, Clone)]
pub struct FieldIds {
    /// The input's.
    pub input: String,
    /// The hint's.
    pub hint: String,
    /// The objection's.
    pub error: String,
}

impl FieldIds {
    /// New ones.
    #[expect(clippy::new_without_default, reason = "each call gives other ids")]
    pub fn new() -> Self {
        let input = next_id();
        Self {
            hint: format!("{input}h"),
            error: format!("{input}e"),
            input,
        }
    }

    /// What describes the input, for `aria-describedby`.
    pub fn described_by(&self) -> String {
        format!("{} {}", self.hint, self.error)
    }
}

/// Label, hint and objection around an input.
#[component]
pub fn Field(
    /// Ids of its parts.
    ids: FieldIds,
    /// What is typed.
    typed: Typed,
    /// What it is for.
    label: Words,
    /// What to know before typing.
    hint: Option<Words>,
    /// The input; it takes its id and description from `ids`.
    children: Children,
) -> impl IntoView {
    let (label_for, hint_id) = (ids.input.clone(), ids.hint.clone());
    view! {
        <div class="field">
            <label class="field__label" for=label_for>
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
            <Objection id=ids.error typed />
            {children()}
        </div>
    }
}

/// What is wrong with a field.
#[component]
pub fn Objection(
    /// Its id.
    id: String,
    /// The field.
    typed: Typed,
) -> impl IntoView {
    let store = crate::store::Store::here();
    move || {
        let id = id.clone();
        typed.wrong().map(|why| {
            let why = why.write(store.manner());
            view! {
                <p class="field__error" id=id role="alert">
                    <Icon name="caution" small=true />
                    {why}
                </p>
            }
        })
    }
}

/// One of a few: its value and its words.
#[derive(Clone)]
pub struct Picked {
    /// What stands in [`Typed`] when it is picked.
    pub value: String,
    /// What is shown.
    pub words: Words,
}

impl Picked {
    /// A value and its words.
    pub fn new(value: impl Into<String>, words: impl Into<Words>) -> Self {
        Self {
            value: value.into(),
            words: words.into(),
        }
    }
}

/// A choice between a few, all in sight.
#[component]
pub fn Choice(
    /// What is chosen; holds the value of the one that is.
    typed: Typed,
    /// What it is about.
    #[prop(into)]
    label: Words,
    /// What to know before.
    #[prop(optional, into)]
    hint: Option<Words>,
    /// What there is to choose from.
    options: Vec<Picked>,
    /// Called with the value when one is chosen.
    #[prop(optional)]
    on_pick: Option<Callback<String>>,
) -> impl IntoView {
    let ids = FieldIds::new();
    let name = ids.input.clone();
    let described_by = ids.described_by();
    let options = options
        .into_iter()
        .map(|option| {
            let value = option.value.clone();
            let picked = option.value.clone();
            let words = option.words;
            view! {
                <label class="choice__one">
                    <input
                        type="radio"
                        name=name.clone()
                        value=option.value
                        prop:checked=move || typed.text() == value
                        on:change=move |_| {
                            typed.put(picked.clone());
                            if let Some(on_pick) = on_pick {
                                on_pick.run(picked.clone());
                            }
                        }
                    />
                    <span class="choice__face">{move || words.get()}</span>
                </label>
            }
        })
        .collect_view();
    view! {
        <fieldset class="field" aria-describedby=described_by>
            <legend class="field__label">{move || label.get()}</legend>
            {hint
                .map(|hint| {
                    view! {
                        <span class="field__hint" id=ids.hint.clone()>
                            {move || hint.get()}
                        </span>
                    }
                })}
            <Objection id=ids.error typed />
            <div class="choice">{options}</div>
        </fieldset>
    }
}
