//! The way back out of a sheet: the phone's back button closes it instead of leaving the screen.

use leptos::ev::popstate;
use leptos::prelude::*;
use wasm_bindgen::JsValue;

use super::recorder::Recorder;

/// Gives an open sheet a step of its own in the browser's history. Follows the recorder for as long as the component lives that
/// calls.
pub(super) fn follow(recorder: Recorder) {
    let taken = StoredValue::new(false);
    Effect::new(move |_| {
        let open = recorder.asked().is_some();
        if open && !taken.get_value() {
            taken.set_value(step_in());
        } else if !open && taken.get_value() {
            taken.set_value(false);
            step_out();
        }
    });
    let listener = window_event_listener(popstate, move |_| {
        if taken.try_get_value() == Some(true) {
            taken.set_value(false);
            recorder.close();
        }
    });
    on_cleanup(move || listener.remove());
}

fn history() -> Option<web_sys::History> {
    web_sys::window()?.history().ok()
}

/// A step to the same address. Whether the browser took it.
fn step_in() -> bool {
    history().is_some_and(|history| {
        history
            .push_state_with_url(&JsValue::NULL, "", None)
            .is_ok()
    })
}

fn step_out() {
    if let Some(history) = history() {
        // Only a detached window refuses.
        let _gone = history.back();
    }
}
