//! Keeping a count: its day, why cells were lost since, and the save.

use leptos::prelude::*;
use season::Fact;
use season::fact::{CountedFact, LossCause, LostFact};
use season::ids::SowingId;
use season::words::{Say, text};

use super::desk::Counted;
use super::{Bench, Desk};
use crate::forms::of_words;
use crate::parts::read;
use crate::parts::typed::show_first_wrong;
use crate::parts::{Choice, DateField, SaveButton, SaveProblem, Saver, Typed};
use crate::route::Route;
use crate::store::Store;

/// What keeps the count.
#[component]
pub(super) fn Keep(id: SowingId, bench: Bench) -> impl IntoView {
    let store = Store::here();
    let saver = Saver::new();
    let date = Typed::new(store.today_now().to_string());
    let cause = Typed::new("");
    let counted = Memo::new(move |_| bench.desk.with(Desk::result));
    let lost = Memo::new(move |_| counted.with(|counted| counted.lost.0));
    let label = Signal::derive(move || {
        counted.with(|counted| {
            let key = match counted.of {
                _ if !bench.desk.with(Desk::is_begun) => "count.save_none",
                Some(_) => "count.save_some",
                None => "count.save",
            };
            Say::new(key)
                .with("up", counted.up)
                .with_some("of", counted.of)
                .write(store.manner())
        })
    });
    let id = StoredValue::new(id);
    let save = move || {
        if !bench.desk.with_untracked(Desk::is_begun) {
            date.object(Say::new("count.nothing_yet"));
            // The day is folded away, and would keep it to itself.
            return show_first_wrong();
        }
        let Some(day) = date.read(read::date) else {
            return show_first_wrong();
        };
        let counted = counted.get_untracked();
        let mut facts: Vec<Fact> = Vec::new();
        if counted.lost.0 > 0 {
            let Some(cause) = cause.read(cause_of) else {
                return show_first_wrong();
            };
            facts.push(lost_fact(id.get_value(), day, &counted, cause));
        }
        facts.push(
            CountedFact {
                of: counted.of,
                doubles: Some(counted.doubles),
                map: Some(counted.map).filter(|map| map.len() <= season::limits::CELL_MAP.most),
                ..CountedFact::new(id.get_value(), counted.up, day)
            }
            .into(),
        );
        saver.check_and_save(facts, &[("date", date), ("cause", cause)], move |_| {
            store.go_with_slip(&Route::Tray(id.get_value()).href());
        });
    };
    let some_open =
        move || bench.desk.with(Desk::is_begun) && counted.with(|counted| counted.of.is_some());
    view! {
        {move || {
            (lost.get() > 0)
                .then(|| {
                    let options = of_words(&LossCause::LIST);
                    let say = Say::new("count.lost").with("n", lost.get());
                    view! { <Choice typed=cause label=say hint="count.lost_hint" options /> }
                })
        }}
        <details class="fold">
            <summary class="fold__ask">{text("count.other_day")}</summary>
            <DateField typed=date label="field.date" />
        </details>
        {move || some_open().then(|| view! { <p class="soft">{text("count.some_open")}</p> })}
        <SaveProblem saver />
        <div class="actions actions--stay">
            <SaveButton saver label on_tap=Callback::new(move |()| save()) />
        </div>
    }
}

fn cause_of(text: &str) -> Result<LossCause, Say> {
    LossCause::of_word(text).ok_or_else(|| Say::new("typed.not_picked"))
}

fn lost_fact(
    sowing: SowingId,
    date: chrono::NaiveDate,
    counted: &Counted,
    cause: LossCause,
) -> Fact {
    let (number, up) = counted.lost;
    LostFact {
        sowing: Some(sowing),
        up: Some(up),
        ..LostFact::new(cause, number, date)
    }
    .into()
}
