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

/// A task as a line of the almanac: its day, what, which, why, and the box to record it. The element stays while the task changes;
/// what it does and what it is about stay the same.
#[component]
pub fn TaskRow(
    /// The task.
    task: Memo<Task>,
    /// The screen's recorder.
    recorder: Recorder,
    /// Where the screen itself is about its subject: what, without which.
    here: bool,
    /// Under a heading of the third level: a stop of the walk.
    at_stop: bool,
) -> impl IntoView {
    let store = Store::here();
    let due = Memo::new(move |_| task.with(|task| task.due(store.today())));
    let which = Memo::new(move |_| {
        let said = store.with_almanac(|almanac| task.with(|task| subject(almanac, task)));
        said.write(store.manner())
    });
    let what = text(task.with_untracked(|task| task.kind.key()));
    let head = if at_stop {
        view! { <h4 class="task__what">{what}</h4> }.into_any()
    } else {
        view! { <h3 class="task__what">{what}</h3> }.into_any()
    };
    let name = (!here).then(|| {
        let name = match task.with_untracked(|task| place_of(&task.subject)) {
            Some(route) => view! { <a href=route.href()>{move || which.get()}</a> }.into_any(),
            None => (move || which.get()).into_any(),
        };
        view! { <p class="task__which">{name}</p> }
    });
    view! {
        <li class="task" class:task--late=move || due.get() == Due::Late data-guarded="">
            <p class="task__when">
                {move || {
                    let margin = task.with(|task| margin(task, store.today()));
                    view! {
                        <span class="task__num">{margin.number}</span>
                        <span class="task__unit">{margin.unit.write(store.manner())}</span>
                    }
                }}
            </p>
            {head}
            {name}
            <p class="task__why">{move || task.with(|task| task.why.write(store.manner()))}</p>
            <button
                class="task__do"
                type="button"
                aria-haspopup="dialog"
                on:click=move |_| task.with_untracked(|task| recorder.task(task))
            >
                {text("today.record")}
                <span class="visually-hidden">" " {what} ": " {move || which.get()}</span>
            </button>
            <div class="task__more">
                {move || {
                    let task = task.get();
                    let caution = task.caution.filter(|_| due.get() <= Due::Today);
                    view! {
                        {caution
                            .map(|key| {
                                view! { <FoldedCaution head=caution_head(key) text=key /> }
                            })}
                        <When task today=store.today() manner=store.manner() />
                    }
                }}
            </div>
        </li>
    }
}

/// When it may be done, drawn, with the chain behind it.
#[component]
fn When(task: Task, today: NaiveDate, manner: Manner) -> impl IntoView {
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
