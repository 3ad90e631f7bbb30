//! The clipboard, where the browser lets us at it.

use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;

/// Puts a text on the clipboard. Whether it did: some browsers refuse, and none allows it on a page that is not secure.
pub async fn copy(text: &str) -> bool {
    let Some(window) = web_sys::window() else {
        return false;
    };
    let navigator = window.navigator();
    let has = js_sys::Reflect::get(&navigator, &JsValue::from_str("clipboard"))
        .is_ok_and(|clipboard| clipboard.is_object());
    has && JsFuture::from(navigator.clipboard().write_text(text))
        .await
        .is_ok()
}
