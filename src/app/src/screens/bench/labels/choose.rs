//! Which sowings get labels, and numbers for those that have none.

use std::collections::BTreeSet;

use leptos::prelude::*;
use season::Fact;
use season::fact::RevisedFact;
use season::ids::{EntryId, SowingId};
use season::tray_number::numbers_for;
use season::words::{Say, text};

use super::Wish;
use crate::forms::names;
use crate::parts::{Notice, NoticeKind, SaveProblem, Saver, Section, Words};
use crate::store::Store;

/// A tick for each sowing.
#[component]
pub(super) fn Choose(wish: Wish, listed: Memo<Vec<SowingId>>) -> impl IntoView {
    let tally = Signal::derive(move || {
        let n = wish.chosen.with(BTreeSet::len);
        Words::from(Say::new("labels.which_tally").with("n", n)).get()
    });
    let all = move |_| {
        let ids = listed.get_untracked();
        wish.chosen.set(ids.into_iter().collect());
    };
    view! {
        <Section head="labels.which" tally=tally>
            <Bare wish />
            <div class="actions">
                <button class="btn" type="button" on:click=all>
                    {text("labels.all")}
                </button>
                <button
                    class="btn"
                    type="button"
                    on:click=move |_| wish.chosen.set(BTreeSet::new())
                >
                    {text("labels.none")}
                </button>
            </div>
            <div class="pick">
                {move || {
                    listed
                        .get()
                        .into_iter()
                        .map(|id| view! { <One wish id /> })
                        .collect_view()
                }}
            </div>
        </Section>
    }
}

#[component]
fn One(wish: Wish, id: SowingId) -> impl IntoView {
    let store = Store::here();
    let (for_name, for_change) = (id.clone(), id.clone());
    let name = move || {
        let manner = store.manner();
        store.with_almanac(|almanac| names::sowing(almanac, &for_name).write(manner))
    };
    view! {
        <label class="tick">
            <input
                type="checkbox"
                prop:checked=move || wish.chosen.with(|chosen| chosen.contains(&id))
                on:change=move |event| {
                    let id = for_change.clone();
                    wish.chosen
                        .update(|chosen| {
                            if event_target_checked(&event) {
                                chosen.insert(id);
                            } else {
                                chosen.remove(&id);
                            }
                        });
                }
            />
            {name}
        </label>
    }
}

/// Those chosen that have no number, and the way to give them some.
#[component]
fn Bare(wish: Wish) -> impl IntoView {
    let store = Store::here();
    let saver = Saver::new();
    let bare = Memo::new(move |_| {
        let season = store.season();
        wish.chosen.with(|chosen| {
            let sowings = chosen.iter().filter_map(|id| season.sowings.get(id));
            sowings.filter(|sowing| sowing.number.is_none()).count()
        })
    });
    let give = move |_| {
        let (season, today) = (store.season_now(), store.today_now());
        let given = wish
            .chosen
            .with_untracked(|chosen| numbers_for(&season, chosen, today));
        let facts: Vec<Fact> = given.into_iter().filter_map(numbered).collect();
        if !facts.is_empty() {
            saver.save(facts, |_| ());
        }
    };
    view! {
        <SaveProblem saver />
        {move || {
            let n = bare.get();
            (n > 0)
                .then(|| {
                    let act = Words::from(Say::new("labels.bare.do").with("n", n));
                    view! {
                        <Notice
                            kind=NoticeKind::Info
                            head=Say::new("labels.bare").with("n", n)
                            text="labels.bare.text"
                        >
                            <button
                                class="btn"
                                type="button"
                                aria-busy=move || saver.is_busy().then_some("true")
                                on:click=give
                            >
                                {move || act.get()}
                            </button>
                        </Notice>
                    }
                })
        }}
    }
}

/// The correction of a sowing's record that gives it a number.
fn numbered((id, number): (SowingId, u32)) -> Option<Fact> {
    let revised = RevisedFact::new(
        EntryId::new(id.as_str()).ok()?,
        [("number".to_owned(), number.into())].into_iter().collect(),
    );
    Some(revised.into())
}
