//! The latest useful sowing day of every variety for a target, and the ways out once it has passed.

use leptos::prelude::*;
use season::almanac::Almanac;
use season::forecast::{Course, Outlook, Source};
use season::ids::TargetId;
use season::last_call::{By, LastCall, last_calls, swaps};
use season::plan::WAYS_OUT;
use season::roles::role_of;
use season::tray_hold;
use season::why::{Basis, Reason};
use season::words::{Arg, Manner, Say, text};

use crate::browser::page;
use crate::forms::names;
use crate::parts::{Icon, Section, Why};
use crate::route::{Route, ShedPart};
use crate::store::Store;

/// Swaps that are named.
const SWAPS_TOLD: usize = 3;

/// One variety in one space.
#[derive(Clone, PartialEq)]
struct Told {
    name: String,
    day: String,
    note: Option<&'static str>,
    why: Vec<Reason>,
}

/// A planned sowing for the target whose trays can't wait.
#[derive(Clone, PartialEq)]
struct Held {
    name: String,
    say: String,
    why: Vec<Reason>,
}

#[derive(Clone, PartialEq)]
struct All {
    calls: Vec<Told>,
    any_passed: bool,
    all_passed: bool,
    swaps: Vec<String>,
    swap_role: Option<String>,
}

fn told(almanac: &Almanac<'_>, call: &LastCall, manner: Manner) -> Told {
    let name = Say::new("last.name")
        .with("variety", names::variety(almanac, &call.variety))
        .with("space", names::space(almanac, &call.space));
    let day = match call.by {
        By::Day(day) => Say::new("last.day").with("date", day),
        By::Frost => Say::new("last.frost"),
        By::Unknown => Say::new("last.unknown"),
    };
    Told {
        name: name.write(manner),
        day: day.write(manner),
        note: call.passed.then_some("last.passed"),
        why: call.why.clone(),
    }
}

fn swap(almanac: &Almanac<'_>, call: &LastCall, manner: Manner) -> Option<String> {
    let By::Day(day) = call.by else { return None };
    let say = Say::new("last.swap_to")
        .with("variety", names::variety(almanac, &call.variety))
        .with("space", names::space(almanac, &call.space))
        .with("date", day);
    Some(say.write(manner))
}

fn held(outlook: &Outlook<'_>, target: &TargetId, manner: Manner) -> Vec<Held> {
    let almanac = outlook.almanac();
    let of = |(source, course): (&Source, &Course)| {
        let Source::Planned(id) = source else {
            return None;
        };
        let planned = almanac.season().planned.get(id)?;
        if planned.target.as_ref() != Some(target) {
            return None;
        }
        let hold = tray_hold::of_planned(almanac, planned, course.sown, course.planted()?)?;
        let name = Say::new("last.planned")
            .with("variety", names::variety(almanac, &course.variety))
            .with("date", course.sown);
        Some(Held {
            name: name.write(manner),
            say: hold.say.write(manner),
            why: hold.why,
        })
    };
    outlook.supply().courses.iter().filter_map(of).collect()
}

fn calls(store: Store, id: &TargetId) -> Option<All> {
    let manner = store.manner();
    store.outlook().with(|outlook| {
        let almanac = outlook.almanac();
        let target = almanac.season().targets.get(id)?;
        let calls = last_calls(outlook, target);
        let role = role_of(almanac, &target.wanted);
        Some(All {
            any_passed: calls.iter().any(|call| !call.is_open()),
            all_passed: !calls.iter().any(LastCall::is_open),
            swaps: swaps(outlook, target)
                .iter()
                .take(SWAPS_TOLD)
                .filter_map(|call| swap(almanac, call, manner))
                .collect(),
            swap_role: role.map(|role| text(role.key()).to_owned()),
            calls: calls
                .iter()
                .map(|call| told(almanac, call, manner))
                .collect(),
        })
    })
}

/// The sections on a target's page: its last days, and the trays of its planned sowings that can't wait.
#[component]
pub fn LastCalls(
    /// Which target.
    id: TargetId,
) -> impl IntoView {
    let of = id.clone();
    view! {
        <Section head="last.head">
            <p class="section__lead">{text("last.lead")}</p>
            <Calls id />
        </Section>
        <Waiting id=of />
    }
}

