//! Telling the other tabs of this browser what was appended.

use crate::book::Book;
use std::cell::RefCell;
use wasm_bindgen::prelude::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{BroadcastChannel, MessageEvent};

type Heard = Closure<dyn FnMut(MessageEvent)>;

/// A book's channel. A browser without channels hears and says nothing;
/// nothing is lost by it, other tabs see new rows when they read again.
/// Dropping it leaves the channel.
pub struct Tabs {
    channel: Option<BroadcastChannel>,
    heard: RefCell<Option<Heard>>,
}

impl Tabs {
    /// Joins a book's channel.
    #[must_use]
    pub fn join(book: Book) -> Self {
        Self {
            channel: BroadcastChannel::new(book.name()).ok(),
            heard: RefCell::new(None),
        }
    }

    /// Tells the other tabs that these rows are stored. Call it after the
    /// append is ready.
    pub fn announce(&self, ids: &[String]) {
        if let (Some(channel), Ok(text)) = (&self.channel, serde_json::to_string(ids)) {
            // A channel that was closed under us is as good as none.
            let _closed = channel.post_message(&JsValue::from_str(&text));
        }
    }

    /// Calls `told` with the ids another tab announced, never with this
    /// one's own. Replaces an earlier listener.
    pub fn listen(&self, told: impl Fn(Vec<String>) + 'static) {
        let Some(channel) = &self.channel else {
            return;
        };
        let heard = Heard::new(move |event: MessageEvent| {
            if let Some(ids) = ids_in(event.data().as_string().as_deref()) {
                told(ids);
            }
        });
        channel.set_onmessage(Some(heard.as_ref().unchecked_ref()));
        self.heard.replace(Some(heard));
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

/// The ids in a message; nothing for one of another kind or version.
fn ids_in(message: Option<&str>) -> Option<Vec<String>> {
    serde_json::from_str(message?).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_message_of_another_kind_is_not_heard() {
        assert_eq!(ids_in(Some("[\"a\"]")), Some(vec!["a".to_owned()]));
        assert_eq!(ids_in(Some("{\"kind\":\"later\"}")), None);
        assert_eq!(ids_in(Some("[1]")), None);
        assert_eq!(ids_in(Some("")), None);
        assert_eq!(ids_in(None), None);
    }
}
