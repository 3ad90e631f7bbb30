//! The sheets as they will be printed.

use std::sync::Arc;

use leptos::prelude::*;
use season::ids::SowingId;
use season::words::{Arg, Say, text};

use super::Wish;
use super::draw::{Label, draw_sheet};
use crate::browser::page;
use crate::label::address;
use crate::label::code::{Code, POINT_LEAST_MM};
use crate::label::composition::code_square;
use crate::label::stock::{Paper, Stock};
use crate::label::told::{Also, labels_of};
use crate::parts::read;
use crate::parts::{Notice, NoticeKind, Section};
use crate::store::Store;

/// All sheets, with the way to the printer above them.
#[component]
pub(super) fn Sheets(wish: Wish, listed: Memo<Vec<SowingId>>) -> impl IntoView {
    let store = Store::here();
    move || {
        let stock = wish.stock();
        let first = read::count(&wish.first.text(), 1..=stock.per_sheet() as u32).ok()?;
        let labels = labels(store, wish, &listed.get());
        if labels.is_empty() {
            return Some(
                view! { <p class="soft no-print">{text("labels.none_chosen")}</p> }.into_any(),
            );
        }
        let manner = store.manner();
        let sheets = stock.sheets(labels.len(), first as usize);
        let tally = Say::new("labels.sheets_tally")
            .with("n", labels.len())
            .with("sheets", sheets.len())
            .write(manner);
        let of = sheets.len();
        let drawn = sheets
            .iter()
            .enumerate()
            .map(|(n, places)| {
                let name = Say::new("labels.sheet").with("n", n + 1).with("of", of);
                draw_sheet(stock, places, &labels, name.write(manner))
            })
            .collect_view();
        let class = match stock.paper {
            Paper::A4 => "sheets sheets--a4",
            Paper::Letter => "sheets sheets--letter",
        };
        let fine = finest(stock, &labels);
        let here = page::address();
        let leads_to = Say::new("labels.leads_to").with("address", address::of_app(&here));
        Some(
            view! {
                <div class="no-print">
                    <Section head="labels.sheets" tally=tally>
                        {fine.map(|mm| view! { <Fine mm /> })}
                        <p class="section__lead">{text("labels.print.hint")}</p>
                        <p class="soft">{leads_to.write(manner)}</p>
                        <div class="actions">
                            <button
                                class="btn btn--primary btn--great"
                                type="button"
                                on:click=|_| page::print()
                            >
                                {text("labels.print")}
                            </button>
                        </div>
                    </Section>
                </div>
                <div class=class>{drawn}</div>
            }
            .into_any(),
        )
    }
}

/// Points too fine for many cameras.
#[component]
fn Fine(mm: f64) -> impl IntoView {
    let why = Say::new("labels.fine.text").with("width", Arg::Fine(mm));
    view! { <Notice kind=NoticeKind::Caution head="labels.fine" text=why /> }
}

/// The width of the finest code's points, where that is less than cameras like.
fn finest(stock: &Stock, labels: &[Label]) -> Option<f64> {
    let side = code_square(stock).side_mm;
    let most = labels
        .iter()
        .filter_map(|label| Some(label.code.as_ref()?.side))
        .max()?;
    let mm = side / f64::from(most);
    (mm < POINT_LEAST_MM).then_some(mm)
}

/// All labels to print, in the order of the list.
fn labels(store: Store, wish: Wish, listed: &[SowingId]) -> Vec<Label> {
    let also = Also {
        lot: wish.lot.get(),
        plant_by: wish.plant_by.get(),
    };
    let each = wish.each.text().parse().unwrap_or(1);
    let (manner, outlook) = (store.manner(), store.outlook());
    let here = page::address();
    let chosen = wish.chosen.get();
    store.with_almanac(|almanac| {
        listed
            .iter()
            .filter(|id| chosen.contains(id))
            .filter_map(|id| almanac.season().sowings.get(id))
            .flat_map(|sowing| {
                let forecast = outlook.supply().trays.get(&sowing.id);
                let code = Code::of(&address::of_tray(&here, &sowing.id)).map(|code| {
                    Arc::new(super::draw::Drawn {
                        side: code.side(),
                        path: code.path(),
                    })
                });
                labels_of(almanac, sowing, forecast, also, manner)
                    .into_iter()
                    .flat_map(move |text| {
                        let label = Label {
                            text,
                            code: code.clone(),
                        };
                        std::iter::repeat_n(label, each)
                    })
            })
            .collect()
    })
}
