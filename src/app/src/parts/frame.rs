//! The frame that every screen stands in: title, day, state of saving, the places.

use leptos::prelude::*;
use season::words::{Arg, Say, text};

use super::banners::Banners;
use super::{Icon, Words};
use crate::browser::page;
use crate::route::{Area, Route};
use crate::store::{DayFrom, Keep, Store};

/// The way back from a detail.
#[derive(Clone)]
pub struct Back {
    /// Where it leads.
    pub to: Route,
    /// What that place is called.
    pub words: Words,
}

impl Back {
    /// Back to the first page of a place.
    pub fn to_area(area: Area) -> Self {
        Self {
            to: area.route(),
            words: area.key().into(),
        }
    }
}

/// A screen's frame.
#[component]
pub fn Frame(
    /// The screen's title, its one heading of the first level.
    #[prop(into)]
    title: Words,
    /// Which place it belongs to.
    area: Area,
    /// The way back, for details.
    #[prop(optional, into)]
    back: Option<Back>,
    /// Whether only what stands in it is printed, from the paper's edge on: no title, no margins.
    #[prop(optional)]
    prints_bare: bool,
    /// What stands in it.
    children: Children,
) -> impl IntoView {
    let class = if prints_bare {
        "frame frame--bare"
    } else {
        "frame"
    };
    let for_title = title.clone();
    Effect::new(move |_| {
        page::set_title(
            &Say::new("page.title")
                .with("screen", for_title.get())
                .write(Default::default()),
        );
    });
    let shed = (area != Area::Shed || back.is_some()).then(|| {
        view! {
            <a class="top__shed" href=Area::Shed.route().href()>
                <Icon name="shed" />
                {text(Area::Shed.key())}
            </a>
        }
    });
    view! {
        // A link inside the page: it must not be taken for a place.
        <a
            class="skip"
            href="#main"
            on:click=|event| {
                event.prevent_default();
                page::focus("#main");
            }
        >
            {text("frame.skip")}
        </a>
        <div class=class>
            <header class="top">
                {back
                    .map(|back| {
                        view! {
                            <a class="top__back" href=back.to.href()>
                                <Icon name="chevron" />
                                {move || back.words.get()}
                            </a>
                        }
                    })}
                <h1 class="top__title" tabindex="-1">
                    {move || title.get()}
                </h1> {shed} <Folio /> <hr class="tide-rule" aria-hidden="true" />
            </header>
            <main class="main" id="main" tabindex="-1">
                <Banners area />
                {children()}
            </main>
            <Places area />
        </div>
    }
}

/// The day, and whether the last fact is in storage.
#[component]
fn Folio() -> impl IntoView {
    let store = Store::here();
    let day = move || {
        let day = store.day();
        let manner = store.manner();
        let key = match day.from {
            DayFrom::Calendar => "folio.day",
            DayFrom::Address => "folio.day_from_address",
            DayFrom::Demo => "folio.day_of_demo",
        };
        Say::new(key)
            .with("date", manner.full_date(day.date))
            .with(
                "week",
                Arg::Text(agronomy::iso_week::IsoWeek::of(day.date).to_string()),
            )
            .write(manner)
    };
    let icon = move || match store.keep() {
        Keep::Saved => Some("saved"),
        Keep::Saving => None,
        Keep::Unsaved(_) | Keep::PageOnly => Some("caution"),
    };
    view! {
        <p class="top__folio">
            <span>{day}</span>
            <span class="keep" data-state=move || store.keep().word() role="status">
                {move || icon().map(|name| view! { <Icon name small=true /> })}
                {move || store.keep().say().write(store.manner())}
            </span>
        </p>
    }
}

/// The navigation.
#[component]
fn Places(area: Area) -> impl IntoView {
    let links = Area::PLACES
        .into_iter()
        .map(|place| {
            view! {
                <li>
                    <a
                        class="places__link"
                        href=place.route().href()
                        aria-current=(place == area).then_some("page")
                    >
                        <Icon name=place.icon() />
                        {text(place.key())}
                        {(place == Area::Today).then(|| view! { <Late /> })}
                    </a>
                </li>
            }
        })
        .collect_view();
    view! {
        <nav class="places" aria-label=text("frame.places")>
            <a class="places__name" href=Route::Today.href()>
                <svg class="places__mark" aria-hidden="true">
                    <use_ href="#i-mark"></use_>
                </svg>
                {text("app.name")}
            </a>
            <ul class="places__list">{links}</ul>
            <a
                class="places__link places__shed"
                href=Area::Shed.route().href()
                aria-current=(area == Area::Shed).then_some("page")
            >
                <Icon name="shed" />
                {text(Area::Shed.key())}
            </a>
        </nav>
    }
}

/// How many tasks are late.
#[component]
fn Late() -> impl IntoView {
    let store = Store::here();
    move || {
        let late = store.outlook().late();
        (late > 0).then(|| {
            view! {
                <span class="places__due">
                    {late} <span class="visually-hidden">" " {text("frame.late")}</span>
                </span>
            }
        })
    }
}
