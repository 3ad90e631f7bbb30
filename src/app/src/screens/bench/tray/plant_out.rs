//! Planting out: where it is safe, what goes into which bed, what stays in the tray.

use leptos::prelude::*;
use season::fact::BedFact;
use season::forecast::TrayStage;
use season::planting_out::{SpaceVerdict, State, verdicts};
use season::words::{Arg, Say, text};

use super::Tray;
use crate::forms::{Recorder, names};
use crate::parts::why::Reasons;
use crate::parts::{Icon, Section};
use crate::store::Store;

/// Days before plants are to go out from which on it is told where they may.
const AHEAD_DAYS: i64 = 28;

/// Each space's verdict, once planting out is near.
#[component]
pub(super) fn PlantOut(tray: Tray, recorder: Recorder) -> impl IntoView {
    let store = Store::here();
    let today = store.today_now();
    let near = tray
        .forecast
        .plant
        .is_some_and(|window| (window.earliest - today).num_days() <= AHEAD_DAYS);
    if tray.forecast.stage == TrayStage::Ended || !near {
        return None;
    }
    let found = store.with_almanac_now(|almanac| verdicts(almanac, &tray.id, today));
    if found.is_empty() {
        return None;
    }
    let spaces = found
        .into_iter()
        .map(|verdict| view! { <OfSpace verdict tray=tray.clone() recorder /> })
        .collect_view();
    Some(view! {
        <Section head="planting_out.head">
            <ul class="plant-out">{spaces}</ul>
        </Section>
    })
}

#[component]
fn OfSpace(verdict: SpaceVerdict, tray: Tray, recorder: Recorder) -> impl IntoView {
    let store = Store::here();
    let manner = store.manner_now();
    let (icon, class) = match verdict.state {
        State::Safe => ("tick", "plant-out__say plant-out__say--safe"),
        State::WithCover { .. } => ("caution", "plant-out__say"),
        State::Wait { .. } | State::Late { .. } | State::Unknown => ("caution", "plant-out__say"),
    };
    let beds: Vec<_> = store.with_almanac_now(|almanac| {
        verdict
            .beds
            .iter()
            .filter(|room| room.plants > 0)
            .map(|room| {
                let name = names::bed(almanac, &room.bed).write(manner);
                let note = Say::new("planting_out.bed")
                    .with("n", room.plants)
                    .with("metres", Arg::Length(room.metres))
                    .with("spacing", Arg::Spacing(room.spacing_cm))
                    .write(manner);
                (room.clone(), name, note)
            })
            .collect()
    });
    let goes = !matches!(verdict.state, State::Late { .. });
    let beds = beds
        .into_iter()
        .filter(|_| goes)
        .map(|(room, name, note)| {
            let (label, id) = (name.clone(), tray.id.clone());
            let plant = move |_| {
                recorder.plant_out(&id, &room);
            };
            view! {
                <li class="plant-out__bed" data-guarded="">
                    <span>
                        {name} ": " <span class="soft">{note}</span>
                    </span>
                    <button class="btn" type="button" aria-haspopup="dialog" on:click=plant>
                        {text("do.transplant")}
                        <span class="visually-hidden">": " {label}</span>
                    </button>
                </li>
            }
        })
        .collect_view();
    let left = (goes && verdict.left_in_tray > 0).then(|| {
        let said = Say::new("planting_out.left").with("n", verdict.left_in_tray);
        view! { <p class="small">{said.write(manner)}</p> }
    });
    let first_bed = verdict.beds.first().map(|room| room.bed.clone());
    let soil = verdict.soil.map(|soil| {
        let measure = first_bed.map(|bed| {
            let measure = move |_| {
                let today = store.today_now();
                recorder.record(BedFact {
                    soil_measured_on: Some(today),
                    ..BedFact::new(bed.clone())
                });
            };
            view! {
                <button class="btn" type="button" aria-haspopup="dialog" on:click=measure>
                    {text("planting_out.measure_soil")}
                </button>
            }
        });
        view! {
            <p class="soft small">{soil.say.write(manner)}</p>
            {measure}
        }
    });
    let net = verdict.net.map(|net| {
        let said = Say::new("planting_out.net")
            .with("text", Arg::Note(net.text))
            .with("date", net.best);
        view! { <p class="soft small">{said.write(manner)}</p> }
    });
    view! {
        <li>
            <p class=class>
                <Icon name=icon small=true />
                {verdict.say.write(manner)}
            </p>
            {soil}
            <ul>{beds}</ul>
            {left}
            {net}
            <details class="why why--inline">
                <summary class="why__ask">{text("tray.why")}</summary>
                <div class="why__panel">
                    <Reasons reasons=verdict.reasons />
                </div>
            </details>
        </li>
    }
}
