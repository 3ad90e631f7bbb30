//! Cuts of one walk along the beds: a number for each planting, kept together.

use chrono::NaiveDate;
use leptos::prelude::*;
use season::Fact;
use season::fact::{CutFact, Grade};
use season::forecast::Outlook;
use season::ids::PlantingId;
use season::limits::STEMS_MAX;
use season::state::Planting;
use season::words::{Arg, Say, text};

use agronomy::iso_week::IsoWeek;

use super::bunch_of;
use crate::forms::{names, of_words};
use crate::parts::read;
use crate::parts::{
    Caution, Choice, DateField, NumberField, Picked, SaveButton, SaveProblem, Saver, Sheet,
    Stepper, Tick, Typed, Words,
};
use crate::screens::hazard::hazards;
use crate::store::Store;

/// Days before its first stems that a planting joins the walk.
const AHEAD_DAYS: i64 = 7;
/// Stems that one tap adds.
const STEP: u32 = 5;

/// A planting on the walk.
#[derive(Clone)]
struct Stop {
    id: PlantingId,
    name: Say,
    hint: Say,
    /// Stems in one of its bunches.
    bunch: u32,
    /// Whether stems are to be expected.
    likely: bool,
}

/// All plantings that stand, in walking order.
fn stops(outlook: &Outlook<'_>) -> Vec<Stop> {
    let (season, today) = (outlook.almanac().season(), outlook.today());
    let mut found = Vec::new();
    for space in season.spaces_in_order() {
        for bed in season.beds_of(&space.id) {
            let mut here: Vec<&Planting> = season
                .plantings
                .values()
                .filter(|p| p.bed == bed.id && p.finished.is_none() && p.date <= today)
                .collect();
            here.sort_by_key(|p| (p.date, p.id.clone()));
            found.extend(here.into_iter().map(|p| stop(outlook, p)));
        }
    }
    found
}

fn stop(outlook: &Outlook<'_>, planting: &Planting) -> Stop {
    let (almanac, today) = (outlook.almanac(), outlook.today());
    let forecast = outlook.supply().beds.get(&planting.id);
    let near = forecast
        .and_then(|forecast| forecast.bloom)
        .is_some_and(|bloom| (bloom.p10 - today).num_days() <= AHEAD_DAYS);
    let expected = forecast.and_then(|forecast| {
        let week = IsoWeek::of(today);
        let (_, stems) = forecast.weeks.iter().find(|(w, _)| *w == week)?;
        Some(Arg::Number(stems.p50.round() as i64))
    });
    let last = planting.cuts.last();
    Stop {
        id: planting.id.clone(),
        name: names::planting(almanac, &planting.id),
        hint: Say::new("walk.hint")
            .with_some("n", expected)
            .with_some("last", last.map(|cut| cut.stems))
            .with_some("date", last.map(|cut| cut.date)),
        bunch: bunch_of(almanac, &planting.variety),
        likely: !planting.cuts.is_empty() || planting.first_colour.is_some() || near,
    }
}

/// A stop's fields.
#[derive(Clone, Copy)]
struct Fields {
    /// Stems, or bunches.
    stems: Typed,
    culls: Typed,
    /// The word of a grade; empty where it is not told.
    grade: Typed,
}

impl Fields {
    fn new() -> Self {
        Self {
            stems: Typed::new("0"),
            culls: Typed::new("0"),
            grade: Typed::new(""),
        }
    }

    /// Stems, where each of what was typed is so many, and culls; `None` when one does not read, which is then said.
    fn read(self, each: u32) -> Option<(u32, u32)> {
        let number = |typed: Typed| {
            typed
                .read_if_any(|text| read::count(text, 0..=STEMS_MAX))
                .map(|n| n.unwrap_or(0))
        };
        let (stems, culls) = (number(self.stems), number(self.culls));
        Some((stems?.saturating_mul(each).min(STEMS_MAX), culls?))
    }
}

/// Cuts as typed, by bunches or by stems; `None` when a field does not read.
fn rows(
    stops: &[(Stop, Fields)],
    by_bunches: bool,
    date: NaiveDate,
) -> Option<Vec<(Fact, Option<Typed>)>> {
    let each = |stop: &Stop| if by_bunches { stop.bunch } else { 1 };
    let read: Vec<Option<(u32, u32)>> = stops
        .iter()
        .map(|(stop, fields)| fields.read(each(stop)))
        .collect();
    let read: Vec<(u32, u32)> = read.into_iter().collect::<Option<_>>()?;
    let cuts = stops
        .iter()
        .zip(read)
        .filter(|(_, (stems, culls))| stems + culls > 0);
    let row = |((stop, fields), (stems, culls)): (&(Stop, Fields), (u32, u32))| {
        let fact: Fact = CutFact {
            culls,
            grade: Grade::of_word(&fields.grade.text_now()),
            ..CutFact::new(stop.id.clone(), stems, date)
        }
        .into();
        (fact, Some(fields.stems))
    };
    Some(cuts.map(row).collect())
}

