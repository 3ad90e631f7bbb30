//! One sowing in full: verdict first, then what to do, what to expect, what was recorded, and what the crop wants.

mod cells;
mod counts;
mod cues;
mod culture;
pub mod curve;
mod expect;
mod hardening;
mod light;
pub mod notes;
mod plant_out;

use leptos::prelude::*;
use season::forecast::{TrayForecast, TrayStage};
use season::ids::SowingId;
use season::state::Sowing;
use season::tasks::{Subject, Task, water_regime};
use season::tray_hold::tray_hold;
use season::verdict::verdict;
use season::words::{Arg, Say, text};

use self::cells::PastCells;
use self::counts::Counts;
use self::cues::CropCues;
use self::culture::CultureNotes;
use self::expect::Expect;
use self::hardening::HardeningDays;
use self::light::Light;
use self::plant_out::PlantOut;
use crate::forms::{History, OfTray, RecordSheet, Recorder, names};
use crate::parts::why::Reasons;
use crate::parts::{Back, Frame, Notice, NoticeKind, Section, Words};
use crate::route::{Area, Route};
use crate::screens::bench::title_of;
use crate::screens::family::FamilyView;
use crate::screens::task_list::TaskList;
use crate::store::Store;

/// What the screen is made from, worked out once for all its parts.
#[derive(Clone)]
pub(super) struct Tray {
    pub(super) id: SowingId,
    pub(super) forecast: TrayForecast,
}

/// One sowing.
#[component]
pub fn TrayScreen(
    /// Which.
    id: SowingId,
) -> impl IntoView {
    let store = Store::here();
    let title = title_of(store, &id);
    let recorder = Recorder::new();
    view! {
        <Frame title=title area=Area::Bench back=Back::to_area(Area::Bench)>
            <Whole id recorder />
            <RecordSheet recorder />
        </Frame>
    }
}

#[component]
fn Whole(id: SowingId, recorder: Recorder) -> impl IntoView {
    let store = Store::here();
    let id = StoredValue::new(id);
    let tasks = Memo::new(move |_| {
        let outlook = store.outlook();
        let subject = Subject::Sowing(id.get_value());
        let tasks = outlook.tasks().iter();
        let of_tray = tasks.filter(|task| task.subject == subject);
        of_tray.cloned().collect::<Vec<Task>>()
    });
    let tray = move || {
        let outlook = store.outlook();
        store.manner();
        let id = id.get_value();
        let forecast = outlook.supply().trays.get(&id).cloned()?;
        Some(Tray { id, forecast })
    };
    let known = Memo::new(move |_| tray().is_some());
    let verdict = move || tray().map(|tray| view! { <VerdictSection tray tasks=tasks.get() /> });
    let record = move || {
        tray().map(|tray| {
            view! {
                <PlantOut tray=tray.clone() recorder />
                <Record tray=tray.clone() recorder />
                <Counts tray=tray.clone() />
                <PastCells id=tray.id />
            }
        })
    };
    let beside = move || {
        tray().map(|tray| {
            view! {
                <Expect tray=tray.clone() />
                <Light tray=tray.clone() />
                <HardeningDays tray=tray.clone() />
                <Family id=tray.id.clone() />
                <Recorded id=tray.id.clone() recorder />
                <CropCues id=tray.id.clone() />
                <CultureNotes id=tray.id />
            }
        })
    };
    move || {
        if !known.get() {
            return view! {
                <Notice kind=NoticeKind::Caution head="tray.unknown" text="tray.unknown.text" />
            }
            .into_any();
        }
        view! {
            <div class="spread">
                <div class="leaf">{verdict} <Next tasks recorder /> {record}</div>
                <div class="leaf">{beside}</div>
            </div>
        }
        .into_any()
    }
}

