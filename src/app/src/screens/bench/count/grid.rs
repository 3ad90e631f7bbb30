//! The cells of a tray under fingers and keys: a tap turns one, a sweep marks all it passes, two fingers draw nearer.

use leptos::ev::{KeyboardEvent, PointerEvent};
use leptos::prelude::*;
use season::cells::{Mark, Place};
use season::words::{Arg, Say};
use wasm_bindgen::JsCast;
use web_sys::Element;

use super::Bench;
use super::brush::state;
use crate::browser::page;
use crate::store::Store;

/// Fingers on the cells, and what they do.
#[derive(Clone, Default)]
struct Hand {
    /// Fingers by their number, where they are, px.
    fingers: Vec<(i32, f64, f64)>,
    /// The last cell of a sweep, and the mark it leaves.
    sweep: Option<(usize, Mark)>,
    /// How far apart two fingers were when both came down, px, and how large the cells were, rem.
    pinch: Option<(f64, f64)>,
}

impl Hand {
    fn put(&mut self, event: &PointerEvent) {
        let (id, x, y) = at(event);
        match self.fingers.iter_mut().find(|finger| finger.0 == id) {
            Some(finger) => *finger = (id, x, y),
            None => self.fingers.push((id, x, y)),
        }
    }

    fn lift(&mut self, event: &PointerEvent) {
        self.fingers.retain(|finger| finger.0 != event.pointer_id());
        self.pinch = None;
        if self.fingers.is_empty() {
            self.sweep = None;
        }
    }

    fn apart(&self) -> Option<f64> {
        match self.fingers.as_slice() {
            [a, b] => Some((a.1 - b.1).hypot(a.2 - b.2)),
            _ => None,
        }
    }

    /// The point between two fingers.
    fn middle(&self) -> Option<(f64, f64)> {
        match self.fingers.as_slice() {
            [a, b] => Some((f64::midpoint(a.1, b.1), f64::midpoint(a.2, b.2))),
            _ => None,
        }
    }
}

fn at(event: &PointerEvent) -> (i32, f64, f64) {
    (
        event.pointer_id(),
        f64::from(event.client_x()),
        f64::from(event.client_y()),
    )
}

/// The cell under a point of the page.
fn cell_at(x: f64, y: f64) -> Option<usize> {
    let element = page::document()?.element_from_point(x as f32, y as f32)?;
    let cell = element.closest("[data-cell]").ok()??;
    cell.get_attribute("data-cell")?.parse().ok()
}

/// How the tray's rows and columns lie on the page.
#[derive(Clone, Copy, PartialEq)]
struct Lie {
    rows: u32,
    columns: u32,
    turned: bool,
}

impl Lie {
    fn lines(self) -> u32 {
        if self.turned { self.columns } else { self.rows }
    }

    fn across(self) -> u32 {
        if self.turned { self.rows } else { self.columns }
    }

    /// The cell's place in the tray that is drawn in a line at a step across: turned as a tray is turned to the right.
    fn place(self, tray: u32, line: u32, step: u32) -> Place {
        let (row, column) = if self.turned {
            (self.rows.saturating_sub(step + 1), line)
        } else {
            (line, step)
        };
        Place { tray, row, column }
    }

    /// Where on the page a cell of the tray is drawn: its line and how far across.
    fn drawn(self, place: Place) -> (i64, i64) {
        let (row, column) = (i64::from(place.row), i64::from(place.column));
        if self.turned {
            (column, i64::from(self.rows) - 1 - row)
        } else {
            (row, column)
        }
    }
}

