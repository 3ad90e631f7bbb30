//! The crop reference: culture figures for cut flowers, each with its source
//! and how far to trust it, as data, and their loader.
//!
//! The figures live in `data/crops.json` and their sources in
//! `data/sources.json`, which are the source of truth and are compiled in.
//! `data/published.json` lists the published figures they were held against, with
//! the conditions each was found under; only the tests read it. This crate only reads and checks them, lays a grower's own
//! figures over them, and hands them to [`agronomy`] in its terms. It makes no
//! forecast, touches no storage and speaks no human language beyond the
//! reference's own trade notes.

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
