//! A tray counted cell by cell: what is in hand, the cells, the sum, and keeping it.

mod brush;
mod desk;
mod grid;
mod keep;
mod photo;
mod zoom;

use leptos::prelude::*;
use season::cells::{CellMap, Mark};
use season::ids::SowingId;
use season::words::{Say, text};

pub(super) use self::brush::state;
use self::brush::{Brushes, Legend};
pub use self::desk::Desk;
use self::grid::Cells;
use self::keep::Keep;
use self::photo::Photo;
use self::zoom::Zoom;
use super::title_of;
use crate::parts::{Back, Frame, Icon, Notice, NoticeKind};
use crate::route::{Area, Route};
use crate::store::Store;

/// A count under way, on the page.
#[derive(Clone, Copy)]
pub struct Bench {
    /// The cells.
    pub desk: RwSignal<Desk>,
    /// The mark in hand.
    pub brush: RwSignal<Mark>,
    /// Which tray is shown, from 0.
    pub tray: RwSignal<u32>,
    /// Cells that a photograph left unsure: to be looked at again.
    pub unsure: RwSignal<Vec<usize>>,
    /// How large the cells are, and how they lie.
    zoom: Zoom,
}

/// Counting one sowing cell by cell.
#[component]
pub fn CountScreen(
    /// Which.
    id: SowingId,
) -> impl IntoView {
    let store = Store::here();
    let title = title_of(store, &id);
    let back = Back {
        to: Route::Tray(id.clone()),
        words: "count.back".into(),
    };
    let begun = begin(store, &id);
    view! {
        <Frame title=title area=Area::Bench back>
            {match begun {
                Some((desk, already)) => view! { <Whole id desk already /> }.into_any(),
                None => {
                    view! {
                        <Notice kind=NoticeKind::Caution head="count.no_grid" text="count.no_grid.text">
                            <a class="btn btn--primary" href=Route::Tray(id).href()>
                                {text("count.back")}
                            </a>
                        </Notice>
                    }
                        .into_any()
                }
            }}
        </Frame>
    }
}

/// The cells to begin with, and whether they were marked before; `None` for a sowing without a grid, or one in other cells since.
fn begin(store: Store, id: &SowingId) -> Option<(Desk, bool)> {
    let today = store.today_now();
    let season = store.season_now();
    let sowing = season.sowings.get(id)?;
    if sowing.potted_on.is_some() {
        return None;
    }
    let tray = sowing.tray_on(today)?;
    let before = sowing.map_on(today);
    let already = before.is_some();
    Some((Desk::new(CellMap::new(tray, sowing.cells), before), already))
}

#[component]
fn Whole(id: SowingId, desk: Desk, already: bool) -> impl IntoView {
    let columns = desk.map().columns();
    let bench = Bench {
        desk: RwSignal::new(desk),
        brush: RwSignal::new(Mark::Up),
        tray: RwSignal::new(0),
        unsure: RwSignal::new(Vec::new()),
        zoom: Zoom::for_columns(columns),
    };
    let hint = if already {
        "count.hint_again"
    } else {
        "count.hint"
    };
    view! {
        <p class="soft">{text(hint)}</p>
        <Trays bench />
        <Photo bench />
        <Brushes bench />
        <Tools bench />
        // Nothing above the cells changes its size while they are marked: they must not move from under the finger.
        <Cells bench />
        <Sum bench />
        <Legend />
        <Keep id bench />
    }
}

/// Which of several trays is before one.
#[component]
fn Trays(bench: Bench) -> impl IntoView {
    let store = Store::here();
    let trays = bench.desk.with_untracked(|desk| desk.map().trays());
    (trays > 1).then(|| {
        let buttons = (0..trays)
            .map(|tray| {
                let label = move || {
                    let done = bench.desk.with(|desk| desk.is_looked_at(tray));
                    Say::new(if done {
                        "count.tray_done"
                    } else {
                        "count.tray"
                    })
                    .with("n", tray + 1)
                    .write(store.manner())
                };
                view! {
                    <button
                        class="brush"
                        type="button"
                        aria-label=label
                        aria-pressed=move || (bench.tray.get() == tray).to_string()
                        data-done=move || {
                            bench.desk.with(|desk| desk.is_looked_at(tray)).then_some("true")
                        }
                        on:click=move |_| bench.tray.set(tray)
                    >
                        {Say::new("count.tray").with("n", tray + 1).write(store.manner_now())}
                    </button>
                }
            })
            .collect_view();
        view! {
            <div class="brushes" role="group" aria-label=text("count.which_tray")>
                {buttons}
            </div>
        }
    })
}

/// The tray's sum, as large as a thumb.
#[component]
fn Sum(bench: Bench) -> impl IntoView {
    let store = Store::here();
    let tally = move || bench.desk.with(|desk| desk.tally_of(bench.tray.get()));
    let rest = move || {
        let tally = tally();
        Say::new("count.sum")
            .with("of", tally.looked_at + tally.unseen)
            .with("empty", tally.empty)
            .with_some("doubles", Some(tally.doubles).filter(|n| *n > 0))
            .with_some("lost", Some(tally.lost).filter(|n| *n > 0))
            .write(store.manner())
    };
    let as_it_was = move |_| {
        let tray = bench.tray.get_untracked();
        bench.desk.update(|desk| {
            desk.begin_step();
            desk.look_at(tray);
        });
    };
    let untouched = move || !bench.desk.with(|desk| desk.is_looked_at(bench.tray.get()));
    view! {
        <p class="cells__sum" role="status">
            <span class="num">{move || tally().up}</span>
            <span>{rest}</span>
        </p>
        {move || {
            untouched()
                .then(|| {
                    view! {
                        <button class="btn" type="button" on:click=as_it_was>
                            {text("count.as_it_was")}
                        </button>
                    }
                })
        }}
    }
}

/// Whole tray, undo, nearer, farther, turned.
#[component]
fn Tools(bench: Bench) -> impl IntoView {
    let store = Store::here();
    let whole = move || {
        Say::new("count.whole")
            .with("mark", season::words::Arg::Key(bench.brush.get().key()))
            .write(store.manner())
    };
    let mark_all = move |_| {
        let (tray, brush) = (bench.tray.get_untracked(), bench.brush.get_untracked());
        bench.desk.update(|desk| {
            let cells = desk.map().of_tray(tray);
            desk.mark_all(cells, brush);
        });
    };
    view! {
        <div class="actions">
            <button class="btn" type="button" on:click=mark_all>
                {whole}
            </button>
            <button
                class="btn"
                type="button"
                disabled=move || !bench.desk.with(Desk::can_undo)
                on:click=move |_| bench.desk.update(Desk::undo)
            >
                <Icon name="undo" small=true />
                {text("count.undo")}
            </button>
            <span class="actions__pair">
                <button
                    class="btn"
                    type="button"
                    aria-label=text("count.farther")
                    on:click=move |_| bench.zoom.step(false)
                >
                    "\u{2212}"
                </button>
                <button
                    class="btn"
                    type="button"
                    aria-label=text("count.nearer")
                    on:click=move |_| bench.zoom.step(true)
                >
                    "+"
                </button>
                <button class="btn" type="button" on:click=move |_| bench.zoom.turn()>
                    {text("count.turn")}
                </button>
            </span>
        </div>
    }
}