/// The tray's cells.
#[component]
pub(super) fn Cells(bench: Bench) -> impl IntoView {
    let hand = StoredValue::new(Hand::default());
    let down = move |event: PointerEvent| {
        hand.update_value(|hand| hand.put(&event));
        if hand.with_value(|hand| hand.fingers.len()) > 1 {
            return begin_pinch(bench, hand);
        }
        let Some(cell) = cell_at(f64::from(event.client_x()), f64::from(event.client_y())) else {
            return;
        };
        // A finger that was a mouse's other button marks nothing.
        if event.button() != 0 {
            return;
        }
        event.prevent_default();
        focus_cell(cell);
        let brush = bench.brush.get_untracked();
        let mark = bench.desk.with_untracked(|desk| desk.tapped(cell, brush));
        bench.desk.update(|desk| {
            desk.begin_step();
            desk.mark([cell], mark);
        });
        hand.update_value(|hand| hand.sweep = Some((cell, mark)));
    };
    let go = move |event: PointerEvent| {
        if hand.with_value(|hand| hand.fingers.iter().all(|f| f.0 != event.pointer_id())) {
            return;
        }
        let middle = hand.with_value(Hand::middle);
        hand.update_value(|hand| hand.put(&event));
        if let Some((apart, size)) = hand.with_value(|hand| hand.pinch) {
            if let Some(now) = hand.with_value(Hand::apart) {
                bench.zoom.pinch(size, now / apart.max(1.0));
            }
            // Two fingers also carry the tray along.
            if let (Some(a), Some(b)) = (middle, hand.with_value(Hand::middle)) {
                page::scroll_within(".cells", a.0 - b.0, a.1 - b.1);
            }
            return;
        }
        let Some((last, mark)) = hand.with_value(|hand| hand.sweep) else {
            return;
        };
        let here = cell_at(f64::from(event.client_x()), f64::from(event.client_y()));
        if let Some(cell) = here.filter(|cell| *cell != last) {
            bench.desk.update(|desk| {
                let way = desk.map().between(last, cell);
                desk.mark(way, mark);
            });
            hand.update_value(|hand| hand.sweep = Some((cell, mark)));
        }
    };
    let up = move |event: PointerEvent| hand.update_value(|hand| hand.lift(&event));
    let lie = Memo::new(move |_| {
        let (rows, columns) = bench
            .desk
            .with(|desk| (desk.map().rows(), desk.map().columns()));
        Lie {
            rows,
            columns,
            turned: bench.zoom.is_turned(),
        }
    });
    view! {
        <div
            class="cells"
            style:--cols=move || lie.get().across().to_string()
            style:--cell-least=move || format!("{:.2}rem", bench.zoom.size())
            on:pointerdown=down
            on:pointermove=go
            on:pointerup=up
            on:pointercancel=up
            on:keydown=move |event| key(bench, lie.get_untracked(), &event)
        >
            {move || {
                let (lie, tray) = (lie.get(), bench.tray.get());
                (0..lie.lines())
                    .map(|line| view! { <Line bench lie tray line /> })
                    .collect_view()
            }}
        </div>
    }
}

fn begin_pinch(bench: Bench, hand: StoredValue<Hand>) {
    hand.update_value(|hand| {
        // What the first finger marked before the second came down was not meant.
        if hand.sweep.take().is_some() {
            bench.desk.update(super::Desk::undo);
        }
        hand.pinch = hand.apart().map(|apart| (apart, bench.zoom.held()));
    });
}

/// A line of cells with its mark at the side, which marks them all.
#[component]
fn Line(bench: Bench, lie: Lie, tray: u32, line: u32) -> impl IntoView {
    let store = Store::here();
    let cells: Vec<usize> = bench.desk.with_untracked(|desk| {
        (0..lie.across())
            .filter_map(|step| desk.map().cell(lie.place(tray, line, step)))
            .collect()
    });
    if cells.is_empty() {
        return ().into_any();
    }
    let label = move || {
        Say::new("count.line")
            .with("n", line + 1)
            .with("mark", Arg::Key(bench.brush.get().key()))
            .write(store.manner())
    };
    let drawn = (0..lie.across())
        .map(|step| {
            let place = lie.place(tray, line, step);
            match bench.desk.with_untracked(|desk| desk.map().cell(place)) {
                Some(cell) => view! { <Cell bench cell place /> }.into_any(),
                None => view! { <span></span> }.into_any(),
            }
        })
        .collect_view();
    view! {
        <div class="cells__row">
            <button
                class="cells__mark"
                type="button"
                aria-label=label
                on:click=move |_| {
                    let brush = bench.brush.get_untracked();
                    let cells = cells.clone();
                    bench.desk.update(|desk| desk.mark_all(cells, brush));
                }
            >
                {line + 1}
            </button>
            {drawn}
        </div>
    }
    .into_any()
}

