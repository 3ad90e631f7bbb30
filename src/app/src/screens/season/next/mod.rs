//! Closing a season and beginning the next from it: what is still open, what is wanted again, what the records suggest.

mod begin;
mod learned;
mod open;
mod wanted;

use leptos::prelude::*;
use season::words::text;

use self::begin::Begin;
use self::learned::Learned;
use self::open::Open;
use self::wanted::WantedAgain;
use crate::parts::{Back, Frame};
use crate::route::{Area, Route, SeasonPart};

/// From this season to the next.
#[component]
pub fn NextScreen() -> impl IntoView {
    let back = Back {
        to: Route::Season(SeasonPart::Review),
        words: "review.title".into(),
    };
    view! {
        <Frame title="next.title" area=Area::Season back>
            <p class="section__lead">{text("next.lead")}</p>
            <Open />
            <Learned />
            <Begin />
            <WantedAgain />
        </Frame>
    }
}
