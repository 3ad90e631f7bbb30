//! The first day of the next season.

use leptos::prelude::*;
use season::crop_year::next_name;
use season::fact::SeasonFact;
use season::ids::SeasonId;
use season::state::CropYear;
use season::words::{Say, text};

use crate::browser::{clock, random};
use crate::parts::typed::show_first_wrong;
use crate::parts::{DateField, SaveButton, SaveProblem, Saver, Section, TextField, Typed, read};
use crate::store::Store;

/// The season that was begun last, if it is not long ago.
fn latest(store: Store) -> Option<CropYear> {
    let season = store.season();
    let begun = season.seasons.values().filter(|year| !year.retired);
    begun
        .max_by_key(|year| (year.from, year.id.clone()))
        .cloned()
}

/// Begins the next season.
#[component]
pub(super) fn Begin() -> impl IntoView {
    let store = Store::here();
    let saver = Saver::new();
    let today = store.today_now();
    let from = Typed::new(today.to_string());
    let name = Typed::new(next_name(today));
    let begin = Callback::new(move |()| {
        let date = from.read(read::date);
        let called = name.read(read::name);
        let (Some(date), Some(called)) = (date, called) else {
            return show_first_wrong();
        };
        let fact = SeasonFact {
            name: Some(called),
            from: Some(date),
            ..SeasonFact::new(SeasonId::mint(clock::now_ms(), random::bits()))
        };
        saver.check_and_save(vec![fact.into()], &[("from", from), ("name", name)], |_| {});
    });
    let now = Memo::new(move |_| latest(store));
    let undo = move |year: CropYear| {
        let fact = SeasonFact {
            retired: Some(true),
            ..SeasonFact::new(year.id)
        };
        saver.save(vec![fact.into()], |_| {});
    };
    view! {
        <Section head="begin.head">
            <p class="section__lead">{text("begin.lead")}</p>
            {move || {
                now.get()
                    .map(|year| {
                        let said = Say::new("begin.now")
                            .with("name", year.name.clone())
                            .with_some("from", year.from)
                            .write(store.manner());
                        view! {
                            <p>
                                {said} " "
                                <button
                                    class="btn btn--quiet"
                                    type="button"
                                    on:click=move |_| undo(year.clone())
                                >
                                    {text("begin.undo")}
                                </button>
                            </p>
                        }
                    })
            }}
            <TextField typed=name label="begin.name" />
            <DateField typed=from label="begin.from" hint="begin.from.hint" />
            <SaveProblem saver />
            <div class="actions">
                <SaveButton saver label="begin.do" on_tap=begin />
            </div>
        </Section>
    }
}
