//! A figure or a note, with where it comes from and how far to trust it.

/// How far a figure can be trusted, and why.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Confidence {
    /// A source that states it was read. Often one site or one line all the same.
    Sourced,
    /// Arithmetic on other figures.
    Derived,
    /// Usual rule of the trade, without a single source.
    CommonPractice,
    /// Recalled, not looked up again, or only in part.
    Memory,
    /// The grower's own figure.
    Grower,
}

/// A figure as a range around its typical value, in the unit its name carries.
#[derive(Debug, Clone, PartialEq)]
pub struct Range {
    /// Low end of what is usual, where known.
    pub low: Option<f64>,
    /// The value to start from.
    pub typical: f64,
    /// High end of what is usual, where known.
    pub high: Option<f64>,
    /// Keys of its sources; see [`Reference::source`](crate::Reference::source).
    pub src: Vec<String>,
    /// How far to trust it.
    pub confidence: Confidence,
}

impl Range {
    /// Low, typical and high, the typical value standing in for an unknown end.
    pub fn spread(&self) -> (f64, f64, f64) {
        (
            self.low.unwrap_or(self.typical),
            self.typical,
            self.high.unwrap_or(self.typical),
        )
    }
}

/// A note of the reference, in English trade words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Text {
    /// The note.
    pub text: String,
    /// Keys of its sources.
    pub src: Vec<String>,
    /// How far to trust it.
    pub confidence: Confidence,
}

/// What became of a source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum SourceStatus {
    /// The page or abstract was read.
    Read,
    /// Read in part; the rest recalled.
    PartRead,
    /// Recalled only.
    Memory,
    /// No source: practice of the trade.
    Practice,
    /// No source: arithmetic on other figures.
    Derived,
}

/// A source that figures refer to by key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// Its title, publisher and year, as far as known.
    pub reference: String,
    /// Whether it was read.
    pub status: SourceStatus,
}
