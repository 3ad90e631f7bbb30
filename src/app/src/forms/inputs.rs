//! A form's fields on the page.

use leptos::prelude::*;
use season::Fact;
use season::almanac::Almanac;
use season::words::text;

use super::filled::TICKED;
use super::hints::Hints;
use super::options::{of_pick, of_words, trays_of};
use super::pad::Pad;
use super::spec::{Input, Pick, Spec};
use crate::parts::{
    AreaField, Choice, DateField, NumberField, Picked, SelectField, Stepper, TextField, Typed,
    Words,
};
use crate::store::Store;

/// So many names of one's own are shown at once.
const NAMES_IN_SIGHT: usize = 6;

/// What the fields look at besides their own text.
#[derive(Clone, Copy)]
pub(super) struct Around {
    /// The fact as far as the form reads.
    pub(super) fact: Memo<Fact>,
    /// What is good to know.
    pub(super) hints: Memo<Hints>,
}

/// One field.
pub(super) fn field(spec: Spec, typed: Typed, around: Around) -> AnyView {
    let label = spec.label;
    let hint = hint(spec, around);
    match spec.input {
        Input::Date => view! { <DateField typed label hint /> }.into_any(),
        Input::Count { least, most, pad } => {
            // From nothing, tapping starts at the bottom.
            view! {
                <Stepper typed label hint low=least high=most />
                {pad.then(|| view! { <Pad typed /> })}
            }
            .into_any()
        }
        Input::Measure(measure, ..) => {
            view! { <NumberField typed label hint measure /> }.into_any()
        }
        Input::Number(..) => view! { <NumberField typed label hint /> }.into_any(),
        Input::Money => {
            let unit = Store::here().with_almanac_now(currency);
            view! { <NumberField typed label hint unit /> }.into_any()
        }
        Input::Line => view! { <TextField typed label hint /> }.into_any(),
        Input::Area => view! { <AreaField typed label hint /> }.into_any(),
        Input::Tick => view! { <TickLine typed label /> }.into_any(),
        Input::Word(list) => {
            let options = with_none(of_words(list), spec);
            view! { <Choice typed label hint options /> }.into_any()
        }
        Input::Pick(pick) => picked(spec, pick, typed, hint, around),
        Input::TrayNumber => {
            let options = around.fact.with_untracked(trays_of);
            if options.len() < 2 {
                return ().into_any();
            }
            view! { <Choice typed label hint options /> }.into_any()
        }
    }
}

fn picked(spec: Spec, pick: Pick, typed: Typed, hint: Words, around: Around) -> AnyView {
    let store = Store::here();
    let label = spec.label;
    let options = move |fact: &Fact| {
        let chosen = typed.text_now();
        let found = store.with_almanac_now(|almanac| of_pick(almanac, pick, fact, &chosen));
        with_none(found, spec)
    };
    let first = around.fact.with_untracked(options);
    // Lots follow the variety; nothing else changes while the form is open.
    if first.len() <= NAMES_IN_SIGHT && pick != Pick::Lot {
        view! { <Choice typed label hint options=first /> }.into_any()
    } else {
        let options = Signal::derive(move || around.fact.with(options));
        view! { <SelectField typed label hint options /> }.into_any()
    }
}

fn with_none(mut options: Vec<Picked>, spec: Spec) -> Vec<Picked> {
    if !spec.needed {
        let none = match spec.input {
            Input::Pick(Pick::Space(_)) if spec.label == "field.where" => "space.outdoors",
            _ => "field.none",
        };
        options.insert(0, Picked::new("", none));
    }
    options
}

/// What stands beside an amount of money.
pub fn currency(almanac: &Almanac<'_>) -> String {
    almanac
        .season()
        .place()
        .map_or_else(String::new, |place| place.currency.clone())
}

/// What to know beside a field.
fn hint(spec: Spec, around: Around) -> Words {
    let store = Store::here();
    let text = Signal::derive(move || {
        let manner = store.manner();
        let known = around.hints.with(|hints| {
            hints
                .iter()
                .filter(|(name, _)| *name == spec.name)
                .map(|(_, say)| say.write(manner))
                .collect::<Vec<_>>()
        });
        known.join(" ")
    });
    Words::from(text)
}

#[component]
fn TickLine(typed: Typed, label: &'static str) -> impl IntoView {
    view! {
        <label class="tick">
            <input
                type="checkbox"
                prop:checked=move || typed.text() == TICKED
                on:change=move |event| {
                    typed.put(if event_target_checked(&event) { TICKED } else { "" });
                }
            />
            {text(label)}
        </label>
    }
}
