//! The page: address, title, theme, focus.

use wasm_bindgen::JsCast;
use web_sys::{Document, HtmlElement, Window};

/// The window, if there is one.
pub fn window() -> Option<Window> {
    web_sys::window()
}

/// The document, if there is one.
pub fn document() -> Option<Document> {
    window()?.document()
}

/// The address after its `#`, with it; empty when there is none.
pub fn hash() -> String {
    window()
        .and_then(|window| window.location().hash().ok())
        .unwrap_or_default()
}

/// The whole address of the page.
pub fn address() -> String {
    window()
        .and_then(|window| window.location().href().ok())
        .unwrap_or_default()
}

/// Goes to an address of the app: `#/bench`.
pub fn go(href: &str) {
    if let Some(window) = window() {
        // Only a detached window refuses.
        let _gone = window.location().set_hash(href);
    }
}

/// Puts an address of the app in the place of the present one, without a step back to it.
pub fn go_instead(href: &str) {
    if let Some(window) = window() {
        let _gone = window.location().replace(href);
    }
}

/// The address's query, with its `?`.
pub fn query() -> String {
    window()
        .and_then(|window| window.location().search().ok())
        .unwrap_or_default()
}

/// Loads the page anew.
pub fn reload() {
    if let Some(window) = window() {
        let _gone = window.location().reload();
    }
}

/// Sets the page's title.
pub fn set_title(title: &str) {
    if let Some(document) = document() {
        document.set_title(title);
    }
}

/// Sets the colours: a word of the style sheet's `data-theme`.
pub fn set_theme(word: &str) {
    let root = document().and_then(|document| document.document_element());
    if let Some(root) = root.and_then(|root| root.dyn_into::<HtmlElement>().ok()) {
        let _set = root.dataset().set("theme", word);
    }
}

/// The address of the script that the planner's thread runs, as the start-up script says.
pub fn planner_script() -> Option<String> {
    document()?
        .document_element()?
        .get_attribute("data-planner")
}

/// The build's id, as the page says.
pub fn build() -> Option<String> {
    document()?
        .query_selector("meta[name=build]")
        .ok()??
        .get_attribute("content")
}

/// Whether the app runs in a window of its own, as an installed one does.
pub fn is_installed() -> bool {
    window()
        .and_then(|w| w.match_media("(display-mode: standalone)").ok().flatten())
        .is_some_and(|query| query.matches())
}

/// Whether the page is in view.
pub fn is_visible() -> bool {
    document().is_some_and(|d| d.visibility_state() == web_sys::VisibilityState::Visible)
}

/// Opens the browser's dialog for printing the page.
pub fn print() {
    if let Some(window) = window() {
        let _printed = window.print();
    }
}

/// Goes to the top of the page and puts the focus on its title, as a new page would.
pub fn to_top() {
    if let Some(window) = window() {
        window.scroll_to_with_x_and_y(0.0, 0.0);
    }
    focus(".top__title");
}

/// Puts the focus on the first element that a selector finds. Whether there was one.
pub fn focus(selector: &str) -> bool {
    document()
        .and_then(|document| document.query_selector(selector).ok().flatten())
        .and_then(|found| found.dyn_into::<HtmlElement>().ok())
        .is_some_and(|element| element.focus().is_ok())
}

/// Takes no more taps and keys in the first element that a selector finds.
pub fn make_inert(selector: &str) {
    let found = document().and_then(|document| document.query_selector(selector).ok().flatten());
    if let Some(element) = found {
        // Only a bad name is refused.
        let _inert = element.set_attribute("inert", "");
    }
}

/// Opens the folded part of the page, if it is in one, that holds the first element that a selector finds.
pub fn unfold(selector: &str) {
    let folded = document()
        .and_then(|document| document.query_selector(selector).ok().flatten())
        .and_then(|found| found.closest("details:not([open])").ok().flatten());
    if let Some(folded) = folded {
        // Only a bad name is refused.
        let _opened = folded.set_attribute("open", "");
    }
}

/// Carries what the first element that a selector finds shows along by so many pixels, and the page with it up and down.
pub fn scroll_within(selector: &str, x: f64, y: f64) {
    let found = document().and_then(|document| document.query_selector(selector).ok().flatten());
    if let Some(element) = found {
        element.scroll_by_with_x_and_y(x, 0.0);
    }
    if let Some(window) = window() {
        window.scroll_by_with_x_and_y(0.0, y);
    }
}

/// The element that has the focus.
pub fn focused() -> Option<HtmlElement> {
    document()?.active_element()?.dyn_into().ok()
}

/// Whether the `details` element that an event came from is open.
pub fn is_open(event: &web_sys::Event) -> bool {
    event
        .current_target()
        .and_then(|target| target.dyn_into::<web_sys::Element>().ok())
        .is_some_and(|details| details.has_attribute("open"))
}
