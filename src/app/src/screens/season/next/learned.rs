//! What the records suggest, each accepted by itself.

use leptos::prelude::*;
use season::Fact;
use season::crop_year::{CropSpan, spans};
use season::fact::{Learned as Figure, VarietyFact};
use season::ids::VarietyId;
use season::review::{Suggestion, learned_value, suggest};
use season::words::{Arg, Say, text};

use crate::forms::names;
use crate::parts::why::Reasons;
use crate::parts::words::figure_label;
use crate::parts::{Icon, SaveProblem, Saver, Section};
use crate::store::Store;

/// A suggestion that is open, or what was accepted in its place.
#[derive(Clone, PartialEq)]
enum One {
    Open(Box<Suggestion>),
    Taken {
        variety: VarietyId,
        figure: String,
        said: String,
    },
}

/// The season that is looked back on: the one that is going on, or the one before while it has hardly begun.
fn span(store: Store) -> Option<CropSpan> {
    const HARDLY_DAYS: i64 = 120;
    let today = store.today();
    let spans = spans(&store.season(), today);
    let now = spans.first()?;
    let young = now.name.is_some() && (today - now.from).num_days() < HARDLY_DAYS;
    spans.get(usize::from(young)).or(Some(now)).cloned()
}

/// Whether the records of a season are in a figure already. One that was accepted as the season began rests on the one before.
fn counts(learned: &Figure, span: &CropSpan) -> bool {
    const BEGINNING_DAYS: i64 = 60;
    (learned.until - span.from).num_days() >= BEGINNING_DAYS.min((span.to - span.from).num_days())
}

/// What stood in a figure's place before this season's records were accepted.
fn before(store: Store, variety: &VarietyId, figure: &str) -> Option<Figure> {
    let span = untrack(|| span(store))?;
    store.with_log_now(|log| {
        let of = |entry: &season::Entry| match entry.fact() {
            Fact::Variety(fact) if fact.of == *variety => *fact.learned.get(figure)?,
            _ => None,
        };
        log.iter()
            .rev()
            .filter_map(of)
            .find(|learned| !counts(learned, &span))
    })
}

fn all(store: Store) -> Vec<One> {
    let (today, manner) = (store.today(), store.manner());
    let Some(span) = span(store) else {
        return Vec::new();
    };
    store.with_almanac(|almanac| {
        let taken = |variety: &VarietyId, figure: &str| {
            let learned = almanac.variety(variety)?.learned.get(figure).copied();
            learned.filter(|learned| counts(learned, &span))
        };
        let mut found: Vec<One> = suggest(almanac, span.from, span.to, today)
            .into_iter()
            .filter(|one| taken(&one.variety, one.figure).is_none())
            .map(|one| One::Open(Box::new(one)))
            .collect();
        for variety in almanac.season().varieties_in_order() {
            for (figure, learned) in &variety.learned {
                if !counts(learned, &span) {
                    continue;
                }
                let said = Say::new("learned.taken")
                    .with("variety", names::variety(almanac, &variety.id))
                    .with("figure", figure_label(figure))
                    .with("n", learned_value(figure, learned.value))
                    .with("low", learned_value(figure, learned.low))
                    .with("high", learned_value(figure, learned.high))
                    .with("plantings", learned.plantings)
                    .with("seasons", learned.seasons);
                found.push(One::Taken {
                    variety: variety.id.clone(),
                    figure: figure.clone(),
                    said: said.write(manner),
                });
            }
        }
        found
    })
}

fn changes_of(of: VarietyId) -> VarietyFact {
    VarietyFact::new(of)
}

/// What accepting a suggestion records.
fn accepted(store: Store, one: &Suggestion) -> VarietyFact {
    let before = store.with_almanac_now(|almanac| {
        let variety = almanac.variety(&one.variety)?;
        variety.learned.get(one.figure).copied()
    });
    let until = untrack(|| span(store)).map_or_else(|| store.today_now(), |span| span.to);
    let plantings = before.map_or(0, |before| before.plantings);
    let figure = Figure {
        value: one.after,
        low: one.low,
        high: one.high,
        plantings: plantings.saturating_add(one.rests_on.plantings),
        seasons: before.map_or(0, |before| before.seasons).saturating_add(1),
        until,
    };
    VarietyFact {
        learned: [(one.figure.to_owned(), Some(figure))].into(),
        ..changes_of(one.variety.clone())
    }
}

/// All suggestions.
#[component]
pub(super) fn Learned() -> impl IntoView {
    let store = Store::here();
    let saver = Saver::new();
    let found = Memo::new(move |_| all(store));
    view! {
        <Section head="learned.head">
            <p class="section__lead">{text("learned.lead")}</p>
            {move || {
                let found = found.get();
                if found.is_empty() {
                    return view! { <p class="soft">{text("learned.none")}</p> }.into_any();
                }
                let lines = found
                    .into_iter()
                    .map(|one| view! { <Line one saver /> })
                    .collect_view();
                view! { <ul>{lines}</ul> }.into_any()
            }}
            <SaveProblem saver />
        </Section>
    }
}

#[component]
fn Line(one: One, saver: Saver) -> impl IntoView {
    let store = Store::here();
    let manner = store.manner_now();
    match one {
        One::Open(one) => {
            let said = one.say.write(manner);
            let rests = Say::new("learned.rests")
                .with("plantings", one.rests_on.plantings)
                .with("count", one.rests_on.count)
                .with("share", Arg::Share(one.rests_on.weight))
                .write(manner);
            let reasons = one.reasons.clone();
            let label = said.clone();
            let take = move |_| {
                saver.save(vec![accepted(store, &one).into()], |_| {});
            };
            view! {
                <li class="learned">
                    <p>{said}</p>
                    <p class="soft small">{rests}</p>
                    <details class="why why--inline">
                        <summary class="why__ask">{text("tray.why")}</summary>
                        <div class="why__panel">
                            <Reasons reasons />
                        </div>
                    </details>
                    <button class="btn" type="button" on:click=take>
                        {text("learned.take")}
                        <span class="visually-hidden">": " {label}</span>
                    </button>
                </li>
            }
            .into_any()
        }
        One::Taken {
            variety,
            figure,
            said,
        } => {
            let label = said.clone();
            let back = move |_| {
                let earlier = before(store, &variety, &figure);
                let fact = VarietyFact {
                    learned: [(figure.clone(), earlier)].into(),
                    ..changes_of(variety.clone())
                };
                saver.save(vec![fact.into()], |_| {});
            };
            view! {
                <li class="learned">
                    <p>
                        <Icon name="tick" small=true />
                        {said}
                    </p>
                    <button class="btn btn--quiet" type="button" on:click=back>
                        {text("learned.back")}
                        <span class="visually-hidden">": " {label}</span>
                    </button>
                </li>
            }
            .into_any()
        }
    }
}
