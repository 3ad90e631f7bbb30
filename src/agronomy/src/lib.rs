//! The numbers behind a flower season: day length, light, climate, degree-days,
//! emergence, sowing counts, seed age, spacing, bloom and yield.
//!
//! Everything here is a pure function of its arguments. This crate never reads
//! a clock, a file or a random number, knows no crop by name and speaks no
//! human language: today's date, the crop's figures and the site come in as
//! parameters, and what cannot be answered comes back as an [`AgronomyError`].
//!
//! Units are SI throughout: degrees Celsius, metres, hours, days. Each model
//! names its source; where a figure is common practice or recalled rather than
//! read in a source, its documentation says so.

pub mod bloom;
pub mod climate;
mod counting;
mod curve;
pub mod daylength;
mod days;
pub mod degree_days;
pub mod emergence;
pub mod error;
pub mod frost;
pub mod iso_week;
pub mod keeping;
pub mod light;
pub mod posterior;
mod probit;
pub mod proportion;
pub mod quantity;
pub mod seed_age;
pub mod sowing;
pub mod spacing;
pub mod yields;

pub use error::AgronomyError;
