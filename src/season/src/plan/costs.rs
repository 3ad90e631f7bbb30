//! What sowings cost, so that the plan can weigh one against another.
//!
//! In units of money that need no name: only their proportions decide. Packets cost what the grower says; all the rest is from memory
//! of practice, no source: other seed at 10 cents, an hour of work at 20, half a minute to a minute and a half of work on a plant from sowing to support, six minutes on a
//! sowing of any size (label, tray, record), a metre of bed with its water and weeding at 1 a week, and at twice that under a
//! tunnel.

use agronomy::climate::Cover;

use crate::almanac::Almanac;
use crate::ids::VarietyId;

/// One seed, where nobody said what a packet costs.
const SEED: f64 = 0.1;
/// Work on one plant.
pub(super) const PLANT: f64 = 0.5;
/// Work on a sowing, whatever its size.
pub(super) const SOWING: f64 = 2.0;
/// A metre of a bed 1.2 m wide for a week, in the open and in a tunnel.
const METRE_WEEK: f64 = 1.0;
const TUNNEL_METRE_WEEK: f64 = 2.0;
/// What a stem that is missing counts: more than growing any stem costs.
pub(super) const MISSING: f64 = 10.0;

/// What a seed of a variety costs: as its packet does, where the grower said so.
pub(super) fn seed(almanac: &Almanac<'_>, variety: &VarietyId) -> f64 {
    let packet = almanac.variety(variety).and_then(|v| {
        v.packet_seeds
            .filter(|seeds| *seeds > 0)
            .zip(v.packet_price)
    });
    packet.map_or(SEED, |(seeds, price)| price.max(0.0) / f64::from(seeds))
}

/// What a metre of bed costs a week.
pub(super) fn metre_week(cover: Cover) -> f64 {
    match cover {
        Cover::Open => METRE_WEEK,
        Cover::Tunnel => TUNNEL_METRE_WEEK,
    }
}
