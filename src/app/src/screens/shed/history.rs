//! The latest entries, each with its way back.

use std::collections::BTreeMap;

use leptos::prelude::*;
use leptos::task::spawn_local;
use season::almanac::Almanac;
use season::ids::EntryId;
use season::state::taken_back;
use season::words::faults::kind_key;
use season::words::{Arg, Manner, Say, text};
use season::{Entry, Fact, Log};

use super::back_to;
use crate::browser::clock;
use crate::forms::names;
use crate::forms::tell::{about, planting_of, sowing_of, tell};
use crate::parts::{Frame, Icon, Notice, NoticeKind, Section, Words};
use crate::route::{Area, Route, ShedPart, Which};
use crate::store::Store;

/// Entries that are shown.
const SHOWN_MAX: usize = 100;

/// One entry, ready to be shown.
#[derive(Clone, PartialEq)]
struct Shown {
    entry: EntryId,
    said: String,
    about: Option<(String, Option<Route>)>,
    when: String,
    /// What undoing voids: the entry, or the entries that took it back. Nothing where undoing makes no sense.
    undo: Vec<EntryId>,
    is_taken_back: bool,
}

#[component]
pub(super) fn HistoryScreen() -> impl IntoView {
    let store = Store::here();
    let wrong = RwSignal::new(None::<Say>);
    let rows = Memo::new(move |_| {
        let manner = store.manner();
        store.with_almanac(|almanac| store.with_log(|log| shown(almanac, log, manner)))
    });
    let tally = Signal::derive(move || {
        let n = store.with_log(Log::len);
        Words::from(Say::new("shed.entries").with("n", n)).get()
    });
    view! {
        <Frame title="shed.history" area=Area::Shed back=back_to(ShedPart::Door)>
            <Section head="history.latest" tally=tally>
                <p class="section__lead">{text("history.lead")}</p>
                {move || {
                    wrong
                        .get()
                        .map(|why| {
                            view! {
                                <Notice kind=NoticeKind::Problem head="saver.not_saved" text=why />
                            }
                        })
                }}
                {move || rows.get().is_empty().then(|| text("history.none"))}
                <ol>
                    <For each=move || rows.get() key=|row| (row.entry.clone(), row.is_taken_back) let:row>
                        <Row row wrong />
                    </For>
                </ol>
            </Section>
        </Frame>
    }
}

#[component]
fn Row(row: Shown, wrong: RwSignal<Option<Say>>) -> impl IntoView {
    let store = Store::here();
    let (said, undo) = (row.said.clone(), row.undo.clone());
    let tap = move |_| {
        let entries = undo.clone();
        spawn_local(async move {
            let result = store.undo(&entries).await;
            wrong.try_set(result.err().map(|error| error.say()));
        });
    };
    let (key, icon) = if row.is_taken_back {
        ("history.bring_back", "plus")
    } else {
        ("history.take_back", "undo")
    };
    let about = row.about.map(|(name, to)| match to {
        Some(to) => view! { <a href=to.href()>{name}</a> }.into_any(),
        None => view! { <span>{name}</span> }.into_any(),
    });
    view! {
        <li class="entry" data-guarded="">
            <span class="entry__words">
                <span class="contents__name">
                    {row.said} " "
                    {row
                        .is_taken_back
                        .then(|| view! { <span class="chip">{text("history.taken_back")}</span> })}
                </span>
                <span class="contents__note">{about}</span>
                <span class="contents__note">{row.when}</span>
            </span>
            {(!row.undo.is_empty())
                .then(|| {
                    view! {
                        <button class="btn btn--quiet" type="button" on:click=tap>
                            <Icon name=icon small=true />
                            {text(key)}
                            <span class="visually-hidden">": " {said}</span>
                        </button>
                    }
                })}
        </li>
    }
}

fn shown(almanac: &Almanac<'_>, log: &Log, manner: Manner) -> Vec<Shown> {
    let back = taken_back(log);
    log.iter()
        .rev()
        .take(SHOWN_MAX)
        .map(|entry| row(almanac, log, &back, entry, manner))
        .collect()
}

fn row(
    almanac: &Almanac<'_>,
    log: &Log,
    back: &BTreeMap<EntryId, Vec<EntryId>>,
    entry: &Entry,
    manner: Manner,
) -> Shown {
    let season = almanac.season();
    // What it says now, after corrections.
    let fact = season
        .events
        .get(entry.id())
        .map_or(entry.fact(), |event| &event.fact);
    let ms = entry.at().ms();
    let when = Say::new("log.when")
        .with_some("date", fact.date())
        .with_some("recorded", clock::date_of(ms).map(|d| manner.day_month(d)))
        .with("time", clock::time_of(ms))
        .with_some("by", season.devices.get(entry.device()).cloned());
    let voids = back.get(entry.id());
    let is_correction = matches!(fact, Fact::Voided(_));
    Shown {
        entry: entry.id().clone(),
        said: said(almanac, log, entry, fact).write(manner),
        about: subject(almanac, fact).map(|(say, to)| (say.write(manner), to)),
        when: when.write(manner),
        // Taking back a taking back is done at what was taken back.
        undo: match voids {
            _ if is_correction => Vec::new(),
            Some(voids) => voids.clone(),
            None => vec![entry.id().clone()],
        },
        is_taken_back: voids.is_some(),
    }
}

