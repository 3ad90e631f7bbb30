//! The cooler: cuts of a walk, stock by age, orders and recipes.

mod available;
mod hand;
mod lines;
mod order;
mod orders;
mod paste;
mod pick;
mod recipes;
mod stock;
mod walk;

use leptos::prelude::*;
use season::almanac::Almanac;
use season::ids::VarietyId;
use season::words::text;

use self::orders::OrdersView;
use self::recipes::RecipesView;
use self::stock::StockView;
use self::walk::WalkSheet;
use crate::forms::{RecordSheet, Recorder};
use crate::parts::{Drawing, Empty, Frame, Icon};
use crate::route::{Area, Route, Which};
use crate::store::Store;

pub use available::AvailableScreen;
pub use order::OrderScreen;
pub use paste::PasteOrdersScreen;
pub use pick::PickScreen;

/// Stems in a bunch where the crop says nothing.
const BUNCH_USUAL: f64 = 10.0;

/// Stems in a straight bunch of a variety; at least one.
fn bunch_of(almanac: &Almanac<'_>, variety: &VarietyId) -> u32 {
    let size = almanac
        .crop(variety)
        .and_then(|crop| crop.typical("bunch_size"))
        .unwrap_or(BUNCH_USUAL);
    (size.round() as u32).max(1)
}

/// Stock and orders.
#[component]
pub fn CoolerScreen() -> impl IntoView {
    let store = Store::here();
    let recorder = Recorder::new();
    let walking = RwSignal::new(false);
    let nothing = Memo::new(move |_| {
        let season = store.season();
        season.plantings.is_empty() && season.orders.is_empty() && season.recipes.is_empty()
    });
    view! {
        <Frame title="place.cooler" area=Area::Cooler>
            {move || {
                if nothing.get() {
                    return view! { <Nothing /> }.into_any();
                }
                view! {
                    <div class="actions no-print">
                        <button
                            class="btn btn--primary btn--great"
                            type="button"
                            aria-haspopup="dialog"
                            on:click=move |_| walking.set(true)
                        >
                            <Icon name="cut" />
                            {text("walk.open")}
                        </button>
                        <a class="btn" href=Route::Available.href()>
                            {text("avail.title")}
                        </a>
                    </div>
                    <div class="spread">
                        <div class="leaf">
                            <StockView recorder />
                        </div>
                        <div class="leaf">
                            <OrdersView />
                            <RecipesView />
                        </div>
                    </div>
                }
                    .into_any()
            }}
            {move || walking.get().then(|| view! { <WalkSheet walking /> })}
            <RecordSheet recorder />
        </Frame>
    }
}

#[component]
fn Nothing() -> impl IntoView {
    view! {
        <Empty drawing=Drawing::Cooler head="cooler.empty" text="cooler.empty.text">
            <a class="btn btn--primary btn--great" href=Area::Beds.route().href()>
                {text("cooler.empty.go")}
            </a>
            <a class="btn" href=Route::Order(Which::New).href()>
                {text("orders.new")}
            </a>
        </Empty>
    }
}
