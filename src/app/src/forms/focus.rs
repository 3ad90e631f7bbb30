//! Where the focus was before a sheet opened, and where it goes when the sheet closes.

use wasm_bindgen::JsCast;
use web_sys::{HtmlElement, NodeList};

use crate::browser::page;

/// Buttons that record: when one goes with its task, the next one takes its place.
const RECORDS: &str = ".task__do";

/// A place on the page.
#[derive(Debug, Clone)]
pub(super) struct Place {
    element: HtmlElement,
    /// Its place among the buttons that record.
    among: Option<u32>,
}

impl Place {
    /// Where the focus is.
    pub(super) fn now() -> Option<Self> {
        let element = page::focused()?;
        let among = records().and_then(|all| {
            (0..all.length()).find(|n| all.get(*n).as_ref() == Some(element.as_ref()))
        });
        Some(Self { element, among })
    }

    /// Puts the focus back: on the element, or on what took its place.
    pub(super) fn restore(self) {
        if self.element.is_connected() {
            let _focused = self.element.focus();
            return;
        }
        let next = self.among.and_then(|n| {
            let all = records()?;
            all.get(n.min(all.length().checked_sub(1)?))
        });
        match next.and_then(|node| node.dyn_into::<HtmlElement>().ok()) {
            Some(element) => {
                let _focused = element.focus();
            }
            None => {
                page::focus("#main");
            }
        }
    }
}

fn records() -> Option<NodeList> {
    page::document()?.query_selector_all(RECORDS).ok()
}
