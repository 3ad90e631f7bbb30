//! A day of any year in two fields, day and month.

use leptos::prelude::*;
use season::month_day::MonthDay;
use season::typed::MONTHS;
use season::words::{Say, text};

use crate::parts::form::{FieldIds, Objection};
use crate::parts::{Typed, read};

/// A day of the year in two fields.
#[derive(Clone, Copy)]
pub(super) struct TypedDay {
    /// The day; what is wrong stands at it.
    pub(super) day: Typed,
    month: Typed,
}

impl TypedDay {
    pub(super) fn new(day: Option<MonthDay>) -> Self {
        let part = |f: fn(MonthDay) -> u32| day.map(|d| f(d).to_string()).unwrap_or_default();
        Self {
            day: Typed::new(part(MonthDay::day)),
            month: Typed::new(part(MonthDay::month)),
        }
    }

    pub(super) fn put(self, day: MonthDay) {
        self.day.put(day.day().to_string());
        self.month.put(day.month().to_string());
    }

    pub(super) fn is_blank(self) -> bool {
        self.day.text_now().trim().is_empty() && self.month.text_now().is_empty()
    }

    /// `None` when it is wrong, `Some(None)` when there is nothing.
    pub(super) fn read_if_any(self) -> Option<Option<MonthDay>> {
        if self.is_blank() {
            self.day.put("");
            return Some(None);
        }
        self.read().map(Some)
    }

    pub(super) fn read(self) -> Option<MonthDay> {
        let month: Option<u32> = self.month.text_now().parse().ok();
        self.day.read(|text| {
            let day = read::count(text, 1..=31)?;
            let month = month.ok_or_else(|| Say::new("place.no_month"))?;
            MonthDay::new(month, day).ok_or_else(|| Say::new("place.no_such_day"))
        })
    }
}

/// Day and month side by side, under one label.
#[component]
pub(super) fn DayField(typed: TypedDay, label: &'static str) -> impl IntoView {
    let ids = FieldIds::new();
    let described_by = ids.described_by();
    let month_id = format!("{}m", ids.input);
    let months = move || {
        let chosen = typed.month.text();
        let blank = view! {
            <option value="" prop:selected=chosen.is_empty()>
                {text("place.month")}
            </option>
        };
        let months = (1..=12u32)
            .zip(MONTHS)
            .map(|(n, key)| {
                let value = n.to_string();
                let is_chosen = value == chosen;
                view! {
                    <option value=value prop:selected=is_chosen>
                        {text(key)}
                    </option>
                }
            })
            .collect_view();
        (blank, months)
    };
    view! {
        <fieldset class="field">
            <legend class="field__label">{text(label)}</legend>
            <Objection id=ids.error typed=typed.day />
            <div class="row">
                <label class="visually-hidden" for=ids.input.clone()>
                    {text("place.day")}
                </label>
                <input
                    class="input input--short"
                    id=ids.input
                    type="text"
                    inputmode="numeric"
                    autocomplete="off"
                    placeholder=text("place.day")
                    aria-describedby=described_by
                    aria-invalid=move || typed.day.wrong().map(|_| "true")
                    prop:value=move || typed.day.text()
                    on:input=move |event| typed.day.put(event_target_value(&event))
                />
                <label class="visually-hidden" for=month_id.clone()>
                    {text("place.month")}
                </label>
                <select
                    class="input input--short"
                    id=month_id
                    on:change=move |event| {
                        typed.month.put(event_target_value(&event));
                        typed.day.put(typed.day.text_now());
                    }
                >
                    {months}
                </select>
            </div>
        </fieldset>
    }
}
