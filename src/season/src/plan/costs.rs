//! What sowings cost, so that the plan can weigh one against another.
//!
//! In units of money that need no name: only their proportions decide. All of it from memory of practice, no source: seed at 10
//! cents, an hour of work at 20, half a minute to a minute and a half of work on a plant from sowing to support, six minutes on a
//! sowing of any size (label, tray, record), a metre of bed with its water and weeding at 1 a week, and at twice that under a
//! tunnel.

use agronomy::climate::Cover;

use crate::almanac::Almanac;
use crate::ids::VarietyId;

/// One seed, where nobody said what a packet costs.
pub(super) const SEED: f64 = 0.1;
/// Work on one plant.
pub(super) const PLANT: f64 = 0.5;
/// Work on a sowing, whatever its size.
pub(super) const SOWING: f64 = 2.0;
/// A metre of a bed 1.2 m wide for a week, in the open and in a tunnel.
const METRE_WEEK: f64 = 1.0;
const TUNNEL_METRE_WEEK: f64 = 2.0;
/// What a stem that is missing counts: more than growing any stem costs.
pub(super) const MISSING: f64 = 10.0;

/// What a seed of a variety costs.
pub(super) fn seed(_almanac: &Almanac<'_>, _variety: &VarietyId) -> f64 {
    SEED
}

/// What a metre of bed costs a week.
pub(super) fn metre_week(cover: Cover) -> f64 {
    match cover {
        Cover::Open => METRE_WEEK,
        Cover::Tunnel => TUNNEL_METRE_WEEK,
    }
}
