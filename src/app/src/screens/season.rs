//! The season: targets, plan, forecast, seed, review.

use leptos::prelude::*;
use season::ids::TargetId;
use season::words::text;

use crate::parts::{Drawing, Empty, Frame};
use crate::route::{Area, Route, SeasonPart, Which};

/// A part of the season.
#[component]
pub fn SeasonScreen(
    /// Which.
    part: SeasonPart,
) -> impl IntoView {
    let target: Which<TargetId> = Which::New;
    let to = match part {
        SeasonPart::Target(_) => Route::Season(SeasonPart::Year),
        _ => Route::Season(SeasonPart::Target(target)),
    };
    view! {
        <Frame title="place.season" area=Area::Season>
            <Empty drawing=Drawing::Season head="season.empty" text="season.empty.text">
                <a class="btn btn--primary btn--great" href=to.href()>
                    {text("season.empty.go")}
                </a>
            </Empty>
        </Frame>
    }
}
