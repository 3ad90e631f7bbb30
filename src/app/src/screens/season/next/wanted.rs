//! What was wanted in the past season, wanted again in the same weeks of the next.

use agronomy::iso_week::IsoWeek;
use leptos::prelude::*;
use season::Fact;
use season::fact::TargetFact;
use season::ids::TargetId;
use season::state::Target;
use season::words::{Say, text};

use crate::browser::{clock, random};
use crate::parts::{SaveProblem, Saver, Section};
use crate::route::{Route, SeasonPart};
use crate::screens::wanted;
use crate::store::Store;

/// The same week of the next year; the last one of a year that has no such week.
fn next_year(week: IsoWeek) -> Option<IsoWeek> {
    let of = |week, year| IsoWeek::new(year, week).ok();
    of(week.week(), week.year() + 1).or_else(|| of(week.week() - 1, week.year() + 1))
}

/// A target a year on.
fn again(target: &Target) -> Option<TargetFact> {
    Some(TargetFact {
        wanted: Some(target.wanted.clone()),
        space: target.space.clone(),
        from: Some(next_year(target.from?)?),
        to: Some(next_year(target.to?)?),
        stems: Some(target.stems),
        chance: Some(target.chance),
        ..TargetFact::new(TargetId::mint(clock::now_ms(), random::bits()))
    })
}

/// Targets whose weeks are over, and which nobody wants again yet.
fn past(store: Store) -> Vec<(Target, String)> {
    let (now, manner) = (IsoWeek::of(store.today()), store.manner());
    store.with_almanac(|almanac| {
        let live = || almanac.season().targets.values().filter(|t| !t.retired);
        let is_again = |target: &Target| {
            let from = target.from.and_then(next_year);
            live().any(|other| other.wanted == target.wanted && other.from == from)
        };
        live()
            .filter(|target| target.to.is_some_and(|to| to < now) && !is_again(target))
            .map(|target| {
                let said = Say::new("again.one")
                    .with("what", wanted::say(almanac, &target.wanted))
                    .with("n", target.stems)
                    .with_some("from", target.from.map(|week| week.week()))
                    .with_some("to", target.to.map(|week| week.week()));
                (target.clone(), said.write(manner))
            })
            .collect()
    })
}

/// What is wanted again.
#[component]
pub(super) fn WantedAgain() -> impl IntoView {
    let store = Store::here();
    let saver = Saver::new();
    let found = Memo::new(move |_| past(store));
    view! {
        <Section head="again.head">
            <p class="section__lead">{text("again.lead")}</p>
            {move || {
                let found = found.get();
                if found.is_empty() {
                    return view! { <p class="soft">{text("again.none")}</p> }.into_any();
                }
                view! { <Lines found saver /> }.into_any()
            }}
            <SaveProblem saver />
            <div class="actions">
                <a class="btn" href=Route::Season(SeasonPart::Targets).href()>
                    {text("targets.title")}
                </a>
                <a class="btn" href=Route::Season(SeasonPart::Plan).href()>
                    {text("plan.title")}
                </a>
            </div>
        </Section>
    }
}

#[component]
fn Lines(found: Vec<(Target, String)>, saver: Saver) -> impl IntoView {
    let store = Store::here();
    let facts: Vec<Fact> = found
        .iter()
        .filter_map(|(target, _)| Some(again(target)?.into()))
        .collect();
    let all = (facts.len() > 1).then(|| {
        let said = Say::new("again.all").with("n", facts.len());
        view! {
            <button
                class="btn btn--primary"
                type="button"
                on:click=move |_| saver.save(facts.clone(), |_| {})
            >
                {said.write(store.manner_now())}
            </button>
        }
    });
    let lines = found
        .into_iter()
        .map(|(target, said)| {
            let label = said.clone();
            let want = move |_| {
                let facts = again(&target).map(Fact::from).into_iter().collect();
                saver.save(facts, |_| {});
            };
            view! {
                <li class="learned">
                    <p>{said}</p>
                    <button class="btn" type="button" on:click=want>
                        {text("again.do")}
                        <span class="visually-hidden">": " {label}</span>
                    </button>
                </li>
            }
        })
        .collect_view();
    view! {
        <ul>{lines}</ul>
        <div class="actions">{all}</div>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_week_keeps_its_number_and_a_week_53_its_place_at_the_end() {
        let week = |text: &str| text.parse::<IsoWeek>().unwrap();
        assert_eq!(next_year(week("2027-W24")), Some(week("2028-W24")));
        assert_eq!(next_year(week("2026-W53")), Some(week("2027-W52")));
    }
}