/// What was seen, what to expect, what to do: at the top, before anything else.
#[component]
fn VerdictSection(tray: Tray, tasks: Vec<Task>) -> impl IntoView {
    let store = Store::here();
    let (today, manner) = (store.today_now(), store.manner_now());
    let season = store.season_now();
    let sowing = season.sowings.get(&tray.id)?;
    let found = verdict(sowing, &tray.forecast, &tasks, today);
    let seen = [Some(found.seen), found.expect]
        .into_iter()
        .flatten()
        .map(|say| say.write(manner))
        .collect::<Vec<_>>()
        .join(" ");
    let place = store.with_almanac_now(|almanac| {
        let space = names::space_arg(almanac, sowing.space_on(today));
        Say::new("tray.place")
            .with_some("number", names::number(sowing))
            .with("cells", names::cells(sowing))
            .with("date", sowing.date)
            .with_some("space", space)
            .with_some("label", sowing.label.clone())
            .write(manner)
    });
    let ended = tray.forecast.stage == TrayStage::Ended;
    let also = found
        .also
        .into_iter()
        .chain(late_spring(store, sowing, &tray.forecast))
        .map(|say| view! { <p class="verdict__also">{say.write(manner)}</p> })
        .collect_view();
    let water = (!ended).then(|| water_regime(sowing, &tray.forecast, today));
    Some(view! {
        <p class="soft">{place}</p>
        <div class="verdict">
            <p class="verdict__seen">{seen}</p>
            <p class="verdict__advice">
                <strong>{found.advice.write(manner)}</strong>
            </p>
            {also}
        </div>
        <details class="why">
            <summary class="why__ask">{text("tray.why")}</summary>
            <div class="why__panel">
                <Reasons reasons=found.why />
            </div>
        </details>
        {water
            .map(|(regime, why)| {
                view! {
                    <p class="verdict__water">
                        <strong>{text(regime.key())}</strong>
                        {format!(". {}", why.write(manner))}
                    </p>
                }
            })}
    })
}

/// A late spring would hold trays that can't wait for too long: said while there is time.
fn late_spring(store: Store, sowing: &Sowing, forecast: &TrayForecast) -> Option<Say> {
    let plant = forecast.plant?.best;
    if forecast.stage >= TrayStage::Hardening {
        return None;
    }
    store.with_almanac_now(|almanac| {
        let space = forecast.space.as_ref().and_then(|id| almanac.space(id));
        tray_hold(almanac, &sowing.variety, sowing.date, plant, space)
            .filter(|hold| hold.spoils)
            .map(|hold| hold.say)
    })
}

#[component]
fn Next(tasks: Memo<Vec<Task>>, recorder: Recorder) -> impl IntoView {
    let any = Memo::new(move |_| tasks.with(|tasks| !tasks.is_empty()));
    move || {
        any.get().then(|| {
            view! {
                <Section head="tray.next">
                    <TaskList tasks recorder here=true />
                </Section>
            }
        })
    }
}

/// All that can be recorded of the tray as it is.
#[component]
fn Record(tray: Tray, recorder: Recorder) -> impl IntoView {
    let store = Store::here();
    let ended = tray.forecast.stage == TrayStage::Ended;
    let fits: Vec<OfTray> = store.with_almanac_now(|almanac| {
        OfTray::ALL
            .into_iter()
            .filter(|what| what.fits(almanac, &tray.id))
            .filter(|what| !ended || *what == OfTray::Note)
            .collect()
    });
    let buttons = fits
        .into_iter()
        .map(|what| {
            let id = tray.id.clone();
            let class = match what {
                OfTray::Finish => "btn btn--danger",
                OfTray::Count => "btn btn--primary",
                _ => "btn",
            };
            view! {
                <button
                    class=class
                    type="button"
                    aria-haspopup="dialog"
                    on:click=move |_| recorder.of_tray(what, &id)
                >
                    {text(what.key())}
                </button>
            }
        })
        .collect_view();
    let by_cells = store
        .season_now()
        .sowings
        .get(&tray.id)
        .is_some_and(|s| !ended && s.tray.is_some() && s.potted_on.is_none());
    let by_cells = by_cells.then(|| {
        view! {
            <a class="btn btn--primary" href=Route::Count(tray.id.clone()).href()>
                {text("count.by_cells")}
            </a>
        }
    });
    view! {
        <Section head="tray.record">
            <div class="actions">
                {by_cells} {buttons}
                <a class="btn" href=Route::Labels(Some(tray.id)).href()>
                    {text("bench.labels")}
                </a>
            </div>
        </Section>
    }
}

/// The successions that it is one of.
#[component]
fn Family(id: SowingId) -> impl IntoView {
    let season = Store::here().season_now();
    let variety = season.sowings.get(&id).map(|sowing| sowing.variety.clone());
    variety.map(|variety| view! { <FamilyView variety /> })
}

#[component]
fn Recorded(id: SowingId, recorder: Recorder) -> impl IntoView {
    let store = Store::here();
    let count = store
        .season_now()
        .sowings
        .get(&id)
        .map_or(0, |sowing| sowing.history.len());
    let tally = Words::from(Say::new("history.tally").with("n", Arg::from(count)));
    let of = Signal::derive(move || {
        let season = store.season();
        let entries = season.sowings.get(&id).map(|s| s.history.clone());
        (entries.unwrap_or_default(), id.to_string())
    });
    view! {
        <Section head="history.head" tally=tally>
            <History of recorder />
        </Section>
    }
}
