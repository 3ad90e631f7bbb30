//! The shed: set-up and data.

use leptos::prelude::*;
use season::words::text;

use crate::parts::Frame;
use crate::route::{Area, ShedPart};

/// A part of the shed.
#[component]
pub fn ShedScreen(
    /// Which.
    part: ShedPart,
) -> impl IntoView {
    let title = part.to_string();
    view! {
        <Frame title=title area=Area::Shed>
            <p>{text("app.name")}</p>
        </Frame>
    }
}
