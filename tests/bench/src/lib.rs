//! What the measurements need: entries in the mix that a grower records, and a stopwatch that sets each figure beside another of
//! the same run, since machines differ and so does one machine from minute to minute.

pub mod by_chance;
pub mod mix;
pub mod watch;
