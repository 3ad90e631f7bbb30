//! The crop's notes on the page, each with its sources, and its hazards with the usual caution.

use leptos::prelude::*;
use season::ids::SowingId;

use super::notes::{Note, hazards, notes};
use crate::parts::{Caution, Section, Why};
use crate::store::Store;
use season::words::{Arg, Say, text};

/// What the crop wants.
#[component]
pub(super) fn CultureNotes(id: SowingId) -> impl IntoView {
    let store = Store::here();
    let (name, notes, hazard) = store.with_almanac_now(|almanac| {
        let sowing = almanac.season().sowings.get(&id)?;
        let crop = almanac.crop(&sowing.variety)?;
        let hazard = hazards(crop).map(|text| text.text.clone());
        Some((crop.name().to_owned(), notes(crop), hazard))
    })?;
    let head = Say::new("culture.head").with("crop", name);
    let caution = hazard.map(|hazard| {
        let said = Say::new("culture.hazard").with("text", Arg::Note(hazard));
        view! { <Caution head="caution.head" text=said /> }
    });
    let lines = notes
        .into_iter()
        .map(|note| view! { <Line note /> })
        .collect_view();
    Some(view! {
        <Section head=head>
            {caution}
            <details class="fold">
                <summary class="fold__ask">{text("culture.show")}</summary>
                <dl class="culture">{lines}</dl>
            </details>
        </Section>
    })
}

#[component]
fn Line(note: Note) -> impl IntoView {
    let basis = note.trust.basis;
    view! {
        <div>
            <dt>{text(note.label)}</dt>
            <dd>
                <Why figure=note.say basis reasons=vec![note.trust] inline=true />
            </dd>
        </div>
    }
}
