//! Today: what is next, in the order of the walk.

mod gauge;
pub mod groups;
pub mod row;
pub mod start;
pub mod tide;

use leptos::prelude::*;
use season::tasks::{Due, Task};
use season::words::{Say, text};

use self::gauge::Gauge;
use self::groups::{Group, Stop, groups};
use self::row::TaskRow;
use self::start::{Start, has_begun};
use super::tonight::TonightView;
use crate::forms::{Asked, Quick, RecordSheet, Recorder};
use crate::parts::{Drawing, Empty, Frame, Icon, Section, words};
use crate::route::Area;
use crate::store::{Outlook, Store};

/// What is next.
#[component]
pub fn TodayScreen() -> impl IntoView {
    let store = Store::here();
    let recorder = Recorder::new();
    let begun = Memo::new(move |_| has_begun(&store.season()));
    view! {
        <Frame title="place.today" area=Area::Today>
            {move || {
                if begun.get() {
                    view! { <Tasks recorder /> }.into_any()
                } else {
                    view! { <Start /> }.into_any()
                }
            }}
            <RecordSheet recorder />
        </Frame>
    }
}

#[component]
fn Tasks(recorder: Recorder) -> impl IntoView {
    let store = Store::here();
    // What is folded up is drawn when it is first unfolded: most days nobody does.
    let unfolded = RwSignal::new(false);
    view! {
        <Gauge />
        <TonightView />
        <div class="actions no-print">
            <button
                class="btn"
                type="button"
                aria-haspopup="dialog"
                on:click=move |_| recorder.ask(Asked::Quick(Quick::What))
            >
                <Icon name="plus" small=true />
                {text("quick.open")}
            </button>
        </div>
        {move || {
            let (outlook, today) = (store.outlook(), store.today());
            // Sentences follow the reader's units.
            store.manner();
            let groups = groups(outlook.tasks(), today);
            if groups.is_empty() {
                return view! { <NothingToDo /> }.into_any();
            }
            let (later, soon): (Vec<Group>, Vec<Group>) = groups
                .into_iter()
                .partition(|group| group.due == Due::Later);
            let nothing_now = soon.is_empty().then(|| view! { <NothingToDo /> });
            let soon = soon
                .into_iter()
                .map(|group| section(group, outlook.tasks(), recorder))
                .collect_view();
            let later = later
                .into_iter()
                .map(|group| folded(group, outlook.clone(), unfolded, recorder))
                .collect_view();
            view! {
                {nothing_now}
                {soon}
                {later}
            }
            .into_any()
        }}
    }
}

#[component]
fn NothingToDo() -> impl IntoView {
    view! {
        <Empty drawing=Drawing::Today head="today.nothing" text="today.nothing.text">
            <a class="btn" href=Area::Bench.route().href()>
                {text(Area::Bench.key())}
            </a>
        </Empty>
    }
}

fn tally(group: &Group) -> Say {
    Say::new("today.tally").with("n", group.len())
}

fn section(group: Group, tasks: &[Task], recorder: Recorder) -> AnyView {
    let late = group.due == Due::Late;
    let head = match group.due {
        Due::Late => "today.late",
        Due::Today => "today.now",
        Due::ThisWeek | Due::Later => "today.week",
    };
    let tally = tally(&group);
    let stops = stops(group, tasks, recorder);
    view! {
        <Section head tally=tally late>
            {stops}
        </Section>
    }
    .into_any()
}

/// What is further off, folded up.
fn folded(group: Group, outlook: Outlook, unfolded: RwSignal<bool>, recorder: Recorder) -> AnyView {
    let tally = tally(&group).write(Store::here().manner_now());
    view! {
        <details class="section fold" on:toggle=move |_| unfolded.set(true)>
            <summary class="section__head fold__ask">
                <h2>{text("today.later")}</h2>
                <span class="section__tally">{tally}</span>
            </summary>
            {move || unfolded.get().then(|| stops(group.clone(), outlook.tasks(), recorder))}
        </details>
    }
    .into_any()
}

fn stops(group: Group, tasks: &[Task], recorder: Recorder) -> Vec<AnyView> {
    group
        .stops
        .into_iter()
        .map(|stop| self::stop(stop, tasks, recorder))
        .collect()
}

fn stop(stop: Stop, tasks: &[Task], recorder: Recorder) -> AnyView {
    let season = Store::here().season_now();
    let space = stop.space.as_ref().and_then(|id| season.spaces.get(id));
    let head = space.map(|space| {
        view! {
            <h3 class="space__name">
                <Icon name=words::space_icon(space.what) />
                {space.name.clone()}
            </h3>
        }
    });
    let rows = stop
        .tasks
        .iter()
        .filter_map(|n| tasks.get(*n).cloned())
        .map(|task| view! { <TaskRow task recorder at_stop=true /> })
        .collect_view();
    view! {
        <div class="space">
            {head}
            <ul>{rows}</ul>
        </div>
    }
    .into_any()
}
