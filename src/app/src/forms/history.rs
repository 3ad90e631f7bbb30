//! What was recorded of a tray or a planting, newest first, each with the way to correct it and to take it back.

use chrono::NaiveDate;
use leptos::prelude::*;
use leptos::task::spawn_local;
use season::Season;
use season::almanac::Almanac;
use season::ids::EntryId;
use season::state::Event;
use season::words::{Manner, Say, text};

use super::recorder::{Asked, Recorder};
use super::spec::fields_of;
use super::tell::tell;
use crate::store::Store;

/// Entries that go with one when it is taken back, itself first: the records of a sowing go with the sowing, those of a planting
/// with its planting.
pub fn belonging(season: &Season, entry: &EntryId) -> Vec<EntryId> {
    let mut all = vec![entry.clone()];
    let mut add = |history: &[EntryId]| {
        for id in history {
            if !all.contains(id) {
                all.push(id.clone());
            }
        }
    };
    let sowing = season
        .sowings
        .values()
        .find(|s| s.id.as_str() == entry.as_str());
    if let Some(sowing) = sowing {
        add(&sowing.history);
        for planting in &sowing.plantings {
            if let Some(planting) = season.plantings.get(planting) {
                add(&planting.history);
            }
        }
    }
    let planting = season
        .plantings
        .values()
        .find(|p| p.id.as_str() == entry.as_str());
    if let Some(planting) = planting {
        add(&planting.history);
    }
    // Notes are about an id, in nobody's history.
    for note in season
        .notes
        .iter()
        .filter(|n| n.about.as_deref() == Some(entry.as_str()))
    {
        add(core::slice::from_ref(&note.entry));
    }
    all
}

/// One line of a history.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// Its entry.
    pub entry: EntryId,
    /// When it happened.
    pub date: NaiveDate,
    /// What.
    pub say: Say,
    /// Who recorded it and when.
    pub by: Say,
    /// Whether it has a form to correct it in.
    pub has_form: bool,
}

/// The lines of entries with the notes about `about`, the latest day first.
pub fn lines(almanac: &Almanac<'_>, entries: &[EntryId], about: &str) -> Vec<Told> {
    let season = almanac.season();
    let notes = season
        .notes
        .iter()
        .filter(|note| note.about.as_deref() == Some(about))
        .map(|note| &note.entry);
    let mut told: Vec<(&Event, Told)> = entries
        .iter()
        .chain(notes)
        .filter_map(|id| season.events.get(id))
        .filter_map(|event| Some((event, line(almanac, event)?)))
        .collect();
    told.sort_by_key(|(event, told)| core::cmp::Reverse((told.date, event.at)));
    told.into_iter().map(|(_, told)| told).collect()
}

fn line(almanac: &Almanac<'_>, event: &Event) -> Option<Told> {
    let device = almanac
        .season()
        .devices
        .get(&event.device)
        .filter(|name| !name.is_empty())
        .cloned();
    Some(Told {
        entry: event.entry.clone(),
        date: event.fact.date()?,
        say: tell(almanac, &event.fact),
        by: Say::new("history.by")
            .with_some("device", device)
            .with_some("date", event.at.wall().map(|wall| wall.date_naive()))
            .with_some("revised", event.revised.then_some(1u32)),
        has_form: fields_of(&event.fact).is_some(),
    })
}

/// A history on the page.
#[component]
pub fn History(
    /// The entries, and what notes are about.
    #[prop(into)]
    of: Signal<(Vec<EntryId>, String)>,
    /// The screen's recorder.
    recorder: Recorder,
) -> impl IntoView {
    let store = Store::here();
    move || {
        let manner = store.manner();
        let (entries, about) = of.get();
        let lines = store
            .with_almanac(|almanac| lines(almanac, &entries, &about))
            .into_iter()
            .map(|told| view! { <Line told manner recorder /> })
            .collect_view();
        view! { <ol class="history">{lines}</ol> }
    }
}

#[component]
fn Line(told: Told, manner: Manner, recorder: Recorder) -> impl IntoView {
    let entry = StoredValue::new(told.entry);
    let (what, what_again) = (told.say.write(manner), told.say.write(manner));
    let correct = told.has_form.then(|| {
        view! {
            <button
                class="btn"
                type="button"
                aria-haspopup="dialog"
                on:click=move |_| recorder.correct(&entry.get_value())
            >
                {text("history.correct")}
                <span class="visually-hidden">": " {what_again}</span>
            </button>
        }
    });
    view! {
        <li data-guarded="">
            <details class="history__line">
                <summary class="history__ask">
                    <span class="history__day">{manner.date(told.date)}</span>
                    <span class="history__what">{told.say.write(manner)}</span>
                </summary>
                <p class="soft small">{told.by.write(manner)}</p>
                <div class="actions">
                    {correct}
                    <button
                        class="btn"
                        type="button"
                        on:click=move |_| take_back(entry.get_value(), recorder)
                    >
                        {text("history.take_back")}
                        <span class="visually-hidden">": " {what}</span>
                    </button>
                </div>
            </details>
        </li>
    }
}

/// Takes a record back; asks first when others go with it.
pub fn take_back(entry: EntryId, recorder: Recorder) {
    let store = Store::here();
    let all = belonging(&store.season_now(), &entry);
    if all.len() > 1 {
        return recorder.ask(Asked::TakeBack(all));
    }
    spawn_local(async move {
        // What went wrong stands beside the date, as for every recording.
        let _told = store.undo(&all).await;
    });
}
