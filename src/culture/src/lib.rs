//! The crop reference: culture figures for cut flowers, each with its source
//! and how far to trust it, as data, and their loader.
//!
//! The figures live in `data/crops.json`, which is the source of truth and is
//! compiled in. This crate only reads and checks them, lays a grower's own
//! figures over them, and hands them to [`agronomy`] in its terms. It makes no
//! forecast, touches no storage and speaks no human language beyond the
//! reference's own trade notes.

mod crop;
mod error;
mod figure;
mod limits;
mod overrides;
mod reference;
mod wire;
mod words;

pub use crop::{Crop, CropId};
pub use error::CultureError;
pub use figure::{Confidence, Range, Source, SourceStatus, Text};
pub use limits::allowed;
pub use reference::Reference;
pub use words::{Basis, Hardiness, MatUse, Role, Unit};
