//! Keeps a tap from acting on a row that has just moved under the finger.
//!
//! Recording, undoing or another tab's entries move rows while a finger is on its way down. Rows marked `data-guarded` are watched:
//! a click acts only if the press began on the row that it lands on, and that row had been in its place for [`SETTLE_MS`] by then.
//! Clicks from the keyboard and from assistive technology name their element, wherever it is, and always act.

use std::cell::RefCell;
use std::rc::Rc;

use js_sys::WeakMap;
use leptos::prelude::request_animation_frame;
use wasm_bindgen::prelude::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Element, Event, MouseEvent, MutationObserver, MutationObserverInit};

use super::page;

/// The rows that are watched.
const ROWS: &str = "[data-guarded]";

/// How long a row must have been in its place before a press on it acts, ms.
///
/// A tap in under half a second can't have been aimed at what the row shows: it takes some 250 ms to react to something seen and as
/// long again to reach it, or to hold back a hand that is moving (Welford 1980, Reaction Times; Logan and Cowan 1984, Psychological
/// Review 91: 295-327). Firefox and Chromium protect their own prompts for as long.
const SETTLE_MS: f64 = 500.0;

/// A shift that leaves the finger on the row it aimed at, px: a third of the smallest target.
const NUDGE_PX: f64 = 16.0;

/// Where a row is, px.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Place {
    /// From the left and top edge of the window.
    in_window: (f64, f64),
    /// From the left and top edge of the page, which scrolls.
    on_page: (f64, f64),
}

impl Place {
    fn of(row: &Element, scrolled: (f64, f64)) -> Self {
        let edges = row.get_bounding_client_rect();
        let in_window = (edges.left(), edges.top());
        Self {
            in_window,
            on_page: (in_window.0 + scrolled.0, in_window.1 + scrolled.1),
        }
    }

    /// Whether the row moved by itself: what a hand scrolls stays where it is on the page, and what the browser holds in place while
    /// the page grows stays where it is in the window.
    fn moved_from(self, before: Self) -> bool {
        let apart = |a: (f64, f64), b: (f64, f64)| (a.0 - b.0).hypot(a.1 - b.1) > NUDGE_PX;
        apart(self.in_window, before.in_window) && apart(self.on_page, before.on_page)
    }
}

/// A row as it was seen last.
#[derive(Debug, Clone)]
struct Row {
    element: Element,
    place: Place,
    /// Since when it has been there, ms since the page began.
    since: f64,
}

/// The press that a click ends.
#[derive(Debug, Clone)]
struct Press {
    row: Option<Element>,
    /// When the finger came down, ms since the page began.
    at: f64,
}

impl Press {
    /// Whether a click acts on a row that has been in its place since a time.
    fn acts_on(&self, row: &Element, since: f64) -> bool {
        self.row.as_ref() == Some(row) && self.at - since >= SETTLE_MS
    }
}

#[derive(Default)]
struct Guard {
    rows: Vec<Row>,
    /// The index in `rows` of each element.
    index: WeakMap,
    /// Whether the page has changed since the rows were seen.
    changed: bool,
    press: Option<Press>,
}

impl Guard {
    /// Looks where the rows are now.
    fn look(&mut self) {
        self.changed = false;
        let Some(window) = page::window() else {
            return;
        };
        let scrolled = (
            window.scroll_x().unwrap_or(0.0),
            window.scroll_y().unwrap_or(0.0),
        );
        let places: Vec<(Element, Place)> = rows()
            .into_iter()
            .map(|element| {
                let place = Place::of(&element, scrolled);
                (element, place)
            })
            .collect();
        // The browser has laid the page out by now.
        let now = window.performance().map_or(0.0, |clock| clock.now());
        let rows = places
            .into_iter()
            .map(|(element, place)| {
                let before = self.row(&element);
                let still = before.filter(|before| !place.moved_from(before.place));
                Row {
                    since: still.map_or(now, |before| before.since),
                    element,
                    place,
                }
            })
            .collect();
        self.rows = rows;
        for (n, row) in self.rows.iter().enumerate() {
            self.index.set(&row.element, &JsValue::from_f64(n as f64));
        }
    }

