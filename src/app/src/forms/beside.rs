//! What helps to fill in a form, beside its fields: a share by eye, the cells of a whole tray, the way to the map of cells.

use leptos::prelude::*;
use season::Fact;
use season::cells::about;
use season::ids::SowingId;
use season::mishap::tray_holds;
use season::words::text;

use super::filled::TICKED;
use crate::parts::Typed;
use crate::route::Route;
use crate::store::Store;

/// Shares that an eye tells apart.
const SHARES: [(&str, f64); 4] = [
    ("eye.quarter", 0.25),
    ("eye.half", 0.5),
    ("eye.three_quarters", 0.75),
    ("eye.nearly_all", 0.95),
];

/// What goes with the form of a fact. `of` finds a field by its name.
pub(super) fn aids(fact: &Fact, is_new: bool, of: impl Fn(&str) -> Option<Typed>) -> AnyView {
    match fact {
        Fact::Counted(f) => match (of("up"), of("about"), of("of")) {
            (Some(up), Some(by_eye), Some(of)) => {
                let map = (is_new && f.map.is_none()).then(|| f.sowing.clone());
                view! { <Eye sowing=f.sowing.clone() map up by_eye of /> }.into_any()
            }
            _ => ().into_any(),
        },
        Fact::Lost(f) => {
            if let (Some(sowing), Some(tray), Some(number)) = (&f.sowing, of("tray"), of("number"))
            {
                fill_tray(sowing.clone(), f.date, tray, number);
            }
            ().into_any()
        }
        _ => ().into_any(),
    }
}

/// "About three quarters": fills in the number and says that it is by eye.
#[component]
fn Eye(
    sowing: SowingId,
    map: Option<SowingId>,
    up: Typed,
    by_eye: Typed,
    of: Typed,
) -> impl IntoView {
    let store = Store::here();
    let season = store.season_now();
    let found = season.sowings.get(&sowing);
    let cells = found.map_or(0, |s| s.standing(store.today_now()).cells);
    let has_grid = found.is_some_and(|s| s.tray.is_some() && s.potted_on.is_none());
    let buttons = SHARES
        .into_iter()
        .map(|(key, share)| {
            let fill = move |_| {
                up.put(about(share, cells).to_string());
                by_eye.put(TICKED);
                of.put("");
            };
            view! {
                <button class="btn" type="button" on:click=fill>
                    {text(key)}
                </button>
            }
        })
        .collect_view();
    view! {
        {map
            .filter(|_| has_grid)
            .map(|id| {
                view! {
                    <p>
                        <a class="btn" href=Route::Count(id).href()>
                            {text("count.by_cells")}
                        </a>
                    </p>
                }
            })}
        <div class="actions eye" role="group" aria-label=text("eye.label")>
            {buttons}
        </div>
    }
}

/// Choosing a tray fills in its cells.
fn fill_tray(sowing: SowingId, date: chrono::NaiveDate, tray: Typed, number: Typed) {
    let store = Store::here();
    Effect::new(move |before: Option<String>| {
        let chosen = tray.text();
        // What stands there at the start is as it was recorded.
        if before.is_some_and(|before| before != chosen) {
            let season = store.season_now();
            let holds = season
                .sowings
                .get(&sowing)
                .zip(chosen.parse().ok())
                .and_then(|(sowing, tray)| tray_holds(sowing, tray, date));
            number.put(holds.map_or_else(String::new, |holds| holds.cells.to_string()));
        }
        chosen
    });
}
