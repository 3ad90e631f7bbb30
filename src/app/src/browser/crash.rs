//! What stands on the page when the app itself has failed.

use std::panic::PanicHookInfo;
use std::sync::Once;

use season::words::text;
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::Closure;
use web_sys::{Document, Element};

/// Shows a plain page with a way on when the app panics; the details go to the console.
pub fn set_hook() {
    std::panic::set_hook(Box::new(|info: &PanicHookInfo<'_>| {
        console_error_panic_hook::hook(info);
        static SHOWN: Once = Once::new();
        SHOWN.call_once(|| {
            // Nothing more can be done where even this fails.
            let _shown = show();
        });
    }));
}

/// Plain calls of the document: the view library may be what failed.
fn show() -> Option<()> {
    let document = web_sys::window()?.document()?;
    let body = document.body()?;
    let page = element(&document, "main", "crash")?;
    page.set_attribute("role", "alert").ok()?;
    let head = element(&document, "h1", "top__title")?;
    head.set_text_content(Some(text("crash.head")));
    let line = element(&document, "p", "lead")?;
    line.set_text_content(Some(text("crash.text")));
    let button = element(&document, "button", "btn btn--primary btn--great")?;
    button.set_text_content(Some(text("crash.reload")));
    let reload = Closure::<dyn Fn()>::new(crate::browser::page::reload);
    button
        .add_event_listener_with_callback("click", reload.as_ref().unchecked_ref())
        .ok()?;
    reload.forget();
    for part in [&head, &line, &button] {
        page.append_child(part).ok()?;
    }
    // The sprite stays; all else goes, so that nothing half-alive can be tapped.
    let frames = document
        .query_selector_all(".frame, dialog, .slip, .opening")
        .ok()?;
    for n in 0..frames.length() {
        if let Some(frame) = frames.get(n).and_then(|f| f.dyn_into::<Element>().ok()) {
            frame.remove();
        }
    }
    body.append_child(&page).ok()?;
    Some(())
}

fn element(document: &Document, tag: &str, class: &str) -> Option<Element> {
    let element = document.create_element(tag).ok()?;
    element.set_class_name(class);
    Some(element)
}
