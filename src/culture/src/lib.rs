//! The crop reference: culture figures for cut flowers as data, each with its source and confidence, and
//! their loader.
//!
//! The figures are in `data/crops.json` and their sources in `data/sources.json`, which are compiled in.
//! `data/published.json` lists published figures for comparison, with the conditions of each; only the tests
//! read it. This crate reads and checks the data, applies a grower's own figures, and converts them for
//! [`agronomy`]. It makes no forecast and touches no storage.

mod crop;
mod definitions;
mod error;
mod figure;
mod overrides;
mod reference;
mod thermal;
mod wire;
mod words;

pub use crop::{Crop, CropId};
pub use definitions::{Definition, allowed, definition, definitions, unit};
pub use error::CultureError;
pub use figure::{Confidence, Range, Source, SourceStatus, Text};
pub use reference::Reference;
pub use words::{Basis, Hardiness, MatUse, Role, Unit};
