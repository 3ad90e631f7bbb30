//! What goes into a bed: plants from a tray, or seed.

use chrono::NaiveDate;
use leptos::prelude::*;
use season::Fact;
use season::almanac::Almanac;
use season::fact::{DirectSownFact, TransplantedFact};
use season::ids::{BedId, SowingId, VarietyId};
use season::space::{bed_on, plants_that_fit, spacing_cm};
use season::words::{Say, text};

use super::space_of;
use crate::forms::{Recorder, names};
use crate::parts::{Icon, Sheet, Words};
use crate::store::Store;

/// What can go into a bed.
#[derive(Clone, PartialEq)]
struct Choice {
    icon: &'static str,
    name: Say,
    note: Option<Say>,
    fact: Fact,
}

/// Plants of a tray into a bed: as many as stand and fit.
fn from_tray(
    almanac: &Almanac<'_>,
    id: &SowingId,
    bed: &BedId,
    today: NaiveDate,
) -> Option<TransplantedFact> {
    let sowing = almanac.season().sowings.get(id)?;
    let now = sowing.standing(today);
    let spacing = spacing_cm(almanac, &sowing.variety);
    let found = almanac.bed(bed)?;
    let fit = plants_that_fit(found, &bed_on(almanac, found, today), spacing);
    let up = now.up.unwrap_or(now.cells);
    Some(TransplantedFact {
        spacing_cm: Some(spacing),
        ..TransplantedFact::new(
            id.clone(),
            bed.clone(),
            up.min(fit.filter(|fit| *fit > 0).unwrap_or(u32::MAX)),
            today,
        )
    })
}

/// Seed into a bed; as many plants as fit.
fn seed(
    almanac: &Almanac<'_>,
    variety: &VarietyId,
    bed: &BedId,
    today: NaiveDate,
) -> DirectSownFact {
    DirectSownFact {
        spacing_cm: Some(spacing_cm(almanac, variety)),
        ..DirectSownFact::new(variety.clone(), bed.clone(), 1, today)
    }
}

/// Trays with plants, those meant for the bed's space first.
fn trays(almanac: &Almanac<'_>, bed: &BedId, today: NaiveDate) -> Vec<Choice> {
    let space = almanac.space_of_bed(bed).map(|space| &space.id);
    let mut sowings: Vec<_> = almanac
        .season()
        .sowings
        .values()
        .filter(|sowing| sowing.in_trays() && sowing.date <= today)
        .collect();
    sowings.sort_by_key(|sowing| {
        let meant = sowing.for_space.as_ref();
        (
            meant.is_some() && meant != space,
            sowing.hardening.is_none(),
            sowing.date,
            sowing.id.clone(),
        )
    });
    sowings
        .into_iter()
        .filter_map(|sowing| {
            let fact = from_tray(almanac, &sowing.id, bed, today)?;
            let up = sowing.standing(today).up;
            Some(Choice {
                icon: "plant",
                name: names::variety(almanac, &sowing.variety),
                note: Some(
                    Say::new("fill.tray_note")
                        .with("date", sowing.date)
                        .with_some("up", up),
                ),
                fact: fact.into(),
            })
        })
        .collect()
}

fn seeds(almanac: &Almanac<'_>, bed: &BedId, today: NaiveDate) -> Vec<Choice> {
    almanac
        .season()
        .varieties_in_order()
        .into_iter()
        .map(|variety| Choice {
            icon: "sow",
            name: names::variety(almanac, &variety.id),
            note: None,
            fact: seed(almanac, &variety.id, bed, today).into(),
        })
        .collect()
}

/// The sheet that asks what goes into a bed.
#[component]
pub fn FillSheet(bed: BedId, filling: RwSignal<bool>, recorder: Recorder) -> impl IntoView {
    let store = Store::here();
    let today = store.today_now();
    let (which, trays, seeds) = store.with_almanac_now(|almanac| {
        (
            names::bed(almanac, &bed),
            trays(almanac, &bed, today),
            seeds(almanac, &bed, today),
        )
    });
    let none = space_of(store, &bed).is_none() || (trays.is_empty() && seeds.is_empty());
    let on_close = Callback::new(move |()| filling.set(false));
    view! {
        <Sheet title="fill.title" which=which on_close>
            <div class="sheet__body">
                {none.then(|| view! { <p>{text("fill.none")}</p> })}
                <Group head="fill.trays" choices=trays filling recorder />
                <Group head="fill.seed" choices=seeds filling recorder />
            </div>
        </Sheet>
    }
}

#[component]
fn Group(
    head: &'static str,
    choices: Vec<Choice>,
    filling: RwSignal<bool>,
    recorder: Recorder,
) -> impl IntoView {
    if choices.is_empty() {
        return None;
    }
    let lines = choices
        .into_iter()
        .map(|choice| view! { <Line choice filling recorder /> })
        .collect_view();
    Some(view! {
        <h3>{text(head)}</h3>
        <ul class="contents">{lines}</ul>
    })
}

#[component]
fn Line(choice: Choice, filling: RwSignal<bool>, recorder: Recorder) -> impl IntoView {
    let name = Words::from(choice.name);
    let note = choice.note.map(Words::from);
    let fact = StoredValue::new(choice.fact);
    view! {
        <li>
            <button
                class="contents__link contents__link--deed"
                type="button"
                on:click=move |_| {
                    let fact = fact.get_value();
                    filling.set(false);
                    recorder.record(fact);
                }
            >
                <Icon name=choice.icon />
                <span>
                    <span class="contents__name">{move || name.get()}</span>
                    {note
                        .map(|note| {
                            view! { <span class="contents__note">{move || note.get()}</span> }
                        })}
                </span>
                <Icon name="chevron" />
            </button>
        </li>
    }
}
