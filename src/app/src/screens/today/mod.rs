//! Today: what is next, in the order of the walk.

mod gauge;
pub mod groups;
pub mod row;
pub mod start;
pub mod tide;

use leptos::prelude::*;
use season::ids::SpaceId;
use season::tasks::Due;
use season::words::{Say, text};

use self::gauge::Gauge;
use self::groups::Walk;
use self::start::{Start, has_begun};
use super::task_list::{TaskList, numbered};
use super::tonight::TonightView;
use crate::forms::{Asked, Quick, RecordSheet, Recorder};
use crate::parts::{Drawing, Empty, Frame, Icon, Section, words};
use crate::route::Area;
use crate::store::Store;

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
    let walk = Memo::new(move |_| Walk::of(store.outlook(), store.today()));
    let soon = Memo::new(move |_| {
        let dues = walk.with(Walk::dues);
        let soon = dues.into_iter().filter(|due| *due != Due::Later);
        soon.collect::<Vec<_>>()
    });
    let has_later = Memo::new(move |_| walk.with(Walk::dues).contains(&Due::Later));
    let nothing_now = Memo::new(move |_| soon.with(Vec::is_empty));
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
        {move || nothing_now.get().then(|| view! { <NothingToDo /> })}
        <For
            each=move || soon.get()
            key=|due| *due
            children=move |due| view! { <DueSection due walk recorder /> }
        />
        {move || has_later.get().then(|| view! { <Later walk recorder /> })}
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

fn tally(walk: Memo<Walk>, due: Due) -> Signal<String> {
    let store = Store::here();
    Signal::derive(move || {
        let n = walk.with(|walk| walk.len(due));
        Say::new("today.tally").with("n", n).write(store.manner())
    })
}

/// What is due soon.
#[component]
fn DueSection(due: Due, walk: Memo<Walk>, recorder: Recorder) -> impl IntoView {
    let head = match due {
        Due::Late => "today.late",
        Due::Today => "today.now",
        Due::ThisWeek | Due::Later => "today.week",
    };
    view! {
        <Section head tally=tally(walk, due) late=due == Due::Late>
            <Stops due walk recorder />
        </Section>
    }
}

/// What is further off, folded up, and drawn when it is first unfolded: most days nobody does.
#[component]
fn Later(walk: Memo<Walk>, recorder: Recorder) -> impl IntoView {
    let unfolded = RwSignal::new(false);
    let tally = tally(walk, Due::Later);
    view! {
        <details class="section fold" on:toggle=move |_| unfolded.set(true)>
            <summary class="section__head fold__ask">
                <h2>{text("today.later")}</h2>
                <span class="section__tally">{tally}</span>
            </summary>
            {move || unfolded.get().then(|| view! { <Stops due=Due::Later walk recorder /> })}
        </details>
    }
}

/// The stops of one due time.
#[component]
fn Stops(due: Due, walk: Memo<Walk>, recorder: Recorder) -> impl IntoView {
    let spaces = Memo::new(move |_| numbered(walk.with(|walk| walk.spaces(due))));
    let stop = move |(space, n): (Option<SpaceId>, usize)| {
        let of_stop = space.clone();
        let tasks = Memo::new(move |_| walk.with(|walk| walk.tasks(due, of_stop.as_ref(), n)));
        view! {
            <div class="space">
                <SpaceHead space />
                <TaskList tasks recorder at_stop=true />
            </div>
        }
    };
    view! { <For each=move || spaces.get() key=Clone::clone children=stop /> }
}

#[component]
fn SpaceHead(space: Option<SpaceId>) -> impl IntoView {
    let store = Store::here();
    move || {
        let season = store.season();
        let space = season.spaces.get(space.as_ref()?)?;
        Some(view! {
            <h3 class="space__name">
                <Icon name=words::space_icon(space.what) />
                {space.name.clone()}
            </h3>
        })
    }
}
