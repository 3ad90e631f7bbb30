//! The way back out of a sheet: the phone's back button closes it instead of leaving the screen.

use std::time::Duration;

use leptos::ev::popstate;
use leptos::prelude::*;
use wasm_bindgen::JsValue;

use super::recorder::Recorder;

/// How long the browser may take to step back before the sheet closes all the same.
const LONGEST: Duration = Duration::from_secs(2);

/// An open sheet's own step in the browser's history.
#[derive(Clone, Copy)]
pub(super) struct Step(StoredValue<State>);

#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    /// There is none.
    Out,
    /// The sheet has it.
    In,
    /// The browser is stepping back out of it.
    Leaving,
}

impl Step {
    /// Lives as long as the component that makes it.
    pub(super) fn new() -> Self {
        Self(StoredValue::new(State::Out))
    }

    fn now(self) -> State {
        self.0.try_get_value().unwrap_or(State::Out)
    }

    /// Whether the browser has to step back before the sheet may close; it is asked to. A place that is gone to before it has would
    /// be stepped out of in the sheet's stead.
    pub(super) fn leave(self, recorder: Recorder) -> bool {
        if self.now() == State::In && history().is_some_and(|history| history.back().is_ok()) {
            self.0.set_value(State::Leaving);
            set_timeout(move || self.left(State::Leaving, recorder), LONGEST);
        }
        self.now() == State::Leaving
    }

    /// The browser has stepped back, or may not have.
    fn left(self, from: State, recorder: Recorder) {
        if self.now() == from {
            self.0.set_value(State::Out);
            recorder.closed();
        }
    }
}

/// Gives an open sheet a step of its own in the browser's history. Follows the recorder for as long as the component lives that
/// calls.
pub(super) fn follow(recorder: Recorder) {
    let step = recorder.step();
    Effect::new(move |_| {
        if recorder.asked().is_some() && step.now() == State::Out && step_in() {
            step.0.set_value(State::In);
        }
    });
    let listener = window_event_listener(popstate, move |_| {
        let now = step.now();
        if now != State::Out {
            step.left(now, recorder);
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
