//! A line of what is sown or planted: a way to its tray or bed. A hand that drags it is told why it stays.

use chrono::NaiveDate;
use leptos::ev::{MouseEvent, PointerEvent};
use leptos::prelude::*;
use season::words::text;

use super::axis::Axis;
use super::year::{Line, percent, strokes_of};

/// How far a hand must go for it to mean a drag, px.
const DRAG_PX: i32 = 24;

/// One line that can't be moved.
#[component]
pub fn LockedLine(
    /// The line.
    line: Line,
    /// The weeks along the bottom.
    axis: Axis,
    /// Today.
    today: NaiveDate,
) -> impl IntoView {
    let from = StoredValue::new(None::<i32>);
    let dragged = StoredValue::new(false);
    let told = RwSignal::new(false);
    let on_down = move |event: PointerEvent| {
        from.set_value(Some(event.client_x()));
        dragged.set_value(false);
    };
    let on_move = move |event: PointerEvent| {
        let far = |x: i32| (event.client_x() - x).abs() >= DRAG_PX;
        if from.get_value().is_some_and(far) {
            dragged.set_value(true);
            told.set(true);
        }
    };
    let on_end = move |_: PointerEvent| from.set_value(None);
    // A drag is no tap: the page stays.
    let on_click = move |event: MouseEvent| {
        if dragged.get_value() {
            event.prevent_default();
            dragged.set_value(false);
        }
    };
    let now = percent(axis.x(today));
    let drawn = strokes_of(axis, &line.life);
    view! {
        <li>
            <a class="life" href=line.to.href() draggable="false" on:click=on_click>
                <span class="life__words">
                    <span class="life__name">{line.name}</span>
                    " "
                    <span class="life__when">{line.when}</span>
                </span>
                <svg
                    class="life__line life__line--still"
                    aria-hidden="true"
                    on:pointerdown=on_down
                    on:pointermove=on_move
                    on:pointerup=on_end
                    on:pointercancel=on_end
                    on:pointerleave=on_end
                >
                    {drawn}
                    <line class="year__now" x1=now.clone() x2=now y1="0" y2="30"></line>
                </svg>
            </a>
            <p class="life__still" role="status">
                {move || told.get().then(|| text("year.move.fact"))}
            </p>
        </li>
    }
}
