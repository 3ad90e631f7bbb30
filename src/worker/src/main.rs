//! The planner, and the eye for trays, in a thread of their own: takes what the page asks, and tells what it finds.
//!
//! A question is JSON, or an array of JSON and the bytes of a picture. It is asked one thing after the other. What is under way can't be called off from within: the page ends the thread, and keeps the
//! last plan that it was told.

use js_sys::{Array, Uint8Array};
use planner::chance::Run;
use planner::protocol::{Request, Response};
use serde::Serialize;
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
        let data = event.data();
        if let Some(asked) = data.dyn_ref::<Array>() {
            tell(&here, &looked(asked));
            return;
        }
        let Some(text) = data.as_string() else {
            return;
        };
        match serde_json::from_str(&text) {
            Ok(ask) => answer(&here, ask),
            Err(error) => tell(&here, &Response::Failed(error.to_string())),
        }
    });
    scope.set_onmessage(Some(heard.as_ref().unchecked_ref()));
    // Lives as long as the thread.
    heard.forget();
    tell(&scope, &Response::Ready);
}

fn answer(scope: &DedicatedWorkerGlobalScope, ask: Request) {
    match ask {
        Request::Plan { problem, limit_s } => {
            let clock = || now_s(scope);
            let found = planner::answer(&problem, limit_s, &clock, &mut |found| {
                tell(scope, &Response::Better(found.clone()));
            });
            let told = match found {
                Ok(answer) => Response::Planned(answer),
                Err(error) => Response::Failed(error.to_string()),
            };
            tell(scope, &told);
        }
        Request::Play(case) => match Run::new(&case) {
            Ok(mut run) => {
                while !run.advance(SEASONS_AT_ONCE) {
                    tell(scope, &Response::Played(run.done()));
                }
                let told = run.outcome().map_or_else(
                    || Response::Failed("no season was played".to_owned()),
                    Response::Chance,
                );
                tell(scope, &told);
            }
            Err(error) => tell(scope, &Response::Failed(error.to_string())),
        },
    }
}

/// What is seen in the picture of an array of the question and the picture's bytes.
fn looked(asked: &Array) -> imaging::protocol::Response {
    let Some(text) = asked.get(0).as_string() else {
        return imaging::protocol::Response::Failed("a picture came without a question".to_owned());
    };
    // Any view of bytes will do; what is none has no bytes, and a picture without bytes is refused.
    let bytes = Uint8Array::new(&asked.get(1)).to_vec();
    match serde_json::from_str(&text) {
        Ok(ask) => imaging::protocol::answer(&ask, &bytes),
        Err(error) => imaging::protocol::Response::Failed(error.to_string()),
    }
}

fn now_s(scope: &DedicatedWorkerGlobalScope) -> f64 {
    scope
        .performance()
        .map_or_else(js_sys::Date::now, |clock| clock.now())
        / 1000.0
}

fn tell(scope: &DedicatedWorkerGlobalScope, what: &impl Serialize) {
    // What can't be written or sent can't be told, either.
    if let Ok(text) = serde_json::to_string(what) {
        let _ = scope.post_message(&JsValue::from_str(&text));
    }
}
