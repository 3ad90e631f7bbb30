//! Finding a tray: by what is typed, or by its label before the camera.

mod scan;
mod sight;

use leptos::ev::SubmitEvent;
use leptos::prelude::*;
use season::ids::SowingId;
use season::words::{Say, text};

use self::scan::ByLabel;
use crate::browser::page;
use crate::finding::{Found, find, sole};
use crate::forms::names;
use crate::parts::{
    Back, ContentsLine, Drawing, Empty, Frame, Notice, NoticeKind, Section, TextField, Typed,
};
use crate::route::{Area, Route};
use crate::store::Store;

/// Sowings that are shown at once, of those that stand and of those that ended.
const SHOWN_MAX: usize = 40;

/// A tray by its number, its variety or its label.
#[component]
pub fn FindScreen() -> impl IntoView {
    let store = Store::here();
    let typed = Typed::new("");
    let none_sown = Memo::new(move |_| store.season().sowings.is_empty());
    view! {
        <Frame title="find.title" area=Area::Bench back=Back::to_area(Area::Bench)>
            {move || {
                if none_sown.get() {
                    view! {
                        <Empty drawing=Drawing::Bench head="find.empty" text="find.empty.text">
                            <a class="btn btn--primary btn--great" href=Route::Sow.href()>
                                {text("bench.empty.go")}
                            </a>
                        </Empty>
                    }
                        .into_any()
                } else {
                    view! {
                        <Search typed />
                        <ByLabel />
                        <Matches typed />
                    }
                        .into_any()
                }
            }}
        </Frame>
    }
}

#[component]
fn Search(typed: Typed) -> impl IntoView {
    let store = Store::here();
    // The keyboard's own key for going on opens the one that is meant.
    let open = move |event: SubmitEvent| {
        event.prevent_default();
        let found = store.with_almanac_now(|almanac| find(almanac, &typed.text_now()));
        if let Some(id) = sole(&found) {
            page::go(&Route::Tray(id.clone()).href());
        }
    };
    view! {
        <form class="find" role="search" on:submit=open>
            <TextField typed label="find.field" hint="find.hint" />
            <button class="btn btn--primary" type="submit">
                {text("find.go")}
            </button>
        </form>
    }
}

#[component]
fn Matches(typed: Typed) -> impl IntoView {
    let store = Store::here();
    let found = Memo::new(move |_| store.with_almanac(|almanac| find(almanac, &typed.text())));
    let part = move |stands: bool| {
        let of_part = |found: &&Found| found.stands == stands;
        let ids = found.with(|found| {
            let ids = found.iter().filter(of_part).map(|found| found.id.clone());
            ids.collect::<Vec<SowingId>>()
        });
        (!ids.is_empty()).then(|| view! { <Part ids stands /> })
    };
    view! {
        <div aria-live="polite">
            {move || {
                found
                    .with(Vec::is_empty)
                    .then(|| {
                        view! {
                            <Notice kind=NoticeKind::Info head="find.none" text="find.none.text" />
                        }
                    })
            }}
            {move || part(true)}
            {move || part(false)}
        </div>
    }
}

#[component]
fn Part(ids: Vec<SowingId>, stands: bool) -> impl IntoView {
    let store = Store::here();
    let manner = store.manner();
    let head = if stands {
        "find.standing"
    } else {
        "find.ended"
    };
    let tally = Say::new("find.tally").with("n", ids.len());
    let more = ids.len().saturating_sub(SHOWN_MAX);
    let today = store.today();
    let lines = store.with_almanac(|almanac| {
        ids.iter()
            .take(SHOWN_MAX)
            .filter_map(|id| {
                let sowing = almanac.season().sowings.get(id)?;
                let place = stands.then(|| names::space_arg(almanac, sowing.space_on(today)));
                Some((
                    id.clone(),
                    names::sowing(almanac, id).write(manner),
                    place.flatten().map(|place| place.written(manner)),
                ))
            })
            .collect::<Vec<_>>()
    });
    let lines = lines
        .into_iter()
        .map(|(id, name, place)| match place {
            Some(note) => {
                view! { <ContentsLine to=Route::Tray(id) name=name note=note /> }.into_any()
            }
            None => view! { <ContentsLine to=Route::Tray(id) name=name /> }.into_any(),
        })
        .collect_view();
    view! {
        <Section head=head tally=tally>
            <ul class="contents">{lines}</ul>
            {(more > 0)
                .then(|| {
                    let say = Say::new("find.more").with("n", more);
                    view! { <p class="soft">{say.write(manner)}</p> }
                })}
        </Section>
    }
}
