//! The cooler: cuts of a walk, stock by age, orders and recipes.

mod hand;
mod lines;
mod many;
mod order;
mod orders;
mod paste;
mod recipes;
mod stock;
mod walk;

use leptos::prelude::*;
use season::words::text;

use self::orders::OrdersView;
use self::recipes::RecipesView;
use self::stock::StockView;
use self::walk::WalkSheet;
use crate::forms::{RecordSheet, Recorder};
use crate::parts::{Drawing, Empty, Frame, Icon};
use crate::route::{Area, Route, Which};
use crate::store::Store;

pub use order::OrderScreen;
pub use paste::PasteOrdersScreen;

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