/// The last days of one target, folded: worked out when it is opened, since there may be many.
#[component]
pub fn FoldedCalls(
    /// Which target.
    id: TargetId,
    /// The target in words.
    name: String,
) -> impl IntoView {
    let open = RwSignal::new(false);
    view! {
        <details
            class="why"
            on:toggle=move |event| open.set(open.get_untracked() || page::is_open(&event))
        >
            <summary class="why__ask">{name}</summary>
            <div class="why__panel">
                {move || open.get().then(|| view! { <Calls id=id.clone() /> })}
            </div>
        </details>
    }
}

#[component]
fn Calls(id: TargetId) -> impl IntoView {
    let store = Store::here();
    let found = Memo::new(move |_| calls(store, &id));
    move || {
        let found = found.get()?;
        if found.calls.is_empty() {
            return Some(view! { <p class="soft">{text("short.no_variety")}</p> }.into_any());
        }
        let lines = found
            .calls
            .iter()
            .cloned()
            .map(|one| view! { <OfVariety one /> })
            .collect_view();
        let out = found
            .any_passed
            .then(|| view! { <WaysOut all=found.clone() /> });
        Some(
            view! {
                <ol class="last">{lines}</ol>
                {out}
            }
            .into_any(),
        )
    }
}

#[component]
fn Waiting(id: TargetId) -> impl IntoView {
    let store = Store::here();
    let found = Memo::new(move |_| {
        let manner = store.manner();
        store.outlook().with(|outlook| held(outlook, &id, manner))
    });
    move || {
        let lines: Vec<_> = found
            .get()
            .into_iter()
            .map(|one| view! { <OfTray one /> })
            .collect();
        (!lines.is_empty()).then(|| {
            view! {
                <Section head="hold.head">
                    <ul class="last">{lines}</ul>
                </Section>
            }
        })
    }
}

#[component]
fn OfVariety(one: Told) -> impl IntoView {
    let class = if one.note.is_some() {
        "last__one last__one--passed"
    } else {
        "last__one"
    };
    view! {
        <li class=class>
            <p class="last__name">
                {one.name}
                {one
                    .note
                    .map(|key| {
                        view! {
                            " "
                            <span class="chip chip--late">{text(key)}</span>
                        }
                    })}
            </p>
            <Why figure=one.day basis=Basis::Forecast reasons=one.why />
        </li>
    }
}

#[component]
fn OfTray(one: Held) -> impl IntoView {
    view! {
        <li class="last__one">
            <p class="last__name">
                <Icon name="caution" small=true />
                {one.name}
            </p>
            <p>{one.say}</p>
            <Why figure="hold.why" basis=Basis::Forecast reasons=one.why />
        </li>
    }
}

/// The four ways out, each with what can be done about it here. Open by itself once no day is left.
#[component]
fn WaysOut(all: All) -> impl IntoView {
    let ways = WAYS_OUT
        .into_iter()
        .map(|key| {
            let what = match key {
                "way_out.plugs" => view! { <p>{text("last.plugs")}</p> }.into_any(),
                "way_out.stems" => view! { <p>{text("last.stems")}</p> }.into_any(),
                "way_out.swap" => {
                    view! { <Swaps swaps=all.swaps.clone() role=all.swap_role.clone() /> }
                        .into_any()
                }
                _ => view! {
                    <p>{text("last.tell")}</p>
                    <div class="actions">
                        <a class="btn" href=Route::Cooler.href()>
                            {text("last.orders")}
                        </a>
                    </div>
                }
                .into_any(),
            };
            view! {
                <li>
                    <h3 class="last__way">{text(key)}</h3>
                    {what}
                </li>
            }
        })
        .collect_view();
    let head = if all.all_passed {
        "last.all_passed"
    } else {
        "last.some_passed"
    };
    view! {
        <details class="why" open=all.all_passed>
            <summary class="why__ask">{text(head)}</summary>
            <ul class="why__panel stack">{ways}</ul>
        </details>
    }
}

#[component]
fn Swaps(swaps: Vec<String>, role: Option<String>) -> impl IntoView {
    if swaps.is_empty() {
        return view! {
            <p>{text("last.no_swap")}</p>
            <div class="actions">
                <a class="btn" href=Route::Shed(ShedPart::Varieties).href()>
                    {text("last.varieties")}
                </a>
            </div>
        }
        .into_any();
    }
    let lead = Say::new("last.swap")
        .with_some("role", role.map(Arg::Text))
        .write(Manner::default());
    let lines = swaps
        .into_iter()
        .map(|one| view! { <li>{one}</li> })
        .collect_view();
    view! {
        <p>{lead}</p>
        <ul>{lines}</ul>
    }
    .into_any()
}