#[component]
fn Cell(bench: Bench, cell: usize, place: Place) -> impl IntoView {
    let store = Store::here();
    let mark = move || bench.desk.with(|desk| desk.map().mark(cell));
    let unsure = move || bench.unsure.with(|unsure| unsure.contains(&cell));
    let label = move || {
        Say::new(if unsure() {
            "count.cell_unsure"
        } else {
            "count.cell"
        })
        .with("row", place.row + 1)
        .with("column", place.column + 1)
        .with("mark", Arg::Key(mark().key()))
        .write(store.manner())
    };
    // One stop for the tab key: the first cell, from which arrows lead on.
    let first = place.row == 0 && place.column == 0;
    view! {
        <button
            class="cell"
            type="button"
            data-cell=cell.to_string()
            data-state=move || state(mark())
            data-unsure=move || unsure().then_some("true")
            aria-label=label
            tabindex=if first { "0" } else { "-1" }
        ></button>
    }
}

fn focus_cell(cell: usize) {
    page::focus(&format!("[data-cell=\"{cell}\"]"));
}

/// Arrows go from cell to cell, with Shift they take the mark along; a letter or the space bar marks.
fn key(bench: Bench, lie: Lie, event: &KeyboardEvent) {
    let target = event.target().and_then(|t| t.dyn_into::<Element>().ok());
    let Some(cell) = target.and_then(|t| t.get_attribute("data-cell")?.parse::<usize>().ok())
    else {
        return;
    };
    if event.ctrl_key() || event.meta_key() {
        if event.key() == "z" {
            event.prevent_default();
            bench.desk.update(super::Desk::undo);
        }
        return;
    }
    let here = bench.desk.with_untracked(|desk| desk.map().place(cell));
    let (line, step) = lie.drawn(here);
    let to = match event.key().as_str() {
        "ArrowRight" => Some((line, step + 1)),
        "ArrowLeft" => Some((line, step - 1)),
        "ArrowDown" => Some((line + 1, step)),
        "ArrowUp" => Some((line - 1, step)),
        _ => None,
    };
    if let Some((line, step)) = to {
        event.prevent_default();
        let next = u32::try_from(line).ok().zip(u32::try_from(step).ok());
        let next = next
            .filter(|(line, step)| *line < lie.lines() && *step < lie.across())
            .and_then(|(line, step)| {
                let place = lie.place(here.tray, line, step);
                bench.desk.with_untracked(|desk| desk.map().cell(place))
            });
        if let Some(next) = next {
            if event.shift_key() {
                let mark = bench.desk.with_untracked(|desk| desk.map().mark(cell));
                one(bench, next, mark);
            }
            focus_cell(next);
        }
        return;
    }
    let brush = bench.brush.get_untracked();
    let mark = match event.key().as_str() {
        " " | "Enter" => bench.desk.with_untracked(|desk| desk.tapped(cell, brush)),
        "u" | "1" => Mark::Up,
        "e" | "0" => Mark::Empty,
        "d" | "2" => Mark::Two,
        "l" | "x" => Mark::Lost,
        _ => return,
    };
    event.prevent_default();
    one(bench, cell, mark);
}

fn one(bench: Bench, cell: usize, mark: Mark) {
    bench.desk.update(|desk| {
        desk.begin_step();
        desk.mark([cell], mark);
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_turned_tray_is_the_same_tray() {
        for turned in [false, true] {
            let lie = Lie {
                rows: 4,
                columns: 6,
                turned,
            };
            let mut seen = std::collections::BTreeSet::new();
            for line in 0..lie.lines() {
                for step in 0..lie.across() {
                    let place = lie.place(0, line, step);
                    assert!(place.row < 4 && place.column < 6);
                    assert_eq!(lie.drawn(place), (i64::from(line), i64::from(step)));
                    seen.insert((place.row, place.column));
                }
            }
            assert_eq!(seen.len(), 24);
        }
        let turned = Lie {
            rows: 4,
            columns: 6,
            turned: true,
        };
        // Turned to the right, the bottom left corner comes to the top left.
        let corner = turned.place(0, 0, 0);
        assert_eq!((corner.row, corner.column), (3, 0));
    }
}
