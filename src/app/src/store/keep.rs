//! Whether what was recorded last is in storage.

use season::words::Say;

/// State of the last recording.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum Keep {
    /// All is in storage.
    #[default]
    Saved,
    /// On its way there.
    Saving,
    /// Not there, and why.
    Unsaved(Say),
    /// This browser keeps nothing: it is in this page only.
    PageOnly,
}

impl Keep {
    /// The state's word for the style sheet.
    pub fn word(&self) -> &'static str {
        match self {
            Self::Saved => "saved",
            Self::Saving => "saving",
            Self::Unsaved(_) | Self::PageOnly => "unsaved",
        }
    }

    /// In words.
    pub fn say(&self) -> Say {
        match self {
            Self::Saved => Say::new("keep.saved"),
            Self::Saving => Say::new("keep.saving"),
            Self::Unsaved(why) => Say::new("keep.unsaved").with("why", why.clone()),
            Self::PageOnly => Say::new("keep.page_only"),
        }
    }
}
