//! One task on the page.

use chrono::NaiveDate;
use leptos::prelude::*;
use season::almanac::Almanac;
use season::ids::OrderId;
use season::tasks::{Due, Subject, Task};
use season::why::Basis;
use season::words::{Arg, Manner, Say, text};

use super::groups::{margin, window};
use crate::forms::{Recorder, names};
use crate::parts::{FoldedCaution, Why};
use crate::route::Route;
use crate::store::Store;

/// Which tray, planting, variety or order a task is about.
pub fn subject(almanac: &Almanac<'_>, task: &Task) -> Say {
    match &task.subject {
        Subject::Planned(_) => {
            let variety = task.variety.as_ref().map(|id| names::variety(almanac, id));
            Say::new("today.planned")
                .with_some("variety", variety)
                .with_some("n", task.number)
        }
        Subject::Sowing(id) => names::sowing(almanac, id),
        Subject::Planting(id) => names::planting(almanac, id),
        Subject::Variety(id) => names::variety(almanac, id),
        Subject::Order(id) => order(almanac, id, None),
        Subject::Delivery(id, due) => order(almanac, id, Some(*due)),
    }
}

fn order(almanac: &Almanac<'_>, id: &OrderId, due: Option<NaiveDate>) -> Say {
    let order = almanac.season().orders.get(id);
    let who = order.map_or_else(String::new, |order| order.who.clone());
    Say::new("name.order")
        .with("who", who)
        .with_some("date", due.or_else(|| order?.date))
}

/// Where a task's subject is looked at closely.
pub fn place_of(subject: &Subject) -> Option<Route> {
    match subject {
        Subject::Sowing(id) => Some(Route::Tray(id.clone())),
        Subject::Planting(id) => Some(Route::Planting(id.clone())),
        Subject::Variety(_) => Some(Route::Cooler),
        Subject::Order(id) => Some(Route::Pick(id.clone(), None)),
        Subject::Delivery(id, due) => Some(Route::Pick(id.clone(), Some(*due))),
        Subject::Planned(_) => None,
    }
}

/// The key of a usual caution's head.
fn caution_head(key: &str) -> &'static str {
    match key {
        "caution.mat" => "caution.mat.head",
        "caution.ethylene" => "caution.ethylene.head",
        "caution.feed" => "caution.feed.head",
        "caution.cover" => "caution.cover.head",
        _ => "caution.handling.head",
    }
}

/// A task as a line of the almanac: its day, what, which, why, and the box to record it.
#[component]
pub fn TaskRow(
    /// The task.
    task: Task,
    /// The screen's recorder.
    recorder: Recorder,
    /// Where the screen itself is about its subject: what, without which.
    #[prop(optional)]
    here: bool,
    /// Under a heading of the third level: a stop of the walk.
    #[prop(optional)]
    at_stop: bool,
) -> impl IntoView {
    let store = Store::here();
    let (today, manner) = (store.today_now(), store.manner_now());
    let due = task.due(today);
    let which = store
        .with_almanac_now(|almanac| subject(almanac, &task))
        .write(manner);
    let margin = margin(&task, today);
    let class = if due == Due::Late {
        "task task--late"
    } else {
        "task"
    };
    let what = text(task.kind.key());
    let why = task.why.write(manner);
    let caution = task.caution.filter(|_| due <= Due::Today);
    let name = place_of(&task.subject).filter(|_| !here).map_or_else(
        || which.clone().into_any(),
        |route| view! { <a href=route.href()>{which.clone()}</a> }.into_any(),
    );
    let asked = task.clone();
    let head = if at_stop {
        view! { <h4 class="task__what">{what}</h4> }.into_any()
    } else {
        view! { <h3 class="task__what">{what}</h3> }.into_any()
    };
    view! {
        <li class=class>
            <p class="task__when">
                <span class="task__num">{margin.number}</span>
                <span class="task__unit">{margin.unit.write(manner)}</span>
            </p>
            {head}
            {(!here).then(|| view! { <p class="task__which">{name}</p> })}
            <p class="task__why">{why}</p>
            <button
                class="task__do"
                type="button"
                aria-haspopup="dialog"
                on:click=move |_| recorder.task(&asked)
            >
                {text("today.record")}
                <span class="visually-hidden">" " {what} ": " {which.clone()}</span>
            </button>
            <div class="task__more">
                {caution
                    .map(|key| {
                        view! { <FoldedCaution head=caution_head(key) text=key /> }
                    })}
                <When task manner />
            </div>
        </li>
    }
}

/// When it may be done, drawn, with the chain behind it.
#[component]
fn When(task: Task, manner: Manner) -> impl IntoView {
    let today = Store::here().today_now();
    let places = window(&task, today);
    let dates = task.window;
    if places.is_none() && task.reasons.is_empty() {
        return ().into_any();
    }
    let span = Say::new("today.window")
        .with("from", dates.earliest)
        .with("to", dates.latest);
    let label = Say::new("today.window.label")
        .with("from", dates.earliest)
        .with("to", dates.latest)
        .with("best", dates.best)
        .write(manner);
    let best = Say::new("today.best").with("date", Arg::Date(dates.best));
    let drawing = places.map(|(best, today)| {
        let x = |x: f64| format!("{x:.1}%");
        view! {
            <svg class="window" role="img" aria-label=label>
                <line class="window__span" x1="2%" x2="98%" y1="10" y2="10" />
                <line class="window__best" x1=x(best) x2=x(best) y1="2" y2="18" />
                <circle class="window__today" cx=x(today) cy="10" r="5" />
            </svg>
        }
    });
    view! {
        {drawing}
        <Why figure=best span=span basis=Basis::Forecast reasons=task.reasons inline=true />
    }
    .into_any()
}
