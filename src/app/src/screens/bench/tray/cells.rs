//! What was seen in each cell, count by count, to step through.

use leptos::prelude::*;
use season::cells::CellMap;
use season::ids::SowingId;
use season::state::{Count, Sowing};
use season::words::{Say, text};

use crate::parts::Section;
use crate::screens::bench::count::state;
use crate::store::Store;

/// So many cells are drawn one by one; more are counted only.
const DRAWN_MOST: usize = 2_000;

/// The tray's counts, the last one first before one, with their cells where they were marked.
#[component]
pub(super) fn PastCells(id: SowingId) -> impl IntoView {
    let store = Store::here();
    let today = store.today_now();
    let season = store.season_now();
    let sowing = season.sowings.get(&id)?;
    let counts: Vec<Count> = sowing
        .counts
        .iter()
        .filter(|count| count.date <= today)
        .cloned()
        .collect();
    let seen: Vec<(Count, Option<CellMap>)> = counts
        .into_iter()
        .map(|count| {
            let map = map_of(sowing, &count);
            (count, map)
        })
        .collect();
    if seen.iter().all(|(_, map)| map.is_none()) {
        return None;
    }
    let last = seen.len() - 1;
    let at = RwSignal::new(last);
    let seen = StoredValue::new(seen);
    let said = move || {
        seen.with_value(|seen| {
            let (count, _) = seen.get(at.get())?;
            let of = count.of;
            Some(
                Say::new("cells.count")
                    .with("n", at.get() + 1)
                    .with("all", last + 1)
                    .with("date", count.date)
                    .with("up", count.up)
                    .with_some("of", of)
                    .with_some("doubles", count.doubles.filter(|n| *n > 0))
                    .write(store.manner()),
            )
        })
    };
    let drawn = move || {
        seen.with_value(|seen| {
            let (_, map) = seen.get(at.get())?;
            Some(match map {
                Some(map) => view! { <Still map=map.clone() /> }.into_any(),
                None => view! { <p class="soft">{text("cells.none")}</p> }.into_any(),
            })
        })
    };
    Some(view! {
        <Section head="cells.head">
            <div class="stepper-line">
                <button
                    class="btn"
                    type="button"
                    disabled=move || at.get() == 0
                    on:click=move |_| at.update(|at| *at = at.saturating_sub(1))
                >
                    {text("cells.earlier")}
                </button>
                <p role="status">{said}</p>
                <button
                    class="btn"
                    type="button"
                    disabled=move || at.get() == last
                    on:click=move |_| at.update(|at| *at = (*at + 1).min(last))
                >
                    {text("cells.later")}
                </button>
            </div>
            {drawn}
        </Section>
    })
}

/// A count's own cells, in the grid that the trays had on its day.
fn map_of(sowing: &Sowing, count: &Count) -> Option<CellMap> {
    count.map_in(sowing.tray_on(count.date)?, sowing.cells)
}

/// Cells as they were seen. What they say is said above them.
#[component]
fn Still(map: CellMap) -> impl IntoView {
    if map.cells() > DRAWN_MOST {
        return view! { <p class="soft">{text("cells.many")}</p> }.into_any();
    }
    let trays = (0..map.trays())
        .map(|tray| {
            let cells = map
                .of_tray(tray)
                .map(|cell| {
                    view! { <span class="cell" data-state=state(map.mark(cell))></span> }
                })
                .collect_view();
            view! {
                <div class="cells cells--still" style:--cols=map.columns().to_string()>
                    {cells}
                </div>
            }
        })
        .collect_view();
    view! { <div aria-hidden="true">{trays}</div> }.into_any()
}
