//! One planting: what it will give, what it gave, what to do with it.

use leptos::prelude::*;
use season::almanac::Almanac;
use season::ids::PlantingId;
use season::state::Planting;
use season::words::{Arg, Say, text};

use super::outlook::{OutlookView, outlook};
use super::told::metres;
use crate::forms::{OfPlanting, RecordSheet, Recorder, names};
use crate::parts::why::Sources;
use crate::parts::{Back, Caution, Frame, Icon, Notice, NoticeKind, Section, Words};
use crate::route::{Area, Route};
use crate::screens::due::DueTasks;
use crate::screens::family::FamilyView;
use crate::screens::hazard::hazards;
use crate::screens::record_log::RecordLog;
use crate::store::Store;

/// Notes of the crop reference that matter while a planting stands, with the keys of their labels.
const NOTES: [(&str, &str); 5] = [
    ("harvest_stage", "note.harvest_stage"),
    ("pinch", "note.pinch"),
    ("support", "note.support"),
    ("temperature_hazards", "note.temperature_hazards"),
    ("notes", "note.notes"),
];

/// One planting.
#[component]
pub fn PlantingScreen(
    /// Which.
    id: PlantingId,
) -> impl IntoView {
    let store = Store::here();
    let recorder = Recorder::new();
    let id = StoredValue::new(id);
    let there = Memo::new(move |_| id.with_value(|id| store.season().plantings.contains_key(id)));
    let title = Signal::derive(move || {
        id.with_value(|id| {
            store.with_almanac(|almanac| match almanac.season().plantings.get(id) {
                Some(found) => names::variety(almanac, &found.variety),
                None => Say::new("planting.title"),
            })
        })
        .write(store.manner())
    });
    view! {
        <Frame title=title area=Area::Beds back=Back::to_area(Area::Beds)>
            {move || {
                if there.get() {
                    view! { <Body id=id.get_value() recorder /> }.into_any()
                } else {
                    view! { <Notice kind=NoticeKind::Problem head="check.planting_missing" /> }
                        .into_any()
                }
            }}
            <RecordSheet recorder />
        </Frame>
    }
}

#[component]
fn Body(id: PlantingId, recorder: Recorder) -> impl IntoView {
    let store = Store::here();
    let id = StoredValue::new(id);
    let expected = Memo::new(move |_| {
        let (all, manner) = (store.outlook(), store.manner());
        id.with_value(|id| {
            store.with_almanac(|almanac| {
                let planting = almanac.season().plantings.get(id)?;
                let forecast = all.supply().beds.get(id)?;
                Some(outlook(almanac, planting, forecast, manner))
            })
        })
    });
    let entries = Signal::derive(move || {
        id.with_value(|id| {
            let season = store.season();
            season
                .plantings
                .get(id)
                .map(|planting| planting.history.clone())
                .unwrap_or_default()
        })
    });
    view! {
        <Buttons id=id.get_value() recorder />
        <div class="spread">
            <div class="leaf">
                {move || expected.get().map(|outlook| view! { <OutlookView outlook /> })}
                <DueTasks of=id.get_value() recorder />
            </div>
            <div class="leaf">
                <Family id=id.get_value() />
                <Facts id=id.get_value() />
                <CropNotes id=id.get_value() />
                <RecordLog entries recorder />
            </div>
        </div>
    }
}

/// All that can be recorded of it as it is; cutting first.
#[component]
fn Buttons(id: PlantingId, recorder: Recorder) -> impl IntoView {
    let store = Store::here();
    let id = StoredValue::new(id);
    let fitting = Memo::new(move |_| {
        let season = store.season();
        let ended = id.with_value(|id| {
            season
                .plantings
                .get(id)
                .is_none_or(|planting| planting.finished.is_some())
        });
        id.with_value(|id| {
            store.with_almanac(|almanac| {
                OfPlanting::ALL
                    .into_iter()
                    .filter(|what| what.fits(almanac, id))
                    .filter(|what| !ended || *what == OfPlanting::Note)
                    .map(|what| (what, what.key()))
                    .collect::<Vec<_>>()
            })
        })
    });
    let button = move |(what, key): (OfPlanting, &'static str)| {
        let cut = what == OfPlanting::Cut;
        let class = if cut {
            "btn btn--primary btn--great"
        } else {
            "btn"
        };
        view! {
            <button
                class=class
                type="button"
                aria-haspopup="dialog"
                on:click=move |_| id.with_value(|id| recorder.of_planting(what, id))
            >
                {cut.then(|| view! { <Icon name="cut" /> })}
                {text(key)}
            </button>
        }
    };
    view! {
        <div class="actions no-print">
            {move || fitting.get().into_iter().map(button).collect_view()}
        </div>
    }
}