fn said(almanac: &Almanac<'_>, log: &Log, entry: &Entry, fact: &Fact) -> Say {
    let of = match fact {
        Fact::Voided(f) => Some(&f.entry),
        Fact::Revised(f) => Some(&f.entry),
        _ => None,
    };
    let kind = kind_key(entry.kind()).unwrap_or("kind.unknown");
    match of.and_then(|of| log.get(of)) {
        Some(aim) => Say::new("history.correction")
            .with("kind", Arg::Key(kind))
            .with(
                "what",
                Arg::Key(kind_key(aim.kind()).unwrap_or("kind.unknown")),
            ),
        None if fact.date().is_some() => tell(almanac, fact),
        None => Say::new("history.kind").with("kind", Arg::Key(kind)),
    }
}

/// What an entry is about, and where that is shown.
pub(super) fn subject(almanac: &Almanac<'_>, fact: &Fact) -> Option<(Say, Option<Route>)> {
    let season = almanac.season();
    let plain = |name: &str| Say::new("name.plain").with("name", name);
    let shed = |part| Some(Route::Shed(part));
    if let Some(id) = sowing_of(fact) {
        return Some((names::sowing(almanac, id), Some(Route::Tray(id.clone()))));
    }
    if let Some(id) = planting_of(fact) {
        return Some((
            names::planting(almanac, id),
            Some(Route::Planting(id.clone())),
        ));
    }
    Some(match fact {
        Fact::Device(f) => (plain(&f.name), None),
        Fact::Place(f) => (
            plain(&season.places.get(&f.of)?.name),
            shed(ShedPart::Place),
        ),
        Fact::Space(f) => (
            plain(&season.spaces.get(&f.of)?.name),
            shed(ShedPart::Space(Which::This(f.of.clone()))),
        ),
        Fact::Bed(f) => (
            names::bed(almanac, &f.of),
            shed(ShedPart::Bed(f.of.clone())),
        ),
        Fact::Crop(f) => (plain(almanac.reference().crop(&f.of)?.name()), None),
        Fact::Variety(f) => (
            names::variety(almanac, &f.of),
            shed(ShedPart::Variety(Which::This(f.of.clone()))),
        ),
        Fact::SeedLot(f) => {
            let variety = season.lots.get(&f.of)?.variety.clone()?;
            (
                names::variety(almanac, &variety),
                shed(ShedPart::Variety(Which::This(variety))),
            )
        }
        Fact::Target(f) => {
            let to = crate::route::SeasonPart::Target(Which::This(f.of.clone()));
            let wanted = &season.targets.get(&f.of)?.wanted;
            (
                crate::screens::wanted::say(almanac, wanted),
                Some(Route::Season(to)),
            )
        }
        Fact::Planned(f) => (
            names::variety(almanac, season.planned.get(&f.of)?.variety.as_ref()?),
            Some(Route::Season(crate::route::SeasonPart::Plan)),
        ),
        Fact::Order(f) => (
            about(almanac, fact)?,
            Some(Route::Order(Which::This(f.of.clone()))),
        ),
        Fact::Recipe(f) => (plain(&season.recipes.get(&f.of)?.name), None),
        fact => (about(almanac, fact)?, None),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use season::Season;
    use season::fact::{NoteFact, VoidedFact};
    use season::ids::DeviceId;

    fn put(log: &mut Log, fact: impl Into<Fact>) -> EntryId {
        let device = DeviceId::new("d").unwrap();
        let n = log.len() as u128;
        let entry = log.draft(&device, 1_800_000_000_000, n, fact.into());
        let entry = entry.unwrap();
        let id = entry.id().clone();
        log.insert(entry);
        id
    }

    fn void(log: &mut Log, entry: &EntryId) -> EntryId {
        let entry = entry.clone();
        put(log, VoidedFact::new(entry))
    }

    #[test]
    fn what_was_taken_back_names_what_brings_it_back() {
        let mut log = Log::new();
        let note = put(
            &mut log,
            NoteFact::new(
                "x".into(),
                chrono::NaiveDate::from_ymd_opt(2027, 2, 15).unwrap(),
            ),
        );
        assert!(taken_back(&log).is_empty());
        let first = void(&mut log, &note);
        assert_eq!(taken_back(&log).get(&note), Some(&vec![first.clone()]));
        // Taken back on two devices: both must go.
        let second = void(&mut log, &note);
        let voids = taken_back(&log).get(&note).cloned().unwrap_or_default();
        assert_eq!(voids, [first.clone(), second.clone()]);
        for entry in &voids {
            void(&mut log, entry);
        }
        assert!(!taken_back(&log).contains_key(&note));
        assert_eq!(Season::of(&log).notes.len(), 1);
    }
}