    fn row(&self, element: &Element) -> Option<&Row> {
        let n = self.index.get(element).as_f64()?;
        self.rows
            .get(n as usize)
            .filter(|row| row.element == *element)
    }

    fn press(&mut self, event: &Event) {
        self.press = Some(Press {
            row: row_of(event),
            at: event.time_stamp(),
        });
    }

    /// Whether a click may act.
    fn lets(&mut self, click: &MouseEvent) -> bool {
        let press = self.press.take();
        let by_pointer = click.detail() > 0;
        let Some(row) = row_of(click).filter(|_| by_pointer) else {
            return true;
        };
        if self.changed {
            self.look();
        }
        let press = press.unwrap_or_else(|| Press {
            row: Some(row.clone()),
            at: click.time_stamp(),
        });
        let since = self.row(&row).map(|seen| seen.since);
        since.is_none_or(|since| press.acts_on(&row, since))
    }
}

/// The rows on the page.
fn rows() -> Vec<Element> {
    let found = page::document().and_then(|page| page.query_selector_all(ROWS).ok());
    let Some(found) = found else {
        return Vec::new();
    };
    (0..found.length())
        .filter_map(|n| found.get(n)?.dyn_into().ok())
        .collect()
}

/// The row that an event is in.
fn row_of(event: &Event) -> Option<Element> {
    let target: Element = event.target()?.dyn_into().ok()?;
    target.closest(ROWS).ok()?
}

/// Watches the page from now on.
pub fn watch() {
    let (Some(window), Some(body)) = (page::window(), page::document().and_then(|d| d.body()))
    else {
        return;
    };
    let guard = Rc::new(RefCell::new(Guard::default()));

    let of_change = guard.clone();
    let changed = Closure::<dyn Fn()>::new(move || {
        let known = std::mem::replace(&mut of_change.borrow_mut().changed, true);
        let of_frame = of_change.clone();
        if !known {
            request_animation_frame(move || of_frame.borrow_mut().look());
        }
    });
    let watched = MutationObserverInit::new();
    watched.set_subtree(true);
    watched.set_child_list(true);
    watched.set_character_data(true);
    watched.set_attribute_filter(&js_sys::Array::of3(
        &"class".into(),
        &"hidden".into(),
        &"open".into(),
    ));
    if let Ok(observer) = MutationObserver::new(changed.as_ref().unchecked_ref()) {
        // Only options that ask for nothing are refused.
        let _observed = observer.observe_with_options(&body, &watched);
        changed.forget();
    }

    let of_press = guard.clone();
    let pressed = Closure::<dyn Fn(Event)>::new(move |event: Event| {
        of_press.borrow_mut().press(&event);
    });
    let clicked = Closure::<dyn Fn(MouseEvent)>::new(move |event: MouseEvent| {
        if !guard.borrow_mut().lets(&event) {
            event.prevent_default();
            event.stop_immediate_propagation();
        }
    });
    // Before any row hears of it.
    for (name, listener) in [
        ("pointerdown", pressed.as_ref()),
        ("click", clicked.as_ref()),
    ] {
        let listener = listener.unchecked_ref();
        let _added = window.add_event_listener_with_callback_and_bool(name, listener, true);
    }
    pressed.forget();
    clicked.forget();
}

#[cfg(test)]
mod tests {
    use super::*;

    const BEFORE: Place = Place {
        in_window: (10.0, 300.0),
        on_page: (10.0, 900.0),
    };

    fn shifted(in_window: f64, on_page: f64) -> Place {
        Place {
            in_window: (10.0, 300.0 + in_window),
            on_page: (10.0, 900.0 + on_page),
        }
    }

    #[test]
    fn a_row_has_moved_when_it_is_elsewhere_in_the_window_and_on_the_page() {
        assert!(shifted(80.0, 80.0).moved_from(BEFORE));
        assert!(shifted(-80.0, -80.0).moved_from(BEFORE));
        assert!(!shifted(-80.0, 0.0).moved_from(BEFORE), "scrolled");
        assert!(!shifted(0.0, 80.0).moved_from(BEFORE), "held in place");
        assert!(!shifted(4.0, 4.0).moved_from(BEFORE), "nudged");
    }
}
