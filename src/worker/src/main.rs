//! The planner in a thread of its own: takes what the page asks, and tells what it finds.
//!
//! It is asked one thing after the other. What is under way can't be called off from within: the page ends the thread, and keeps the
//! last plan that it was told.

use planner::chance::Run;
use planner::post::{Ask, Tell};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{DedicatedWorkerGlobalScope, MessageEvent};

/// Seasons played between two tellings of how far it is.
const SEASONS_AT_ONCE: u32 = 500;

fn main() {
    console_error_panic_hook::set_once();
    let scope: DedicatedWorkerGlobalScope = js_sys::global().unchecked_into();
    let here = scope.clone();
    let heard = Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
        let Some(text) = event.data().as_string() else {
            return;
        };
        match serde_json::from_str(&text) {
            Ok(ask) => answer(&here, ask),
            Err(error) => tell(&here, &Tell::Failed(error.to_string())),
        }
    });
    scope.set_onmessage(Some(heard.as_ref().unchecked_ref()));
    // Lives as long as the thread.
    heard.forget();
    tell(&scope, &Tell::Ready);
}

fn answer(scope: &DedicatedWorkerGlobalScope, ask: Ask) {
    match ask {
        Ask::Plan { problem, limit_s } => {
            let clock = || now_s(scope);
            let found = planner::answer(&problem, limit_s, &clock, &mut |found| {
                tell(scope, &Tell::Better(found.clone()));
            });
            let told = match found {
                Ok(answer) => Tell::Planned(answer),
                Err(error) => Tell::Failed(error.to_string()),
            };
            tell(scope, &told);
        }
        Ask::Play(case) => match Run::new(&case) {
            Ok(mut run) => {
                while !run.advance(SEASONS_AT_ONCE) {
                    tell(scope, &Tell::Played(run.done()));
                }
                let told = run.outcome().map_or_else(
                    || Tell::Failed("no season was played".to_owned()),
                    Tell::Chance,
                );
                tell(scope, &told);
            }
            Err(error) => tell(scope, &Tell::Failed(error.to_string())),
        },
    }
}

fn now_s(scope: &DedicatedWorkerGlobalScope) -> f64 {
    scope
        .performance()
        .map_or_else(js_sys::Date::now, |clock| clock.now())
        / 1000.0
}

fn tell(scope: &DedicatedWorkerGlobalScope, what: &Tell) {
    // What can't be written or sent can't be told, either.
    if let Ok(text) = serde_json::to_string(what) {
        let _ = scope.post_message(&JsValue::from_str(&text));
    }
}
