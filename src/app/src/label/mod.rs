//! Tray labels: what stands on one, how it is laid out, which sheets there are, and the code that opens the tray.
//!
//! All of it is plain reckoning in millimetres; the screen only draws it.

pub mod address;
pub mod code;
pub mod composition;
pub mod stock;
pub mod told;
mod type_width;

#[cfg(test)]
pub(crate) mod sample;
