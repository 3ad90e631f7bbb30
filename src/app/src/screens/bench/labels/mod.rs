//! Tray labels: which sowings, how many to a tray, on which sheet; then the sheets as they will be printed.

mod choose;
mod draw;
mod layout;
mod sheets;

use std::collections::BTreeSet;

use leptos::prelude::*;
use season::ids::SowingId;
use season::words::{Units, text};

use self::choose::Choose;
use self::layout::Layout;
use self::sheets::Sheets;
use crate::finding::find;
use crate::label::stock::{STOCKS, Stock};
use crate::parts::{Back, Drawing, Empty, Frame, Typed};
use crate::route::{Area, Route};
use crate::store::Store;

/// What is to be printed; lives as long as the screen.
#[derive(Clone, Copy)]
struct Wish {
    /// Which sowings.
    chosen: RwSignal<BTreeSet<SowingId>>,
    /// Labels to a tray: `1` or `2`.
    each: Typed,
    /// The name of the sheet.
    stock: Typed,
    /// The first free place on it, from 1.
    first: Typed,
    /// With the seed lot.
    lot: RwSignal<bool>,
    /// With the day to plant out by.
    plant_by: RwSignal<bool>,
}

impl Wish {
    /// The sowing asked for, else what was sown today; on plain paper, which everybody has.
    fn new(asked: Option<SowingId>) -> Self {
        let store = Store::here();
        let today = store.today_now();
        let chosen = match asked {
            Some(id) => BTreeSet::from([id]),
            None => store
                .season_now()
                .sowings
                .values()
                .filter(|sowing| sowing.date == today && sowing.in_trays())
                .map(|sowing| sowing.id.clone())
                .collect(),
        };
        let plain = match store.manner_now().units {
            Units::Metric => "plain_a4",
            Units::Us => "plain_letter",
        };
        Self {
            chosen: RwSignal::new(chosen),
            each: Typed::new("1"),
            stock: Typed::new(plain),
            first: Typed::new("1"),
            lot: RwSignal::new(false),
            plant_by: RwSignal::new(false),
        }
    }

    /// The sheet. Follows changes.
    fn stock(self) -> &'static Stock {
        Stock::named(&self.stock.text()).unwrap_or(&STOCKS[0])
    }
}

/// Labels to print.
#[component]
pub fn LabelsScreen(
    /// The sowing that they are for, where the grower comes from one.
    id: Option<SowingId>,
) -> impl IntoView {
    let store = Store::here();
    let wish = Wish::new(id.clone());
    // Those in trays, newest first; and the one asked for, though it may have ended.
    let listed = Memo::new(move |_| {
        let standing = store.with_almanac(|almanac| find(almanac, ""));
        let mut ids: Vec<SowingId> = standing.into_iter().map(|found| found.id).collect();
        let season = store.season();
        let apart = id
            .iter()
            .filter(|id| !ids.contains(id) && season.sowings.contains_key(id));
        let apart: Vec<SowingId> = apart.cloned().collect();
        ids.splice(0..0, apart);
        ids
    });
    let none = Memo::new(move |_| listed.with(Vec::is_empty));
    view! {
        <Frame
            title="labels.title"
            area=Area::Bench
            back=Back::to_area(Area::Bench)
            prints_bare=true
        >
            {move || {
                if none.get() {
                    view! {
                        <Empty drawing=Drawing::Bench head="labels.empty" text="labels.empty.text">
                            <a class="btn btn--primary btn--great" href=Route::Sow.href()>
                                {text("bench.empty.go")}
                            </a>
                        </Empty>
                    }
                        .into_any()
                } else {
                    view! {
                        <div class="no-print">
                            <p class="lead">{text("labels.lead")}</p>
                            <div class="spread">
                                <div class="leaf">
                                    <Choose wish listed />
                                </div>
                                <div class="leaf">
                                    <Layout wish />
                                </div>
                            </div>
                        </div>
                        <Sheets wish listed />
                    }
                        .into_any()
                }
            }}
        </Frame>
    }
}
