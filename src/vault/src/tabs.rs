//! Notifies the other tabs of this browser about appended rows.

use crate::book::Book;
use std::cell::RefCell;
use wasm_bindgen::prelude::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{BroadcastChannel, MessageEvent};

type MessageHandler = Closure<dyn FnMut(MessageEvent)>;

/// A book's channel. A browser without broadcast channels neither sends nor
/// receives messages; nothing is lost, because other tabs see new rows the next
/// time they read. Dropping it closes the channel.
pub struct Tabs {
    channel: Option<BroadcastChannel>,
    handler: RefCell<Option<MessageHandler>>,
}

impl Tabs {
    /// Joins a book's channel.
    #[must_use]
    pub fn join(book: Book) -> Self {
        Self {
            channel: BroadcastChannel::new(book.name()).ok(),
            handler: RefCell::new(None),
        }
    }

    /// Notifies the other tabs that these rows are stored. Call it after the
    /// append has completed.
    pub fn announce(&self, ids: &[String]) {
        if let (Some(channel), Ok(text)) = (&self.channel, serde_json::to_string(ids)) {
            // A channel that was closed meanwhile is treated as missing.
            let _closed = channel.post_message(&JsValue::from_str(&text));
        }
    }

    /// Calls `callback` with the ids announced by another tab, never with this
    /// tab's own. Replaces an earlier listener.
    pub fn listen(&self, callback: impl Fn(Vec<String>) + 'static) {
        let Some(channel) = &self.channel else {
            return;
        };
        let handler = MessageHandler::new(move |event: MessageEvent| {
            if let Some(ids) = ids_in(event.data().as_string().as_deref()) {
                callback(ids);
            }
        });
        channel.set_onmessage(Some(handler.as_ref().unchecked_ref()));
        self.handler.replace(Some(handler));
    }
}

impl Drop for Tabs {
    fn drop(&mut self) {
        if let Some(channel) = &self.channel {
            channel.set_onmessage(None);
            channel.close();
        }
    }
}

/// The ids in a message; `None` for a message of another kind or version.
fn ids_in(message: Option<&str>) -> Option<Vec<String>> {
    serde_json::from_str(message?).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_message_of_another_kind_is_ignored() {
        assert_eq!(ids_in(Some("[\"a\"]")), Some(vec!["a".to_owned()]));
        assert_eq!(ids_in(Some("{\"kind\":\"later\"}")), None);
        assert_eq!(ids_in(Some("[1]")), None);
        assert_eq!(ids_in(Some("")), None);
        assert_eq!(ids_in(None), None);
    }
}
