//! Sections of a screen and contents pages.

use leptos::prelude::*;

use super::form::next_id;
use super::{Icon, Words};
use crate::route::Route;

/// A run of content under a heading of the second level.
#[component]
pub fn Section(
    /// The heading.
    #[prop(into)]
    head: Words,
    /// A short figure beside the heading.
    #[prop(optional, into)]
    tally: Option<Words>,
    /// What is late.
    #[prop(optional)]
    late: bool,
    /// What stands in it.
    children: Children,
) -> impl IntoView {
    let id = next_id();
    let tally_id = format!("{id}t");
    // Two sections may go by one name and differ in their figure only.
    let label = if tally.is_some() {
        format!("{id} {tally_id}")
    } else {
        id.clone()
    };
    let class = if late {
        "section section--late"
    } else {
        "section"
    };
    view! {
        <section class=class aria-labelledby=label>
            <div class="section__head">
                <h2 id=id>{move || head.get()}</h2>
                {tally
                    .map(|tally| {
                        view! {
                            <p class="section__tally" id=tally_id>
                                {move || tally.get()}
                            </p>
                        }
                    })}
            </div>
            {children()}
        </section>
    }
}

/// A contents page: [`ContentsLine`]s.
#[component]
pub fn Contents(
    /// Its lines.
    children: Children,
) -> impl IntoView {
    view! { <ul class="contents">{children()}</ul> }
}

/// One line of a contents page: a way to a part.
#[component]
pub fn ContentsLine(
    /// Where it leads.
    to: Route,
    /// Icon before it; none where lines are of one kind.
    #[prop(optional)]
    icon: Option<&'static str>,
    /// Its name.
    #[prop(into)]
    name: Words,
    /// What there is to know before going there.
    #[prop(optional, into)]
    note: Option<Words>,
) -> impl IntoView {
    view! {
        <li>
            <a class="contents__link" href=to.href()>
                {icon.map(|name| view! { <Icon name /> })}
                <span>
                    <span class="contents__name">{move || name.get()}</span>
                    {note
                        .map(|note| {
                            view! { <span class="contents__note">{move || note.get()}</span> }
                        })}
                </span>
                <Icon name="chevron" />
            </a>
        </li>
    }
}
