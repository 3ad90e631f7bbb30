//! The bench: trays.

use leptos::prelude::*;
use season::ids::SowingId;
use season::words::text;

use crate::parts::{Back, Drawing, Empty, Frame};
use crate::route::{Area, Route};

/// All trays.
#[component]
pub fn BenchScreen() -> impl IntoView {
    view! {
        <Frame title="place.bench" area=Area::Bench>
            <Empty drawing=Drawing::Bench head="bench.empty" text="bench.empty.text">
                <a class="btn btn--primary btn--great" href=Route::Sow.href()>
                    {text("bench.empty.go")}
                </a>
            </Empty>
        </Frame>
    }
}

/// A form for sowing a tray.
#[component]
pub fn SowScreen() -> impl IntoView {
    view! {
        <Frame title="bench.empty.go" area=Area::Bench back=Back::to_area(Area::Bench)>
            <p>{text("bench.empty.text")}</p>
        </Frame>
    }
}

/// One sowing.
#[component]
pub fn TrayScreen(
    /// Which.
    id: SowingId,
) -> impl IntoView {
    let title = id.to_string();
    view! {
        <Frame title=title area=Area::Bench back=Back::to_area(Area::Bench)>
            <p>{text("bench.empty.text")}</p>
        </Frame>
    }
}