/// The sheet of one walk.
#[component]
pub fn WalkSheet(walking: RwSignal<bool>) -> impl IntoView {
    let store = Store::here();
    let today = store.today_now();
    let stops: Vec<(Stop, Fields)> = store
        .outlook_now()
        .with(stops)
        .into_iter()
        .map(|stop| (stop, Fields::new()))
        .collect();
    let caution = caution(store, &stops);
    let date = Typed::new(today.to_string());
    let saver = Saver::new();
    let nothing = RwSignal::new(false);
    let by_bunches = RwSignal::new(false);
    let all = StoredValue::new(stops.clone());
    let on_close = Callback::new(move |()| walking.set(false));
    let save = Callback::new(move |()| {
        nothing.set(false);
        let day = date.read(read::date);
        let rows =
            all.with_value(|all| rows(all, by_bunches.get_untracked(), day.unwrap_or(today)));
        match (day, rows) {
            (Some(_), Some(rows)) if rows.is_empty() => nothing.set(true),
            (Some(_), Some(rows)) => saver.check_and_save_rows(rows, date, move |_| {
                walking.set(false);
            }),
            _ => crate::parts::typed::show_first_wrong(),
        }
    });
    let label = Signal::derive(move || {
        let asked = saver.has_asked();
        text(if asked {
            "form.all_the_same"
        } else {
            "walk.save"
        })
        .to_owned()
    });
    let (likely, others): (Vec<_>, Vec<_>) = stops.into_iter().partition(|(stop, _)| stop.likely);
    let none = likely.is_empty() && others.is_empty();
    view! {
        <Sheet title="walk.title" which="walk.which" on_close>
            <div class="sheet__body">
                {none.then(|| view! { <p>{text("walk.none")}</p> })}
                {(!none)
                    .then(|| view! { <Tick ticked=by_bunches label="walk.by_bunches" /> })}
                <Stops stops=likely by_bunches />
                <Others stops=others by_bunches />
                <DateField typed=date label="field.date" />
                {caution.map(|text| view! { <Caution head="caution.head" text=text /> })}
                <p class="field__error" role="alert">
                    {move || nothing.get().then(|| text("walk.nothing"))}
                </p>
                <SaveProblem saver quiet=true />
            </div>
            <div class="sheet__foot">
                <button class="btn" type="button" on:click=move |_| walking.set(false)>
                    {text("form.not_now")}
                </button>
                <SaveButton saver label on_tap=save />
            </div>
        </Sheet>
    }
}

/// What is noted of the crops on the walk, all together.
fn caution(store: Store, stops: &[(Stop, Fields)]) -> Option<Words> {
    store.with_almanac_now(|almanac| {
        let season = almanac.season();
        let ids = stops.iter().filter(|(stop, _)| stop.likely);
        let varieties = ids.filter_map(|(stop, _)| Some(&season.plantings.get(&stop.id)?.variety));
        hazards(almanac, varieties).map(Words::from)
    })
}

#[component]
fn Stops(stops: Vec<(Stop, Fields)>, by_bunches: RwSignal<bool>) -> impl IntoView {
    stops
        .into_iter()
        .map(|(stop, fields)| view! { <OneStop stop fields by_bunches /> })
        .collect_view()
}

#[component]
fn OneStop(stop: Stop, fields: Fields, by_bunches: RwSignal<bool>) -> impl IntoView {
    let manner = Store::here().manner_now();
    let (bunch, hint) = (stop.bunch, stop.hint);
    // What the number stands for is said where it is typed.
    let hint = Signal::derive(move || {
        if !by_bunches.get() {
            return hint.write(manner);
        }
        let stems = read::count(&fields.stems.text(), 0..=STEMS_MAX).unwrap_or(0);
        Say::new("walk.bunches")
            .with("each", bunch)
            .with("n", stems.saturating_mul(bunch))
            .write(manner)
    });
    let grades = core::iter::once(Picked::new("", "field.none"))
        .chain(of_words(&Grade::LIST))
        .collect::<Vec<_>>();
    view! {
        <Stepper typed=fields.stems label=stop.name hint=hint high=STEMS_MAX by=STEP />
        <details class="why why--inline">
            <summary class="why__ask">{text("walk.more")}</summary>
            <Choice typed=fields.grade label="field.grade" options=grades />
            <NumberField typed=fields.culls label="field.culls" />
        </details>
    }
}

/// Plantings that nothing is expected of yet.
#[component]
fn Others(stops: Vec<(Stop, Fields)>, by_bunches: RwSignal<bool>) -> impl IntoView {
    (!stops.is_empty()).then(|| {
        view! {
            <details class="why">
                <summary class="why__ask">{text("walk.others")}</summary>
                <Stops stops by_bunches />
            </details>
        }
    })
}
