//! The plan: what to sow for the targets, and what can't be met.

use leptos::prelude::*;
use season::Fact;
use season::plan::{Crowding, Shortfall, WAYS_OUT};
use season::words::{Arg, Say, text};

use super::accepted::Accepted;
use super::chances::Chances;
use super::planning::{Planning, Progress};
use super::proposal::{Proposals, accept, asker};
use super::seed::SeedSum;
use super::supply::NoTargets;
use super::weeks::span;
use crate::forms::{RecordSheet, Recorder};
use crate::parts::{Back, Frame, Icon, Notice, NoticeKind, SaveProblem, Saver, Section};
use crate::route::{Area, Route, SeasonPart};
use crate::store::Store;

/// The plan's screen.
#[component]
pub fn PlanScreen() -> impl IntoView {
    let store = Store::here();
    let planning = Planning::here();
    let recorder = Recorder::new();
    let saver = Saver::new();
    let no_targets = Memo::new(move |_| {
        let season = store.season();
        season.targets.values().all(|target| target.retired)
            && season.planned.values().all(|planned| planned.retired)
    });
    view! {
        <Frame title="plan.title" area=Area::Season back=Back::to_area(Area::Season)>
            {move || {
                if no_targets.get() {
                    return view! { <NoTargets /> }.into_any();
                }
                view! {
                    <SaveProblem saver />
                    <Search planning />
                    <Crowded planning />
                    <Short planning />
                    <div class="spread">
                        <div class="leaf">
                            <Proposed planning saver />
                        </div>
                        <div class="leaf">
                            <Accepted recorder saver />
                            <SeedShort planning />
                            <Chances planning />
                        </div>
                    </div>
                }
                    .into_any()
            }}
            <RecordSheet recorder />
        </Frame>
    }
}

/// Sowings that are proposed.
#[component]
fn Proposed(planning: Planning, saver: Saver) -> impl IntoView {
    let tally = Signal::derive(move || {
        planning.plan().map_or_else(String::new, |plan| {
            Say::new("plan.tally")
                .with("n", plan.proposals.len())
                .write(Default::default())
        })
    });
    let all = move |_| {
        let facts: Vec<Fact> = planning
            .plan()
            .map(|plan| plan.proposals.iter().map(accept).collect())
            .unwrap_or_default();
        if !facts.is_empty() {
            saver.save(facts, |_| {});
        }
    };
    let many = move || planning.plan().is_some_and(|plan| plan.proposals.len() > 1);
    view! {
        <Section head="plan.proposed" tally=tally>
            {move || {
                many()
                    .then(|| {
                        view! {
                            <div class="actions">
                                <button
                                    class="btn btn--primary btn--great"
                                    type="button"
                                    aria-busy=move || saver.is_busy().then_some("true")
                                    on:click=all
                                >
                                    <Icon name="tick" />
                                    {text("plan.accept_all")}
                                </button>
                            </div>
                        }
                    })
            }}
            <Proposals planning saver />
        </Section>
    }
}

/// How far the search has come, and how good the plan is.
#[component]
fn Search(planning: Planning) -> impl IntoView {
    let store = Store::here();
    move || {
        let plan = planning.plan();
        let n = plan.as_ref().map_or(0, |plan| plan.proposals.len());
        let gap = plan.as_ref().and_then(|plan| plan.assurance).map(|a| a.gap);
        let good = gap.map(|gap| how_good(gap).write(store.manner()));
        match planning.progress() {
            Progress::Searching => {
                let said = match plan {
                    None => text("plan.busy").to_owned(),
                    Some(_) => Say::new("plan.searching")
                        .with("n", n)
                        .write(store.manner()),
                };
                view! {
                    <div class="search" aria-busy="true">
                        <p role="status">{said} " " {good}</p>
                        <progress aria-label=text("plan.busy")></progress>
                        <button class="btn" type="button" on:click=move |_| planning.stop(store)>
                            {text("plan.stop")}
                        </button>
                    </div>
                }
                .into_any()
            }
            Progress::Done => view! {
                <p class="soft small" role="status">
                    {good.map(|good| view! { {text("plan.done")} " " {good} })}
                </p>
            }
            .into_any(),
            Progress::Stopped => {
                let said = if gap.is_some() {
                    "plan.stopped"
                } else {
                    "plan.stopped_early"
                };
                view! {
                    <div class="search">
                        <p role="status">{text(said)} " " {good}</p>
                        <Again planning />
                    </div>
                }
                .into_any()
            }
            Progress::Failed(why) => view! {
                <Notice kind=NoticeKind::Problem head="plan.failed" text=why />
                <Again planning />
            }
            .into_any(),
        }
    }
}

