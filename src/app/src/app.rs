//! The root: what lives as long as the page, and the switch between screens.

use culture::Reference;
use leptos::prelude::*;
use season::words::{Say, text};

use crate::browser::{boot, crash, page, tap_guard};
use crate::parts::slip::SavedSlip;
use crate::parts::{Frame, Notice, NoticeKind};
use crate::route::{Area, NoSuchPlace, Route};
use crate::screens;
use crate::store::{Opening, Store};

/// Starts the app in the page.
pub fn run() {
    crash::set_hook();
    let Ok(reference) = Reference::builtin() else {
        // The reference is part of the program and tested with it.
        return leptos::logging::error!("the crop reference is damaged");
    };
    let reference: &'static Reference = Box::leak(Box::new(reference));
    mount_to_body(move || view! { <Root reference /> });
}

/// Where one is, and how one came there.
#[derive(Clone, Copy)]
pub struct Here {
    route: RwSignal<Route>,
    /// An address that was no place.
    astray: RwSignal<bool>,
}

impl Here {
    /// The present place. Follows changes.
    pub fn route(self) -> Route {
        self.route.get()
    }

    /// Whether the address was no place, so that this is Today. Follows changes.
    pub fn is_astray(self) -> bool {
        self.astray.get()
    }

    /// Where one is in this page.
    pub fn now() -> Self {
        // The root provides it before any screen is made.
        expect_context::<Self>()
    }
}

#[component]
fn Root(reference: &'static Reference) -> impl IntoView {
    let store = Store::new(reference);
    provide_context(store);
    provide_context(screens::Planning::at_root());
    let here = Here {
        route: RwSignal::new(Route::Today),
        astray: RwSignal::new(false),
    };
    provide_context(here);
    read_address(here);
    window_event_listener(leptos::ev::hashchange, move |_| {
        if read_address(here) {
            store.leave_slip();
            request_animation_frame(page::to_top);
        }
    });
    tap_guard::watch();
    boot::listen(move |told| store.tell(told));
    store.start();
    view! {
        {move || match store.opening() {
            Opening::Opening => view! { <Wait /> }.into_any(),
            Opening::Failed(why) => view! { <NotOpened why /> }.into_any(),
            Opening::Open => view! { <Screen here /> }.into_any(),
        }}
        <SavedSlip />
    }
}

/// Goes where the address says. Whether that is another place than before.
fn read_address(here: Here) -> bool {
    let hash = page::hash();
    // An anchor within the page is no place.
    if !hash.is_empty() && !hash.starts_with("#/") {
        return false;
    }
    let read: Result<Route, NoSuchPlace> = hash.parse();
    here.astray.set(read.is_err());
    let route = read.unwrap_or_default();
    let changed = here.route.with_untracked(|before| *before != route);
    if changed {
        here.route.set(route);
    }
    changed
}

#[component]
fn Screen(here: Here) -> impl IntoView {
    view! {
        {move || match here.route() {
            Route::Today => view! { <screens::TodayScreen /> }.into_any(),
            Route::Bench => view! { <screens::BenchScreen /> }.into_any(),
            Route::Sow => view! { <screens::SowScreen /> }.into_any(),
            Route::Labels(id) => view! { <screens::LabelsScreen id /> }.into_any(),
            Route::Find => view! { <screens::FindScreen /> }.into_any(),
            Route::Tray(id) => view! { <screens::TrayScreen id /> }.into_any(),
            Route::Count(id) => view! { <screens::CountScreen id /> }.into_any(),
            Route::Beds => view! { <screens::BedsScreen /> }.into_any(),
            Route::Planting(id) => view! { <screens::PlantingScreen id /> }.into_any(),
            Route::Cooler => view! { <screens::CoolerScreen /> }.into_any(),
            Route::Order(which) => view! { <screens::OrderScreen which /> }.into_any(),
            Route::Pick(id, due) => view! { <screens::PickScreen id due /> }.into_any(),
            Route::Available => view! { <screens::AvailableScreen /> }.into_any(),
            Route::PasteOrders => view! { <screens::PasteOrdersScreen /> }.into_any(),
            Route::Season(part) => view! { <screens::SeasonScreen part /> }.into_any(),
            Route::Shed(part) => view! { <screens::ShedScreen part /> }.into_any(),
        }}
    }
}

#[component]
fn Wait() -> impl IntoView {
    view! {
        <main class="opening">
            <p class="opening__name">{text("app.name")}</p>
            <p class="opening__line" role="status">
                {text("app.opening")}
            </p>
        </main>
    }
}

#[component]
fn NotOpened(why: Say) -> impl IntoView {
    let store = Store::here();
    view! {
        <Frame title="app.not_opened" area=Area::Shed>
            <Notice kind=NoticeKind::Problem head="app.not_opened.head" text=why>
                <button
                    class="btn btn--primary"
                    type="button"
                    on:click=move |_| store.try_again()
                >
                    {text("app.try_again")}
                </button>
                <button class="btn" type="button" on:click=move |_| store.work_without_storage()>
                    {text("app.without_storage")}
                </button>
            </Notice>
        </Frame>
    }
}
