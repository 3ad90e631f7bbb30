//! The season: the year in one drawing, targets, plan, stems by week, seed, and what came of it.

mod accepted;
mod axis;
mod bands;
mod beds;
mod chances;
mod last_call;
mod legend;
mod lives;
mod locked;
mod moved;
mod mover;
mod next;
mod paste;
mod plan;
mod planning;
mod proposal;
mod review;
mod roles;
mod rooms;
mod seed;
mod sky;
mod supply;
mod target;
mod targets;
mod weeks;
mod year;

pub use planning::Planning;

use leptos::prelude::*;
use season::words::{Say, text};

use crate::parts::{Contents, ContentsLine, Frame, Icon, Section};
use crate::route::{Area, Route, SeasonPart};
use crate::store::Store;

/// A part of the season.
#[component]
pub fn SeasonScreen(
    /// Which.
    part: SeasonPart,
) -> impl IntoView {
    match part {
        SeasonPart::Year => view! { <Door /> }.into_any(),
        SeasonPart::Targets => view! { <targets::TargetsScreen /> }.into_any(),
        SeasonPart::Target(which) => view! { <target::TargetScreen which /> }.into_any(),
        SeasonPart::Plan => view! { <plan::PlanScreen /> }.into_any(),
        SeasonPart::Supply => view! { <supply::SupplyScreen /> }.into_any(),
        SeasonPart::Beds => view! { <beds::BedYearScreen /> }.into_any(),
        SeasonPart::PasteTargets => view! { <paste::PasteTargetsScreen /> }.into_any(),
        SeasonPart::Seed => view! { <seed::SeedScreen /> }.into_any(),
        SeasonPart::Review => view! { <review::ReviewScreen /> }.into_any(),
        SeasonPart::Next => view! { <next::NextScreen /> }.into_any(),
    }
}

/// The year, how the targets stand, and the way to the other parts.
#[component]
fn Door() -> impl IntoView {
    let store = Store::here();
    let nothing = Memo::new(move |_| {
        let season = store.season();
        let live_targets = season.targets.values().any(|target| !target.retired);
        let live_plan = season.planned.values().any(|planned| !planned.retired);
        !live_targets && !live_plan && season.sowings.is_empty() && season.plantings.is_empty()
    });
    view! {
        <Frame title="place.season" area=Area::Season>
            {move || {
                if nothing.get() {
                    view! { <supply::NoTargets /> }.into_any()
                } else {
                    view! {
                        <Ways />
                        <year::Year />
                        <AgainstTargets />
                    }
                        .into_any()
                }
            }}
        </Frame>
    }
}

#[component]
fn AgainstTargets() -> impl IntoView {
    let store = Store::here();
    let all = Memo::new(move |_| supply::covered(store));
    let lines = move || {
        all.get()
            .into_iter()
            .map(|one| {
                let note = Say::new("supply.note")
                    .with("wanted", one.wanted)
                    .with("verdict", one.verdict);
                let to = Route::Season(SeasonPart::Supply);
                if one.short {
                    view! { <ContentsLine to icon="caution" name=one.name note=note /> }.into_any()
                } else {
                    view! { <ContentsLine to icon="tick" name=one.name note=note /> }.into_any()
                }
            })
            .collect_view()
    };
    let none = move || {
        all.with(Vec::is_empty)
            .then(|| view! { <p class="soft">{text("season.no_targets")}</p> })
    };
    view! {
        <Section head="season.against">
            {none}
            <Contents>{lines}</Contents>
        </Section>
    }
}

/// The ways to the other parts, at hand above the long drawing.
#[component]
fn Ways() -> impl IntoView {
    const WAYS: [(SeasonPart, &str, &str); 6] = [
        (SeasonPart::Plan, "sow", "plan.title"),
        (SeasonPart::Targets, "order", "targets.title"),
        (SeasonPart::Supply, "season", "supply.title"),
        (SeasonPart::Beds, "bed", "bed_plan.title"),
        (SeasonPart::Seed, "seed", "seed.title"),
        (SeasonPart::Review, "tick", "review.title"),
    ];
    let ways = WAYS.map(|(part, icon, key)| {
        view! {
            <a class="btn" href=Route::Season(part).href()>
                <Icon name=icon small=true />
                {text(key)}
            </a>
        }
    });
    view! {
        <nav class="actions no-print" aria-label=text("season.ways")>
            {ways.into_iter().collect_view()}
        </nav>
    }
}
