//! The two databases.

/// A database of its own for each book. The demo season is kept apart from the
/// grower's own log, so that entering and leaving it cannot affect the grower's
/// entries.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Book {
    /// The grower's own log.
    #[default]
    Own,
    /// The demo season.
    Demo,
}

impl Book {
    /// The name of the book's database and of its broadcast channel.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Own => "stemtide",
            Self::Demo => "stemtide-demo",
        }
    }
}
