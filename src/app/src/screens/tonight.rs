//! What to cover tonight: on Today and over the beds, while a low or a frost is noted for it.

use leptos::prelude::*;
use season::Fact;
use season::almanac::Almanac;
use season::cover::{CoverItem, Tonight, tonight};
use season::fact::CoveredFact;
use season::tasks::Subject;
use season::words::{Manner, Say, text};

use crate::forms::names;
use crate::parts::{Caution, Icon, SaveProblem, Saver, Section};
use crate::screens::today::row::place_of;
use crate::store::Store;

fn name(almanac: &Almanac<'_>, item: &CoverItem) -> Say {
    match &item.subject {
        Subject::Planting(id) => names::planting(almanac, id),
        Subject::Sowing(id) => names::sowing(almanac, id),
        _ => names::variety(almanac, &item.variety),
    }
}

fn covered(item: &CoverItem, night: &Tonight) -> Option<Fact> {
    let (sowing, planting) = match &item.subject {
        Subject::Planting(id) => (None, Some(id.clone())),
        Subject::Sowing(id) => (Some(id.clone()), None),
        _ => return None,
    };
    Some(
        CoveredFact {
            sowing,
            planting,
            ..CoveredFact::new(night.evening)
        }
        .into(),
    )
}

/// The night's list; nothing while nothing is noted for it.
#[component]
pub fn TonightView() -> impl IntoView {
    let store = Store::here();
    let saver = Saver::new();
    let night = Memo::new(move |_| {
        let today = store.today();
        store.with_almanac(|almanac| tonight(almanac, today))
    });
    move || night.get().map(|night| view! { <List night saver /> })
}

#[component]
fn List(night: Tonight, saver: Saver) -> impl IntoView {
    let store = Store::here();
    let manner: Manner = store.manner_now();
    let open: Vec<Fact> = night
        .items
        .iter()
        .filter(|item| !item.covered)
        .filter_map(|item| covered(item, &night))
        .collect();
    let rows = night
        .items
        .iter()
        .map(|item| {
            let said = store
                .with_almanac_now(|almanac| name(almanac, item))
                .write(manner);
            let label = said.clone();
            let why = item.why.write(manner);
            let to = place_of(&item.subject).map(|route| route.href());
            let fact = covered(item, &night).filter(|_| !item.covered);
            let done = item.covered.then(|| {
                view! {
                    <span class="soft">
                        <Icon name="tick" small=true />
                        {text("cover.done")}
                    </span>
                }
            });
            let button = fact.map(|fact| {
                view! {
                    <button
                        class="btn"
                        type="button"
                        on:click=move |_| saver.save(vec![fact.clone()], |_| {})
                    >
                        {text("cover.cover")}
                        <span class="visually-hidden">": " {label}</span>
                    </button>
                }
            });
            view! {
                <li class="cover" data-guarded="">
                    <h3 class="cover__name">
                        <a href=to>{said}</a>
                    </h3>
                    <p class="soft small">{why}</p>
                    {done}
                    {button}
                </li>
            }
        })
        .collect_view();
    let all = (open.len() > 1).then(|| {
        let said = Say::new("cover.all").with("n", open.len()).write(manner);
        view! {
            <button
                class="btn btn--primary"
                type="button"
                on:click=move |_| saver.save(open.clone(), |_| {})
            >
                {said}
            </button>
        }
    });
    let any = !night.items.is_empty();
    view! {
        <Section head="cover.head">
            <p class="lead">{night.say.write(manner)}</p>
            <ul>{rows}</ul>
            <SaveProblem saver />
            <div class="actions">{all}</div>
            {any.then(|| view! { <Caution head="caution.cover.head" text="caution.cover" /> })}
        </Section>
    }
}
