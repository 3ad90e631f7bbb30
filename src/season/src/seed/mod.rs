//! The seed order: what the plan sows, less the seed in hand that is still worth sowing, in whole packets.
//!
//! All of it is reckoned in fresh seed, which is what is bought. A lot in hand counts for as many fresh seeds as give as many
//! seedlings; a sowing whose cells were counted for old seed needs fewer of fresh.

mod in_hand;
mod list;
mod need;
mod packets;

use chrono::NaiveDate;

pub use in_hand::{LEAST_OF_FRESH, LotStanding, LotWorth};
pub use list::{as_csv, as_text, money};
pub use packets::{Packets, Totals};

use crate::almanac::Almanac;
use crate::ids::*;
use crate::plan::Proposal;
use crate::why::{Figure, Reason};
use crate::words::{Arg, Say};

/// Share of the seed needed that is usually bought on top, to sow again after a mishap. Common practice: 10 to 15 in 100.
pub const SPARE_USUAL: f64 = 0.1;

/// Seed of one variety. Numbers are of fresh seed.
#[derive(Debug, Clone, PartialEq)]
pub struct SeedLine {
    /// Which variety.
    pub variety: VarietyId,
    /// Cells of accepted sowings that are not sown yet.
    pub accepted: u32,
    /// Cells of proposals.
    pub proposed: u32,
    /// First day on which any of it is sown; `None` where no sowing has a date.
    pub first_sowing: Option<NaiveDate>,
    /// Seeds needed, without spare.
    pub needed: Figure<u32>,
    /// Seeds on top of them; 0 where none is wanted.
    pub spare: u32,
    /// Its lots in hand, the youngest first.
    pub lots: Vec<LotWorth>,
    /// What the lots count for.
    pub usable: Figure<u32>,
    /// Seeds to order.
    pub to_order: Figure<u32>,
    /// Whole packets of them; `None` where the packet is not known, or nothing is to be ordered.
    pub packets: Option<Packets>,
    /// What is left when all is sown and nothing went wrong; `None` where it can't be known without the packet.
    pub left_over: Option<u32>,
}

impl SeedLine {
    /// Whether not a single lot of it was ever entered, or all are used up.
    pub fn has_no_lot(&self) -> bool {
        self.lots.is_empty()
    }
}

/// What to order.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct SeedOrder {
    /// By the varieties' names.
    pub lines: Vec<SeedLine>,
    /// All of them together.
    pub totals: Totals,
}

/// The seed order for accepted sowings and proposals, as of a day. `spare` is the share bought on top, 0 to 1.
pub fn seed_order(
    almanac: &Almanac<'_>,
    proposals: &[Proposal],
    today: NaiveDate,
    spare: f64,
) -> SeedOrder {
    let sown = in_hand::sown_of_lots(almanac.season());
    let mut lines: Vec<SeedLine> = need::of_varieties(almanac, proposals)
        .into_iter()
        .map(|(variety, need)| {
            let on = need.first.map_or(today, |first| first.max(today));
            let lots = in_hand::lots(almanac, &variety, &sown, on);
            line(almanac, variety, &need, lots, (on, spare))
        })
        .collect();
    lines.sort_by_cached_key(|line| (almanac.variety_name(&line.variety), line.variety.clone()));
    let totals = Totals::of(&lines);
    SeedOrder { lines, totals }
}

fn line(
    almanac: &Almanac<'_>,
    variety: VarietyId,
    need: &need::Need,
    lots: Vec<LotWorth>,
    (on, spare_share): (NaiveDate, f64),
) -> SeedLine {
    let has_old = lots.iter().any(LotWorth::is_discounted);
    let needed = need.in_fresh_seed(almanac, &variety, has_old);
    let spare = share_of(needed.value, spare_share);
    let usable = in_hand::usable(&lots, on);
    let wanted = needed.value.saturating_add(spare);
    let seeds = wanted.saturating_sub(usable.value);
    let mut why = Vec::new();
    if spare > 0 {
        why.push(Reason::assumed(
            Say::new("why.seed_spare")
                .with("n", spare)
                .with("share", Arg::Share(spare_share)),
        ));
    }
    why.push(Reason::forecast(
        Say::new("why.seed_to_order")
            .with("needed", wanted)
            .with("usable", usable.value)
            .with("n", seeds),
    ));
    let packets = Packets::of(almanac, &variety, seeds);
    let bought = match &packets {
        Some(packets) => Some(packets.seeds()),
        None => (seeds == 0).then_some(0),
    };
    let left_over = bought.map(|bought| {
        let there = usable.value.saturating_add(bought);
        there.saturating_sub(needed.value)
    });
    why.extend(packets::why(almanac, &variety, seeds, packets.as_ref()));
    SeedLine {
        accepted: need.accepted,
        proposed: need.proposed,
        first_sowing: need.first,
        needed,
        spare,
        lots,
        usable,
        to_order: Figure { value: seeds, why },
        packets,
        left_over,
        variety,
    }
}

/// A share of a number, rounded up: half a seed is a seed.
fn share_of(n: u32, share: f64) -> u32 {
    // Less a grain, so that 10 in 100 of 50 is 5 and not 6 for want of a bit.
    let part = (f64::from(n) * share.clamp(0.0, 1.0) - 1e-9).ceil();
    part.max(0.0) as u32
}

#[cfg(test)]
mod tests;
