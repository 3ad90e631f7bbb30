//! Today: what is next.

use leptos::prelude::*;
use season::words::text;

use crate::parts::{Drawing, Empty, Frame};
use crate::route::Area;

/// What is next.
#[component]
pub fn TodayScreen() -> impl IntoView {
    view! {
        <Frame title="place.today" area=Area::Today>
            <Empty drawing=Drawing::Today head="today.empty" text="today.empty.text">
                <a class="btn btn--primary btn--great" href=Area::Shed.route().href()>
                    {text("today.empty.go")}
                </a>
            </Empty>
        </Frame>
    }
}