fn facts(almanac: &Almanac<'_>, planting: &Planting) -> Vec<(&'static str, Say)> {
    let day = |date| Say::new("planting.day").with("date", date);
    let number = |n: u32| Say::new("plain.n").with("n", n);
    let mut facts = vec![
        ("planting.bed", names::bed(almanac, &planting.bed)),
        (
            if planting.sowing.is_some() {
                "planting.planted"
            } else {
                "planting.sown"
            },
            day(planting.date),
        ),
        (
            "planting.plants",
            Say::new("planting.plants_of")
                .with("n", planting.standing())
                .with("of", planting.plants),
        ),
    ];
    if let Some(metres) = metres(almanac, planting) {
        facts.push((
            "planting.metres",
            Say::new("planting.length").with("n", metres),
        ));
    }
    let dates = [
        ("planting.pinched", planting.pinched),
        ("planting.netted", planting.netted),
        ("planting.bud", planting.visible_bud),
        ("planting.colour", planting.first_colour),
        ("planting.cleared", planting.finished),
    ];
    facts.extend(
        dates
            .into_iter()
            .filter_map(|(key, date)| Some((key, day(date?)))),
    );
    let culls = planting
        .cuts
        .iter()
        .fold(0u32, |sum, cut| sum.saturating_add(cut.culls));
    if !planting.cuts.is_empty() {
        facts.push(("planting.cuts", number(planting.cuts.len() as u32)));
        facts.push(("planting.culls", number(culls)));
    }
    facts
}

/// The successions that it is one of.
#[component]
fn Family(id: PlantingId) -> impl IntoView {
    let season = Store::here().season_now();
    let variety = season
        .plantings
        .get(&id)
        .map(|planting| planting.variety.clone());
    variety.map(|variety| view! { <FamilyView variety /> })
}

#[component]
fn Facts(id: PlantingId) -> impl IntoView {
    let store = Store::here();
    let all = Memo::new(move |_| {
        store.with_almanac(|almanac| {
            let planting = almanac.season().plantings.get(&id)?;
            let tray = planting.sowing.clone();
            Some((facts(almanac, planting), tray))
        })
    });
    move || {
        let manner = store.manner();
        all.get().map(|(facts, tray)| {
            let lines = facts
                .into_iter()
                .map(|(key, say)| {
                    view! {
                        <div>
                            <dt>{text(key)}</dt>
                            <dd>{say.write(manner)}</dd>
                        </div>
                    }
                })
                .collect_view();
            view! {
                <Section head="planting.facts">
                    <dl class="facts">{lines}</dl>
                    {tray
                        .map(|id| {
                            view! {
                                <p>
                                    <a href=Route::Tray(id).href()>{text("planting.tray")}</a>
                                </p>
                            }
                        })}
                </Section>
            }
        })
    }
}

/// What the crop reference notes of the crop, with sources; its hazards as a caution.
#[component]
fn CropNotes(id: PlantingId) -> impl IntoView {
    let store = Store::here();
    let all = Memo::new(move |_| {
        store.with_almanac(|almanac| {
            let planting = almanac.season().plantings.get(&id)?;
            let crop = almanac.crop(&planting.variety)?;
            let note = |name: &str| {
                let note = crop.text(name)?;
                Some((note.text.clone(), note.src.clone()))
            };
            let notes: Vec<_> = NOTES
                .iter()
                .filter_map(|(name, key)| Some((*key, note(name)?)))
                .collect();
            let variety = core::iter::once(&planting.variety);
            Some((notes, hazards(almanac, variety)))
        })
    });
    move || {
        all.get().map(|(notes, hazard)| {
            let mut sources: Vec<String> = Vec::new();
            for key in notes.iter().flat_map(|(_, (_, keys))| keys) {
                if !sources.contains(key) {
                    sources.push(key.clone());
                }
            }
            let lines = notes
                .into_iter()
                .map(|(key, (note, _))| {
                    view! {
                        <div>
                            <dt>{text(key)}</dt>
                            <dd>{Arg::Note(note).written(store.manner())}</dd>
                        </div>
                    }
                })
                .collect_view();
            view! {
                <Section head="planting.notes">
                    <dl class="facts">{lines}</dl>
                    {hazard
                        .map(|text| {
                            view! { <Caution head="caution.head" text=Words::from(text) /> }
                        })}
                    <Sources keys=sources />
                </Section>
            }
        })
    }
}
