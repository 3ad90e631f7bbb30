//! What stands in one field of a form, and what is wrong with it. The text stays as typed, right or wrong.

use leptos::prelude::*;
use season::words::Say;

use crate::browser::page;

/// One field's text and objection.
#[derive(Debug, Clone, Copy)]
pub struct Typed {
    text: RwSignal<String>,
    wrong: RwSignal<Option<Say>>,
}

impl Typed {
    /// A field that begins with a text. It lives as long as the component that makes it.
    pub fn new(text: impl Into<String>) -> Self {
        Self {
            text: RwSignal::new(text.into()),
            wrong: RwSignal::new(None),
        }
    }

    /// The text. Follows changes.
    pub fn text(self) -> String {
        self.text.get()
    }

    /// The text without following it.
    pub fn text_now(self) -> String {
        self.text.get_untracked()
    }

    /// Puts a text in; an objection to the earlier one goes.
    pub fn put(self, text: impl Into<String>) {
        self.text.set(text.into());
        self.wrong.set(None);
    }

    /// What is wrong, if that was said. Follows changes.
    pub fn wrong(self) -> Option<Say> {
        self.wrong.get()
    }

    /// Says what is wrong.
    pub fn object(self, why: Say) {
        self.wrong.set(Some(why));
    }

    /// Reads the text with a reader of [`crate::parts::read`]. What it objects to is shown at the field.
    pub fn read<T>(self, reader: impl FnOnce(&str) -> Result<T, Say>) -> Option<T> {
        match self.text.with_untracked(|text| reader(text)) {
            Ok(value) => {
                self.wrong.set(None);
                Some(value)
            }
            Err(why) => {
                self.object(why);
                None
            }
        }
    }

    /// As [`Typed::read`], where nothing typed is an answer too.
    pub fn read_if_any<T>(self, reader: impl FnOnce(&str) -> Result<T, Say>) -> Option<Option<T>> {
        if self.text.with_untracked(|text| text.trim().is_empty()) {
            self.wrong.set(None);
            return Some(None);
        }
        self.read(reader).map(Some)
    }
}

/// Puts the focus on the first field with an objection, once it is on the page; if it is folded away, it is unfolded.
pub fn show_first_wrong() {
    const WRONG: &str = "[aria-invalid=true]";
    request_animation_frame(|| {
        page::unfold(WRONG);
        page::focus(WRONG);
    });
}
