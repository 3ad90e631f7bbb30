//! Planning by numbers: which sowings cover the stems wanted at least cost inside the room there is, how surely they do, and where
//! they lie in the beds.
//!
//! Weeks, plants, trays and metres come in as plain numbers and go out as such. This room never knows a crop by name, never reads a
//! clock or storage, and has no randomness of its own: time and seeds are parameters.

pub mod chance;
pub mod layout;
