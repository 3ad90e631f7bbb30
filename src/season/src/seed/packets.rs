//! Whole packets, what they cost, and all of it together.

use crate::almanac::Almanac;
use crate::ids::*;
use crate::seed::{SeedLine, money};
use crate::why::Reason;
use crate::words::Say;

/// Whole packets of one variety.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Packets {
    /// How many.
    pub number: u32,
    /// Seeds in each.
    pub size: u32,
    /// Price of each in the grower's own money; `None` where not known.
    pub price: Option<f64>,
}

impl Packets {
    /// Packets that hold so many seeds; `None` for no seeds, or where the packet's size is not known.
    pub(super) fn of(almanac: &Almanac<'_>, variety: &VarietyId, seeds: u32) -> Option<Self> {
        let variety = almanac.variety(variety)?;
        let size = variety.packet_seeds.filter(|size| *size > 0)?;
        (seeds > 0).then_some(Self {
            number: seeds.div_ceil(size),
            size,
            price: variety.packet_price,
        })
    }

    /// Seeds in all of them.
    pub fn seeds(&self) -> u32 {
        self.number.saturating_mul(self.size)
    }

    /// What all of them cost; `None` where the price is not known.
    pub fn cost(&self) -> Option<f64> {
        Some(self.price? * f64::from(self.number))
    }
}

/// The links from seeds to packets and cost.
pub(super) fn why(
    almanac: &Almanac<'_>,
    variety: &VarietyId,
    seeds: u32,
    packets: Option<&Packets>,
) -> Vec<Reason> {
    let Some(packets) = packets else {
        let is_known = almanac
            .variety(variety)
            .is_some_and(|v| v.packet_seeds.is_some());
        let is_missing = seeds > 0 && !is_known;
        let say = is_missing.then(|| Reason::assumed(Say::new("why.packet_not_known")));
        return say.into_iter().collect();
    };
    let mut why = vec![Reason::measured(
        Say::new("why.packets")
            .with("n", packets.number)
            .with("size", packets.size)
            .with("all", packets.seeds()),
    )];
    why.push(match (packets.price, packets.cost()) {
        (Some(price), Some(cost)) => Reason::measured(
            Say::new("why.packet_cost")
                .with("n", packets.number)
                .with("price", money(price))
                .with("cost", money(cost)),
        ),
        _ => Reason::assumed(Say::new("why.price_not_known")),
    });
    why
}

/// All of an order together. What is not known is named, and not counted as nothing.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Totals {
    /// Seeds to order.
    pub seeds: u32,
    /// Packets of the varieties whose packet is known.
    pub packets: u32,
    /// Cost of the packets whose price is known, in the grower's own money; `None` when no price is known.
    pub cost: Option<f64>,
    /// Varieties to order whose packet size is not known.
    pub without_packet: Vec<VarietyId>,
    /// Varieties to order whose price is not known, those without a packet size included.
    pub without_price: Vec<VarietyId>,
    /// Varieties of the plan without a seed lot in hand.
    pub without_lot: Vec<VarietyId>,
}

impl Totals {
    pub(super) fn of(lines: &[SeedLine]) -> Self {
        let mut totals = Self::default();
        for line in lines {
            if line.has_no_lot() {
                totals.without_lot.push(line.variety.clone());
            }
            let seeds = line.to_order.value;
            if seeds == 0 {
                continue;
            }
            totals.seeds = totals.seeds.saturating_add(seeds);
            match &line.packets {
                Some(packets) => totals.packets = totals.packets.saturating_add(packets.number),
                None => totals.without_packet.push(line.variety.clone()),
            }
            match line.packets.and_then(|packets| packets.cost()) {
                Some(cost) => totals.cost = Some(totals.cost.unwrap_or(0.0) + cost),
                None => totals.without_price.push(line.variety.clone()),
            }
        }
        totals
    }
}
