//! The cooler: cuts, stock, orders.

use leptos::prelude::*;
use season::ids::OrderId;
use season::words::text;

use crate::parts::{Back, Drawing, Empty, Frame};
use crate::route::{Area, Which};

/// Stock and orders.
#[component]
pub fn CoolerScreen() -> impl IntoView {
    view! {
        <Frame title="place.cooler" area=Area::Cooler>
            <Empty drawing=Drawing::Cooler head="cooler.empty" text="cooler.empty.text">
                <a class="btn btn--primary btn--great" href=Area::Beds.route().href()>
                    {text("cooler.empty.go")}
                </a>
            </Empty>
        </Frame>
    }
}

/// One order, or a new one.
#[component]
pub fn OrderScreen(
    /// Which.
    which: Which<OrderId>,
) -> impl IntoView {
    let title = which.to_string();
    view! {
        <Frame title=title area=Area::Cooler back=Back::to_area(Area::Cooler)>
            <p>{text("cooler.empty.text")}</p>
        </Frame>
    }
}
