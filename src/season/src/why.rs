//! Every figure shown can say why: what went in, where the rule comes from, and whether it was measured, forecast or assumed.

use culture::{Confidence, Range};

use crate::words::{Arg, Say};

/// What a figure rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// Recorded by the grower.
    Measured,
    /// Worked out by a model.
    Forecast,
    /// Taken from the crop reference, a rule of thumb or a default.
    Assumed,
}

impl Basis {
    /// The key of its word.
    pub fn key(self) -> &'static str {
        match self {
            Self::Measured => "basis.measured",
            Self::Forecast => "basis.forecast",
            Self::Assumed => "basis.assumed",
        }
    }
}

/// One link of the chain that made a figure.
#[derive(Debug, Clone, PartialEq)]
pub struct Reason {
    /// In words.
    pub say: Say,
    /// What it rests on.
    pub basis: Basis,
    /// Keys of the crop reference's sources.
    pub sources: Vec<String>,
}

impl Reason {
    /// Something recorded.
    pub fn measured(say: Say) -> Self {
        Self {
            say,
            basis: Basis::Measured,
            sources: Vec::new(),
        }
    }

    /// Something worked out.
    pub fn forecast(say: Say) -> Self {
        Self {
            say,
            basis: Basis::Forecast,
            sources: Vec::new(),
        }
    }

    /// Something assumed.
    pub fn assumed(say: Say) -> Self {
        Self {
            say,
            basis: Basis::Assumed,
            sources: Vec::new(),
        }
    }

    /// With a source of the crop reference.
    #[must_use]
    pub fn from_source(mut self, key: &str) -> Self {
        self.sources.push(key.to_owned());
        self
    }

    /// A figure of the crop reference, or the grower's own in its stead.
    pub fn figure(key: &'static str, range: &Range, value: impl Into<Arg>) -> Self {
        let basis = match range.confidence {
            Confidence::Grower => Basis::Measured,
            _ => Basis::Assumed,
        };
        Self {
            say: Say::new(key).with("n", value),
            basis,
            sources: range.src.clone(),
        }
    }
}

/// A value and the chain that made it.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure<T> {
    /// The value.
    pub value: T,
    /// Why, first link first.
    pub why: Vec<Reason>,
}
