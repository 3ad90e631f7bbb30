//! Beds and what grows in them.

use leptos::prelude::*;
use season::ids::PlantingId;
use season::words::text;

use crate::parts::{Back, Drawing, Empty, Frame};
use crate::route::{Area, Route, ShedPart};

/// All beds.
#[component]
pub fn BedsScreen() -> impl IntoView {
    view! {
        <Frame title="place.beds" area=Area::Beds>
            <Empty drawing=Drawing::Beds head="beds.empty" text="beds.empty.text">
                <a
                    class="btn btn--primary btn--great"
                    href=Route::Shed(ShedPart::Spaces).href()
                >
                    {text("beds.empty.go")}
                </a>
            </Empty>
        </Frame>
    }
}

/// One planting.
#[component]
pub fn PlantingScreen(
    /// Which.
    id: PlantingId,
) -> impl IntoView {
    let title = id.to_string();
    view! {
        <Frame title=title area=Area::Beds back=Back::to_area(Area::Beds)>
            <p>{text("beds.empty.text")}</p>
        </Frame>
    }
}
