//! A figure or note, with its sources and confidence.

/// The confidence of a figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Confidence {
    /// A source that states it was read; still often a single site or line.
    Sourced,
    /// Computed from other figures.
    Derived,
    /// Customary in the trade, without a single source.
    CommonPractice,
    /// From memory, not or only partly looked up.
    Memory,
    /// The grower's own figure.
    Grower,
}

/// A figure as a range around its typical value, in the unit of its name.
#[derive(Debug, Clone, PartialEq)]
pub struct Range {
    /// Low end of the usual range, if known.
    pub low: Option<f64>,
    /// Typical value.
    pub typical: f64,
    /// High end of the usual range, if known.
    pub high: Option<f64>,
    /// Keys of its sources; see [`Reference::source`](crate::Reference::source).
    pub src: Vec<String>,
    /// Its confidence.
    pub confidence: Confidence,
}

impl Range {
    /// Low, typical and high; an unknown end is the typical value.
    pub fn spread(&self) -> (f64, f64, f64) {
        (
            self.low.unwrap_or(self.typical),
            self.typical,
            self.high.unwrap_or(self.typical),
        )
    }
}

/// A note of the reference, in English.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Text {
    /// The note.
    pub text: String,
    /// Keys of its sources.
    pub src: Vec<String>,
    /// Its confidence.
    pub confidence: Confidence,
}

/// How far a source was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum SourceStatus {
    /// The page or abstract was read.
    Read,
    /// Read in part, otherwise from memory.
    PartRead,
    /// From memory only.
    Memory,
    /// No source: trade practice.
    Practice,
    /// No source: computed from other figures.
    Derived,
}

/// A source of figures.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// Title, publisher and year, as far as known.
    pub reference: String,
    /// How far it was read.
    pub status: SourceStatus,
}