#[component]
fn Again(planning: Planning) -> impl IntoView {
    let store = Store::here();
    view! {
        <button class="btn" type="button" on:click=move |_| planning.again(store)>
            {text("plan.search_again")}
        </button>
    }
}

/// How far from the cheapest plan it may be.
fn how_good(gap: f64) -> Say {
    // Below half a hundredth it is the cheapest for all that anybody can tell.
    if gap < 0.005 {
        Say::new("plan.cheapest")
    } else {
        Say::new("plan.gap").with("n", Arg::Share((gap * 100.0).ceil() / 100.0))
    }
}

/// What can't be met, and the ways out.
#[component]
fn Short(planning: Planning) -> impl IntoView {
    let store = Store::here();
    move || {
        let plan = planning.plan()?;
        let manner = store.manner();
        let told = plan
            .shortfalls
            .iter()
            .map(|short| {
                let head = store.with_almanac(|almanac| {
                    Say::new("plan.short")
                        .with("n", short.stems)
                        .with("wanted", asker(almanac, &short.asker))
                        .with("weeks", span(short.weeks.0, short.weeks.1))
                });
                let why = short.why.write(manner);
                let mends: Vec<String> = short.mends.iter().map(|m| m.write(manner)).collect();
                view! {
                    <li>
                        <strong>{head.write(manner)}</strong>
                        " "
                        {why}
                        {(!mends.is_empty()).then(|| view! { " " {mends.join(" ")} })}
                    </li>
                }
            })
            .collect::<Vec<_>>();
        let ways = ways_out(&plan.shortfalls);
        if told.is_empty() {
            return None;
        }
        let n = told.len();
        let head = Say::new("plan.short_head").with("n", n).write(manner);
        Some(view! {
            <div class="notice notice--caution" role="status">
                <Icon name="caution" />
                <p class="notice__head">{head}</p>
                <ul class="stack">{told}</ul>
                {ways.map(|ways| view! { <p>{ways}</p> })}
                <div class="actions">
                    <a class="btn" href=Route::Season(SeasonPart::Targets).href()>
                        {text("plan.change_targets")}
                    </a>
                </div>
            </div>
        })
    }
}

/// The ways out when it is too late to sow, in one line.
fn ways_out(short: &[Shortfall]) -> Option<String> {
    let too_late = short.iter().any(|short| short.latest_sowing.is_some());
    let ways = WAYS_OUT.map(text).join(" · ");
    too_late.then(|| {
        Say::new("plan.ways_out")
            .with("ways", ways)
            .write(Default::default())
    })
}

/// Where mats or shelves would overflow.
#[component]
fn Crowded(planning: Planning) -> impl IntoView {
    let store = Store::here();
    move || {
        let plan = planning.plan()?;
        let manner = store.manner();
        let told: Vec<String> = plan
            .crowding
            .iter()
            .map(|crowd| crowding(crowd).write(manner))
            .collect();
        (!told.is_empty()).then(|| {
            view! {
                <Notice kind=NoticeKind::Caution head="plan.crowded" text=told.join(" ") />
            }
        })
    }
}

/// "Shelf: 19 trays in weeks 9 to 12, room for 16."
fn crowding(crowd: &Crowding) -> Say {
    Say::new("plan.crowding")
        .with("space", Arg::Key(crowd.what.key()))
        .with("n", crowd.trays)
        .with("weeks", span(crowd.weeks.0, crowd.weeks.1))
        .with("room", crowd.room)
}

/// Seed that is needed, in short.
#[component]
fn SeedShort(planning: Planning) -> impl IntoView {
    view! {
        <Section head="seed.title">
            <SeedSum planning />
            <a class="btn" href=Route::Season(SeasonPart::Seed).href()>
                {text("seed.open")}
            </a>
        </Section>
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use season::fact::SpaceKind;

    #[test]
    fn crowding_says_what_where_when_and_the_room_there_is() {
        let week = |text: &str| text.parse().unwrap();
        let crowd = Crowding {
            what: SpaceKind::Shelf,
            weeks: (week("2027-W09"), week("2027-W12")),
            trays: 19,
            room: 16,
        };
        assert_eq!(
            crowding(&crowd).write(Default::default()),
            "Shelf: 19 trays in week 9 to week 12, room for 16."
        );
    }
}
