//! What in the log does not add up, each with a way to what it is about.

use leptos::prelude::*;
use season::words::faults::of_problem;
use season::words::text;

use super::back_to;
use super::history::subject;
use crate::parts::{Frame, Section};
use crate::route::{Area, ShedPart};
use crate::store::Store;

#[component]
pub(super) fn ProblemsScreen() -> impl IntoView {
    let store = Store::here();
    let lines = move || {
        let manner = store.manner();
        store.with_almanac(|almanac| {
            store.with_log(|log| {
                let problems = almanac.season().problems.iter();
                problems
                    .map(|problem| {
                        let said = of_problem(log, problem).write(manner);
                        let about =
                            log.get(&problem.entry)
                                .and_then(|entry| subject(almanac, entry.fact()))
                                .map(|(say, to)| match to {
                                    Some(to) => view! { <a href=to.href()>{say.write(manner)}</a> }
                                        .into_any(),
                                    None => view! { <span>{say.write(manner)}</span> }.into_any(),
                                });
                        view! {
                            <li class="entry">
                                <span class="entry__words">
                                    <span>{said}</span>
                                    <span class="contents__note">{about}</span>
                                </span>
                            </li>
                        }
                    })
                    .collect::<Vec<_>>()
            })
        })
    };
    let is_empty = move || store.season().problems.is_empty();
    view! {
        <Frame title="shed.problems" area=Area::Shed back=back_to(ShedPart::Door)>
            <Section head="problems.head">
                <p class="section__lead">{text("problems.lead")}</p>
                {move || is_empty().then(|| text("problems.none"))}
                <ul>{lines}</ul>
            </Section>
        </Frame>
    }
}
