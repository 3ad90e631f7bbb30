//! Handing an order over: the stems that go out for it, and whether it is complete.

use chrono::NaiveDate;
use leptos::prelude::*;
use season::Fact;
use season::fact::{HandedOverFact, OrderFact, SoldFact};
use season::ids::{OrderId, VarietyId};
use season::limits::STEMS_MAX;
use season::words::{Say, text};

use crate::forms::names;
use crate::parts::read;
use crate::parts::{
    Caution, DateField, SaveButton, SaveProblem, Saver, Sheet, Stepper, Tick, Typed, Words,
};
use crate::screens::hazard::hazards;
use crate::store::Store;

/// The fact that an order is complete, or that it is open again.
pub fn done(of: OrderId, done: bool) -> OrderFact {
    OrderFact {
        done: Some(done),
        ..OrderFact::new(of)
    }
}

/// An order, or one delivery of a standing order, with the stems in the cooler for it.
#[derive(Debug, Clone, PartialEq)]
pub struct Handing {
    /// Which order.
    pub order: OrderId,
    /// Which delivery of a standing order.
    pub due: Option<NaiveDate>,
    /// For whom.
    pub who: String,
    /// Stems in the cooler for it, by variety.
    pub there: Vec<(VarietyId, u32)>,
    /// Whether that is all it asks for.
    pub whole: bool,
}

/// What closes an order, or one delivery of a standing order.
fn closing(order: &OrderId, due: Option<NaiveDate>, date: NaiveDate) -> Fact {
    match due {
        Some(due) => HandedOverFact::new(order.clone(), due, date).into(),
        None => done(order.clone(), true).into(),
    }
}

/// Stems of a variety that go out.
#[derive(Clone)]
struct Going {
    variety: VarietyId,
    name: Say,
    stems: Typed,
}

/// The facts as typed; `None` when a field does not read.
fn rows(
    going: &[Going],
    order: &OrderId,
    due: Option<NaiveDate>,
    date: NaiveDate,
    complete: bool,
) -> Option<Vec<(Fact, Option<Typed>)>> {
    let mut rows: Vec<(Fact, Option<Typed>)> = Vec::new();
    let mut all_read = true;
    for one in going {
        let read = |text: &str| read::count(text, 0..=STEMS_MAX);
        match one.stems.read_if_any(read) {
            Some(Some(stems)) if stems > 0 => {
                let fact = SoldFact {
                    order: Some(order.clone()),
                    due,
                    ..SoldFact::new(one.variety.clone(), stems, date)
                };
                rows.push((fact.into(), Some(one.stems)));
            }
            Some(_) => {}
            None => all_read = false,
        }
    }
    if complete {
        rows.push((closing(order, due, date), None));
    }
    all_read.then_some(rows)
}

/// The sheet.
#[component]
pub fn HandSheet(told: Handing, handing: RwSignal<Option<Handing>>) -> impl IntoView {
    let store = Store::here();
    let today = store.today_now();
    let (going, caution) = store.with_almanac_now(|almanac| {
        let going: Vec<Going> = told
            .there
            .iter()
            .map(|(variety, stems)| Going {
                variety: variety.clone(),
                name: names::variety(almanac, variety),
                stems: Typed::new(stems.to_string()),
            })
            .collect();
        let caution = hazards(almanac, told.there.iter().map(|(variety, _)| variety));
        (going, caution)
    });
    let date = Typed::new(today.to_string());
    let complete = RwSignal::new(told.whole);
    let saver = Saver::new();
    let neither = RwSignal::new(false);
    let (id, due) = (StoredValue::new(told.order), told.due);
    let all = StoredValue::new(going.clone());
    let on_close = Callback::new(move |()| handing.set(None));
    let save = Callback::new(move |()| {
        neither.set(false);
        let day = date.read(read::date);
        let rows = all.with_value(|going| {
            let day = day.unwrap_or(today);
            id.with_value(|id| rows(going, id, due, day, complete.get_untracked()))
        });
        match (day, rows) {
            (Some(_), Some(rows)) if rows.is_empty() => neither.set(true),
            (Some(_), Some(rows)) => {
                saver.check_and_save_rows(rows, date, move |_| handing.set(None));
            }
            _ => crate::parts::typed::show_first_wrong(),
        }
    });
    let label = Signal::derive(move || {
        let asked = saver.has_asked();
        text(if asked {
            "form.all_the_same"
        } else {
            "hand.save"
        })
        .to_owned()
    });
    let lead = if going.is_empty() {
        "hand.nothing"
    } else {
        "hand.lead"
    };
    let fields = going
        .into_iter()
        .map(|one| view! { <Stepper typed=one.stems label=one.name high=STEMS_MAX by=5 /> })
        .collect_view();
    view! {
        <Sheet title="hand.title" which=told.who on_close>
            <div class="sheet__body">
                <p>{text(lead)}</p>
                {fields}
                <DateField typed=date label="field.date" />
                <Tick ticked=complete label="hand.done" />
                {caution.map(|say| view! { <Caution head="caution.head" text=Words::from(say) /> })}
                <p class="field__error" role="alert">
                    {move || neither.get().then(|| text("hand.neither"))}
                </p>
                <SaveProblem saver quiet=true />
            </div>
            <div class="sheet__foot">
                <button class="btn" type="button" on:click=move |_| handing.set(None)>
                    {text("form.not_now")}
                </button>
                <SaveButton saver label on_tap=save />
            </div>
        </Sheet>
    }
}
