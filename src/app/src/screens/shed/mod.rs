//! The shed: set-up and data.

mod bed;
mod clean;
mod crop_search;
mod day;
mod device;
mod door;
mod export;
mod figures;
mod history;
mod import;
mod logger;
mod lots;
mod normals;
mod place;
mod problems;
mod retire;
mod safety;
mod selling;
mod space;
mod spaces;
mod varieties;
mod variety;

use leptos::prelude::*;
use season::words::text;

use crate::parts::{Back, Frame, Words};
use crate::route::{Area, Route, ShedPart, Which};

/// A part of the shed.
#[component]
pub fn ShedScreen(
    /// Which.
    part: ShedPart,
) -> impl IntoView {
    match part {
        ShedPart::Door => view! { <door::DoorScreen /> }.into_any(),
        ShedPart::Place => view! { <place::PlaceScreen /> }.into_any(),
        ShedPart::Spaces => view! { <spaces::SpacesScreen /> }.into_any(),
        ShedPart::Space(Which::New) => view! { <space::NewSpaceScreen /> }.into_any(),
        ShedPart::Space(Which::This(id)) => view! { <space::SpaceScreen id /> }.into_any(),
        ShedPart::NewBed(space) => view! { <bed::NewBedScreen space /> }.into_any(),
        ShedPart::Bed(id) => view! { <bed::BedScreen id /> }.into_any(),
        ShedPart::Selling => view! { <selling::SellingScreen /> }.into_any(),
        ShedPart::Logger => view! { <logger::LoggerScreen /> }.into_any(),
        ShedPart::Varieties => view! { <varieties::VarietiesScreen /> }.into_any(),
        ShedPart::Variety(Which::New) => view! { <variety::NewVarietyScreen /> }.into_any(),
        ShedPart::Variety(Which::This(id)) => view! { <variety::VarietyScreen id /> }.into_any(),
        ShedPart::Device => view! { <device::DeviceScreen /> }.into_any(),
        ShedPart::Export => view! { <export::ExportScreen /> }.into_any(),
        ShedPart::Import => view! { <import::ImportScreen /> }.into_any(),
        ShedPart::History => view! { <history::HistoryScreen /> }.into_any(),
        ShedPart::Problems => view! { <problems::ProblemsScreen /> }.into_any(),
    }
}

/// Back to a part of the shed.
fn back_to(part: ShedPart) -> Back {
    let words: Words = match part {
        ShedPart::Spaces => "shed.spaces".into(),
        ShedPart::Varieties => "shed.varieties".into(),
        _ => Area::Shed.key().into(),
    };
    Back {
        to: Route::Shed(part),
        words,
    }
}

/// A page about something that is not in this log (any more): a link from another device, or a record that was taken back.
#[component]
fn Missing(
    /// Where to go back to.
    back: ShedPart,
) -> impl IntoView {
    view! {
        <Frame title="shed.missing" area=Area::Shed back=back_to(back)>
            <p>{text("shed.missing.text")}</p>
        </Frame>
    }
}
