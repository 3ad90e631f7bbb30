//! What was recorded of one thing, newest first, with correcting and taking back.

use leptos::prelude::*;
use leptos::task::spawn_local;
use season::almanac::Almanac;
use season::ids::EntryId;
use season::words::{Manner, Say, text};

use crate::browser::clock;
use crate::forms::tell::tell;
use crate::forms::{Asked, Recorder};
use crate::parts::{Icon, Notice, NoticeKind, Section};
use crate::store::Store;

/// One record.
#[derive(Clone, PartialEq)]
struct Shown {
    entry: EntryId,
    said: String,
    when: String,
    revised: bool,
    /// Whether it began what it belongs to: taking it back takes the rest back too.
    first: bool,
}

fn shown(almanac: &Almanac<'_>, entry: &EntryId, manner: Manner) -> Option<Shown> {
    let event = almanac.season().events.get(entry)?;
    let by = almanac.season().devices.get(&event.device);
    let recorded = event.at.ms();
    let recorded_on = clock::date_of(recorded).map(|date| manner.day_month(date));
    let when = Say::new("log.when")
        .with_some("date", event.fact.date())
        .with_some("recorded", recorded_on)
        .with("time", clock::time_of(recorded))
        .with_some("by", by.cloned());
    Some(Shown {
        entry: entry.clone(),
        said: tell(almanac, &event.fact).write(manner),
        when: when.write(manner),
        revised: event.revised,
        first: false,
    })
}

/// The records of one thing.
#[component]
pub fn RecordLog(
    /// Its entries in the order in which they were recorded; the first one made it.
    entries: Signal<Vec<EntryId>>,
    /// The screen's.
    recorder: Recorder,
) -> impl IntoView {
    let store = Store::here();
    let rows = Memo::new(move |_| {
        let (entries, manner) = (entries.get(), store.manner());
        store.with_almanac(|almanac| {
            let first = entries.first();
            let mut rows: Vec<Shown> = entries
                .iter()
                .rev()
                .filter_map(|entry| shown(almanac, entry, manner))
                .collect();
            for row in &mut rows {
                row.first = Some(&row.entry) == first;
            }
            rows
        })
    });
    let wrong = RwSignal::new(None::<Say>);
    let take_back = Callback::new(move |row: Shown| {
        let all = entries.get_untracked();
        if row.first && all.len() > 1 {
            return recorder.ask(Asked::TakeBack(all));
        }
        spawn_local(async move {
            if let Err(error) = store.undo(&[row.entry]).await {
                wrong.try_set(Some(error.say()));
            }
        });
    });
    view! {
        <Section head="log.head">
            {move || {
                wrong
                    .get()
                    .map(|why| {
                        view! {
                            <Notice kind=NoticeKind::Problem head="saver.not_saved" text=why />
                        }
                    })
            }}
            <ul class="facts">
                {move || {
                    rows.get()
                        .into_iter()
                        .map(|row| view! { <Row row recorder take_back /> })
                        .collect_view()
                }}
            </ul>
        </Section>
    }
}

#[component]
fn Row(row: Shown, recorder: Recorder, take_back: Callback<Shown>) -> impl IntoView {
    let said = row.said.clone();
    let said_again = row.said.clone();
    let entry = row.entry.clone();
    let whole = row.clone();
    view! {
        <li data-guarded="">
            <p>
                {row.said} " "
                {row.revised.then(|| view! { <span class="chip">{text("log.revised")}</span> })}
            </p>
            <p class="soft small">{row.when}</p>
            <div class="actions">
                <button
                    class="btn btn--quiet"
                    type="button"
                    aria-haspopup="dialog"
                    on:click=move |_| recorder.correct(&entry)
                >
                    {text("log.correct")}
                    <span class="visually-hidden">": " {said}</span>
                </button>
                <button
                    class="btn btn--quiet"
                    type="button"
                    on:click=move |_| take_back.run(whole.clone())
                >
                    <Icon name="undo" small=true />
                    {text("history.take_back")}
                    <span class="visually-hidden">": " {said_again}</span>
                </button>
            </div>
        </li>
    }
}
