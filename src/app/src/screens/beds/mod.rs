//! Beds and what grows in them.

mod bed;
mod fill;
mod outlook;
mod planting;
mod strip;
mod told;

use leptos::prelude::*;
use season::ids::SpaceId;
use season::words::{Say, text};

use crate::forms::{RecordSheet, Recorder};
use crate::parts::words::space_icon;
use crate::parts::{Contents, ContentsLine, Drawing, Empty, Frame, Icon, Section};
use crate::route::{Area, Route, SeasonPart, ShedPart};
use crate::screens::due::DueTasks;
use crate::screens::tonight::TonightView;
use crate::store::Store;

pub use planting::PlantingScreen;
pub use strip::letter;

/// All beds, in walking order.
#[component]
pub fn BedsScreen() -> impl IntoView {
    let store = Store::here();
    let recorder = Recorder::new();
    let spaces = Memo::new(move |_| store.outlook().with(told::spaces));
    view! {
        <Frame title="place.beds" area=Area::Beds>
            {move || {
                let spaces = spaces.get();
                if spaces.iter().all(|space| space.beds.is_empty()) {
                    return view! { <NoBeds /> }.into_any();
                }
                let leaves = spaces
                    .into_iter()
                    .map(|space| {
                        view! {
                            <div class="leaf">
                                <OfSpace space recorder />
                            </div>
                        }
                    })
                    .collect_view();
                view! {
                    <TonightView />
                    <p class="actions">
                        <a class="btn" href=Route::Season(SeasonPart::Beds).href()>
                            <Icon name="season" small=true />
                            {text("bed_plan.title")}
                        </a>
                    </p>
                    <div class="spread">{leaves}</div>
                }
                    .into_any()
            }}
            <RecordSheet recorder />
        </Frame>
    }
}

#[component]
fn NoBeds() -> impl IntoView {
    view! {
        <Empty drawing=Drawing::Beds head="beds.empty" text="beds.empty.text">
            <a class="btn btn--primary btn--great" href=Route::Shed(ShedPart::Spaces).href()>
                {text("beds.empty.go")}
            </a>
        </Empty>
    }
}

/// A tunnel or a field: what is due there, what is to come, its beds.
#[component]
fn OfSpace(space: told::SpaceTold, recorder: Recorder) -> impl IntoView {
    let icon = space_icon(space.what);
    let beds = space
        .beds
        .into_iter()
        .map(|bed| view! { <bed::BedCard bed recorder /> })
        .collect_view();
    view! {
        <Section head=space.name tally=space.tally>
            <DueTasks of=space.id.clone() recorder />
            <ToCome waiting=space.waiting icon />
            {beds}
        </Section>
    }
}

/// Trays that are meant for a space.
#[component]
fn ToCome(waiting: Vec<told::Waiting>, icon: &'static str) -> impl IntoView {
    if waiting.is_empty() {
        return None;
    }
    let head = Say::new("beds.waiting").with("n", waiting.len());
    let head = crate::parts::Words::from(head);
    let lines = waiting
        .into_iter()
        .map(|one| {
            let to = Route::Tray(one.id);
            view! { <ContentsLine to icon="plant" name=one.name note=one.note /> }
        })
        .collect_view();
    Some(view! {
        <details class="why">
            <summary class="why__ask">
                <Icon name=icon small=true />
                {move || head.get()}
            </summary>
            <Contents>{lines}</Contents>
        </details>
    })
}

/// The space of a bed, for those who need it.
fn space_of(store: Store, bed: &season::ids::BedId) -> Option<SpaceId> {
    store.with_almanac_now(|almanac| Some(almanac.space_of_bed(bed)?.id.clone()))
}
