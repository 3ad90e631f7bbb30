//! The numbers behind a flower season: day length, light, climate, degree-days, emergence, sowing counts,
//! seed age, spacing, bloom and yield.
//!
//! Everything here is a pure function of its arguments. This crate never reads a clock, a file or a random
//! number and knows no crop by name: today's date, the crop's figures and the site are parameters, and an
//! impossible input gives an [`AgronomyError`].
//!
//! Units are SI: degrees Celsius, metres, hours, days. Each model names its source. Figures that come from
//! common practice or from memory instead of a source say so in their documentation.

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
mod normal;
pub mod posterior;
pub mod proportion;
pub mod quantity;
pub mod seed_age;
pub mod sowing;
pub mod spacing;
pub mod yields;

pub use error::AgronomyError;
