//! The frames that the browser draws.

use leptos::prelude::request_animation_frame;
use wasm_bindgen_futures::JsFuture;

use super::page;

/// Longest wait for a frame, ms: a hidden page draws none, and nobody sees what it shows.
const UNSEEN_MS: i32 = 1_000;

/// Waits until the browser has drawn the page as it is now.
pub async fn drawn() {
    let frame = js_sys::Promise::new(&mut |done, _| {
        resolve_after(UNSEEN_MS, &done);
        // A frame is drawn between its callbacks and the next task.
        request_animation_frame(move || resolve_after(0, &done));
    });
    // Nothing rejects it.
    let _drawn = JsFuture::from(frame).await;
}

fn resolve_after(ms: i32, done: &js_sys::Function) {
    if let Some(window) = page::window() {
        let _asked = window.set_timeout_with_callback_and_timeout_and_arguments_0(done, ms);
    }
}
