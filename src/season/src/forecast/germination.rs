//! How much of a lot's seed to expect up: the crop's usual share, the packet's, what years in store left of it, and what its own
//! trays did.

use std::collections::BTreeMap;

use agronomy::quantity::{Celsius, Chance};
use agronomy::seed_age::{
    Constants, Storage, harrington_factor, initial_viability, rule_of_thumb_after, viability_after,
};
use chrono::{Datelike, NaiveDate};
use culture::Crop;

use crate::almanac::Almanac;
use crate::fact::Keeping;
use crate::ids::*;
use crate::past_trays::PastTray;
use crate::why::Reason;
use crate::words::{Arg, Say};

/// The number of seeds that a packet's test is taken for. Common practice.
const PACKET_SEEDS: u32 = 50;
/// Families whose seed lays in starch; that of the others is oily. From memory of botany.
const STARCHY_FAMILIES: [&str; 5] = [
    "Amaranthaceae",
    "Caryophyllaceae",
    "Fabaceae",
    "Plumbaginaceae",
    "Poaceae",
];
/// The crop's usual rate is worth as many lots as this. From memory of practice, as are the next three.
const CROP_LOTS: f64 = 2.0;
/// With so many seeds a lot's rate is half known.
const SEEDS_HALF_A_LOT: f64 = 20.0;
/// Beside a packet's figure, another lot is worth so many seeds ...
const LOT_SEEDS: f64 = 10.0;
/// ... and all other lots together no more than so many.
const LOTS_SEEDS_MAX: f64 = 30.0;
/// Days of a year in store.
const YEAR_DAYS: f64 = 365.25;

/// What is known of a lot's germination before this sowing: the mean and how many seeds' worth of evidence it is.
#[derive(Debug, Clone, PartialEq)]
pub struct LotGermination {
    /// Share that comes up.
    pub rate: f64,
    /// Seeds' worth of evidence.
    pub weight: f64,
    /// Whether packet, age or trays speak of this very seed, beyond what the crop usually does.
    pub own_seed: bool,
    /// Why.
    pub why: Vec<Reason>,
}

/// Germination to expect of a variety's seed: the crop's usual rate, moved by the packet and its age, then by what this lot did in
/// earlier trays. `besides` is left out of the record: the sowing that asks.
pub fn lot_germination(
    almanac: &Almanac<'_>,
    crop: &Crop,
    variety: &VarietyId,
    lot: Option<&LotId>,
    on: NaiveDate,
    besides: Option<&SowingId>,
) -> Option<LotGermination> {
    let usual = crop.emergence_usual()?;
    let range = crop.figure("germination_pct")?;
    let mut rate = usual.germination;
    let mut weight = usual.weight_seeds;
    let mut why = vec![Reason::figure(
        "why.germination_usual",
        range,
        Arg::Share(rate),
    )];
    let past = Past::of(
        almanac.past_trays(crop.id().as_str()),
        variety,
        lot,
        on,
        besides,
    );
    if past.lots > 0.0 {
        rate = past.moved(rate);
        why.push(Reason::measured(
            Say::new("why.germination_past")
                .with("up", Arg::Number(past.up as i64))
                .with("of", Arg::Number(past.of as i64))
                .with("n", Arg::Share(rate)),
        ));
    }
    let of_crop = why.len();
    let lot_entity = lot.and_then(|id| almanac.season().lots.get(id));
    if let Some(lot) = lot_entity {
        if let Some(packet) = lot.germination.filter(|g| (0.0..=1.0).contains(g)) {
            // A packet is tested in a laboratory; what this bench makes of other lots keeps a say.
            let here = (past.lots * LOT_SEEDS).min(LOTS_SEEDS_MAX);
            weight = f64::from(PACKET_SEEDS);
            rate = (rate * here + packet * weight) / (here + weight);
            why.push(Reason::measured(
                Say::new("why.germination_packet").with("n", Arg::Share(packet)),
            ));
        }
        let years = lot.year.map_or(0, |year| on.year() - year);
        if let (1.., Ok(fresh)) = (years, Chance::new(rate)) {
            let aged = Aged::after(crop, fresh, lot.kept, years.unsigned_abs());
            rate = aged.rate;
            weight = weight.min(10.0);
            why.extend(aged.why);
        }
    }
    // This lot's own trays, or the variety's where the lot is not said; the newest evidence outweighs the packet by its number.
    let (mut up, mut of) = (0.0, 0.0);
    let trays = almanac.past_trays(crop.id().as_str()).iter();
    for tray in trays.filter(|tray| tray.variety == *variety && tray.lot.as_ref() == lot) {
        if besides != Some(&tray.sowing) && tray.counted <= on {
            up += f64::from(tray.up);
            of += f64::from(tray.of);
        }
    }
    if of > 0.0 {
        rate = (rate * weight + up) / (weight + of);
        weight += of;
        why.push(Reason::measured(
            Say::new("why.germination_seen")
                .with("up", Arg::Number(up as i64))
                .with("of", Arg::Number(of as i64))
                .with("n", Arg::Share(rate)),
        ));
    }
    Some(LotGermination {
        rate: rate.clamp(0.01, 0.995),
        weight,
        own_seed: why.len() > of_crop,
        why,
    })
}

/// What this grower's other lots of the crop did.
struct Past {
    /// How many lots, each counted less the fewer seeds it was.
    lots: f64,
    /// Their rates added up, weighted alike.
    rates: f64,
    up: u32,
    of: u32,
}

impl Past {
    fn of(
        trays: &[PastTray],
        variety: &VarietyId,
        lot: Option<&LotId>,
        on: NaiveDate,
        besides: Option<&SowingId>,
    ) -> Self {
        let mut by_lot = BTreeMap::<_, (u32, u32)>::new();
        for tray in trays {
            let own = tray.variety == *variety && tray.lot.as_ref() == lot;
            if !own && besides != Some(&tray.sowing) && tray.counted <= on {
                let sum = by_lot.entry((&tray.variety, &tray.lot)).or_default();
                *sum = (sum.0.saturating_add(tray.up), sum.1.saturating_add(tray.of));
            }
        }
        let mut past = Self {
            lots: 0.0,
            rates: 0.0,
            up: 0,
            of: 0,
        };
        for (up, of) in by_lot.into_values() {
            let seeds = f64::from(of);
            let weight = seeds / (seeds + SEEDS_HALF_A_LOT);
            past.lots += weight;
            past.rates += weight * f64::from(up) / seeds;
            past.up = past.up.saturating_add(up);
            past.of = past.of.saturating_add(of);
        }
        past
    }

    /// The crop's usual rate, moved to what the lots did.
    fn moved(&self, usual: f64) -> f64 {
        (usual * CROP_LOTS + self.rates) / (CROP_LOTS + self.lots)
    }
}

/// What years in store left of a rate.
struct Aged {
    rate: f64,
    why: Vec<Reason>,
}

impl Aged {
    /// By the viability equation where the seed's constants are known and it is kept airtight and cool, else by a rule of thumb. In a
    /// room the seed's water follows the air: the equation, which turns on it, would say more than anyone knows.
    fn after(crop: &Crop, fresh: Chance, kept: Option<Keeping>, years: u32) -> Self {
        kept.filter(|kept| *kept != Keeping::Room)
            .and_then(|kept| {
                Self::by_equation(crop, fresh, kept, years)
                    .or_else(|| Self::by_rule_of_cool_stores(crop, fresh, kept, years))
            })
            .unwrap_or_else(|| {
                let rate = rule_of_thumb_after(fresh, crop.longevity(), years).get();
                let say = Say::new("why.germination_age")
                    .with("years", years)
                    .with("n", Arg::Share(rate));
                Self {
                    rate,
                    why: vec![Reason::assumed(say)],
                }
            })
    }

    /// The share still alive, by Ellis & Roberts (1980). It is of living seed, of which a little less comes up.
    fn by_equation(crop: &Crop, fresh: Chance, kept: Keeping, years: u32) -> Option<Self> {
        let (constants, store) = (crop.viability_constants()?, store(kept, crop)?);
        let rate = alive_after(fresh, &constants, store, years)?;
        let said = Say::new("why.germination_equation")
            .with("years", years)
            .with("kept", Arg::Key(kept_key(kept)))
            .with("n", Arg::Share(rate));
        let sources = crop.figure("viability_ke")?.src.iter();
        let reason = sources.fold(Reason::forecast(said), |reason, key| {
            reason.from_source(key)
        });
        Some(Self {
            rate,
            why: vec![store_assumed(store), reason],
        })
    }

    /// RULE OF THUMB. The usual loss of ordinary dry storage, put off by Harrington's factor for a cooler and drier store. His rules
    /// are not for frozen seed: it is taken to keep as well as in the fridge, and keeps better.
    fn by_rule_of_cool_stores(
        crop: &Crop,
        fresh: Chance,
        kept: Keeping,
        years: u32,
    ) -> Option<Self> {
        let cool = store(Keeping::Cool, crop)?;
        let times = harrington_factor(cool, store(Keeping::Room, crop)?).ok()?;
        let share = crop
            .longevity()
            .kept_per_year()
            .powf(f64::from(years) / times);
        let rate = fresh.get() * share;
        let said = Say::new("why.germination_age_cool")
            .with("years", years)
            .with("kept", Arg::Key(kept_key(kept)))
            .with("times", Arg::Decimal(times, 0))
            .with("n", Arg::Share(rate));
        Some(Self {
            rate,
            why: vec![store_assumed(cool), Reason::assumed(said)],
        })
    }
}

/// What of `fresh` is alive after years in a store. A test of a packet's seeds can't tell all from nearly all: more than it could
/// show is not begun with.
fn alive_after(fresh: Chance, constants: &Constants, store: Storage, years: u32) -> Option<f64> {
    let all = initial_viability(PACKET_SEEDS, PACKET_SEEDS).ok()?;
    let start = if fresh > all { all } else { fresh };
    let days = f64::from(years) * YEAR_DAYS;
    let alive = viability_after(start, constants, store, days).ok()?;
    Some(alive.get())
}

/// What a way of keeping is taken for: the water in the seed, in per cent of its fresh weight, and the temperature. From memory of
/// common practice: a room of 20 °C, a fridge of 5 °C and a freezer of -18 °C; starchy seed of 9 % in the room's air, dried a
/// little to 7 or 6 % before it is sealed. Oily seed holds less in the same air: by the equation of Cromarty, Ellis & Roberts 1982
/// (*The Design of Seed Storage Facilities for Genetic Conservation*, read at second hand) 6 % where starchy seed holds 9, and no
/// more than 5 % where that holds 7, which is as dry as the viability equation goes.
fn store(kept: Keeping, crop: &Crop) -> Option<Storage> {
    let is_starchy = STARCHY_FAMILIES.contains(&crop.family());
    let (starchy_percent, oily_percent, celsius) = match kept {
        Keeping::Room => (9.0, 6.0, 20.0),
        Keeping::Cool => (7.0, 5.0, 5.0),
        Keeping::Freezer => (6.0, 5.0, -18.0),
    };
    let percent = if is_starchy {
        starchy_percent
    } else {
        oily_percent
    };
    Storage::new(percent, Celsius(celsius)).ok()
}

fn store_assumed(store: Storage) -> Reason {
    Reason::assumed(
        Say::new("why.seed_store")
            .with("water", Arg::Share(store.moisture_percent() / 100.0))
            .with("at", store.temperature()),
    )
}

fn kept_key(kept: Keeping) -> &'static str {
    match kept {
        Keeping::Room => "why.kept.room",
        Keeping::Cool => "why.kept.cool",
        Keeping::Freezer => "why.kept.freezer",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fact::SeedLotFact;
    use crate::sample::Sample;
    use crate::why::Basis;

    /// What is expected in February 2027 of a packet of 2025, and why.
    fn two_years(crop: &str, packet: Option<f64>, kept: Option<Keeping>) -> (f64, Vec<Reason>) {
        let mut sample = Sample::new();
        let variety = sample.variety("v", crop, "white");
        let lot = LotId::new("l").unwrap();
        sample.add(SeedLotFact {
            variety: Some(variety.clone()),
            year: Some(2025),
            germination: packet,
            kept,
            ..SeedLotFact::new(lot.clone())
        });
        let on = sample.day("2027-02-01");
        let found = sample.with(|almanac| {
            let crop = almanac.crop(&variety).unwrap();
            lot_germination(almanac, crop, &variety, Some(&lot), on, None).unwrap()
        });
        assert!(
            (found.weight - 10.0).abs() < 1e-9,
            "old seed is little evidence"
        );
        (found.rate, found.why)
    }

    fn keys(why: &[Reason]) -> Vec<&'static str> {
        why.iter().map(|reason| reason.say.key()).collect()
    }

    #[test]
    fn seed_with_constants_ages_by_the_equation_of_its_store() {
        // Celosia, K 4.957 and CW 1.188 (Daniel et al. 2012) with the universal temperature terms; worked out by hand.
        // Fridge: log10 sigma = 4.957 - 1.188 log10 7 - 0.0329 x 5 - 0.000478 x 25 = 3.7766; 5978 days.
        // probit(0.85) = 1.0364; 730.5 / 5978 = 0.1222; 0.9142 is the probit of 0.820.
        let (cool, why) = two_years("celosia_plumosa", Some(0.85), Some(Keeping::Cool));
        assert!((cool - 0.820).abs() < 0.002, "{cool}");
        assert_eq!(
            keys(&why)[1..],
            [
                "why.germination_packet",
                "why.seed_store",
                "why.germination_equation"
            ]
        );
        let last = why.last().unwrap();
        assert_eq!(last.basis, Basis::Forecast);
        assert_eq!(last.sources, ["DANIEL12"]);
        assert_eq!(why[2].basis, Basis::Assumed);
        let (freezer, _) = two_years("celosia_plumosa", Some(0.85), Some(Keeping::Freezer));
        assert!(cool < freezer && freezer <= 0.85, "{freezer}");
    }

    #[test]
    fn seed_without_constants_or_store_ages_by_rule_of_thumb() {
        // Middling seed loses 15 in 100 a year: 0.8 x 0.85^2.
        for (crop, kept) in [
            ("celosia_plumosa", None),
            ("celosia_plumosa", Some(Keeping::Room)),
            ("antirrhinum", None),
            ("antirrhinum", Some(Keeping::Room)),
        ] {
            let (rate, why) = two_years(crop, Some(0.8), kept);
            assert!((rate - 0.578).abs() < 1e-9, "{crop}: {rate}");
            assert_eq!(keys(&why).last(), Some(&"why.germination_age"));
        }
        // Cool and dry, oily seed lives 2 x 2^2.7 = 13 times as long: 0.8 x 0.85^(2 / 13).
        let (cool, why) = two_years("antirrhinum", Some(0.8), Some(Keeping::Cool));
        assert!(
            (cool - 0.8 * 0.85_f64.powf(2.0 / 12.996)).abs() < 1e-4,
            "{cool}"
        );
        assert_eq!(keys(&why).last(), Some(&"why.germination_age_cool"));
        assert!(
            why.iter()
                .skip(2)
                .all(|reason| reason.basis == Basis::Assumed)
        );
        let (freezer, _) = two_years("antirrhinum", Some(0.8), Some(Keeping::Freezer));
        assert!(
            (freezer - cool).abs() < 1e-12,
            "no better than the fridge is promised"
        );
    }

    #[test]
    fn no_store_makes_seed_better_than_its_packet() {
        let sample = Sample::new();
        let (mut known, mut asked) = (0, 0);
        sample.with(|almanac| {
            for crop in almanac.reference().crops() {
                let published = crop.figure("viability_ke").is_some();
                assert_eq!(
                    crop.viability_constants().is_some(),
                    published,
                    "{}",
                    crop.id()
                );
                known += i32::from(published);
                for kept in Keeping::ALL {
                    assert!(
                        store(*kept, crop).is_some(),
                        "{kept:?} is a store that can be"
                    );
                    for rate in [0.0, 0.01, 0.5, 0.85, 0.999, 1.0] {
                        let fresh = Chance::new(rate).unwrap();
                        let mut before = rate;
                        for years in [1, 2, 5, 20, 400] {
                            let aged = Aged::after(crop, fresh, Some(*kept), years);
                            assert!(aged.rate <= before, "{}: {rate}, {years}", crop.id());
                            assert!(aged.rate >= 0.0 && !aged.why.is_empty());
                            before = aged.rate;
                            asked += 1;
                        }
                    }
                }
            }
        });
        assert!(known >= 5 && asked > 1000, "{known}, {asked}");
    }

    #[test]
    fn a_packet_that_says_all_begins_with_nearly_all() {
        // 1 - 1/(4 x 50) in the test of a packet; probit 2.5758 less 0.1222 is 2.4536: 0.993.
        let (all, _) = two_years("celosia_plumosa", Some(1.0), Some(Keeping::Cool));
        assert!((all - 0.9929).abs() < 0.0005, "{all}");
        let (nearly, _) = two_years("celosia_plumosa", Some(0.998), Some(Keeping::Cool));
        assert!((all - nearly).abs() < 1e-12, "no test tells the two apart");
    }

    #[test]
    fn seed_of_a_packet_without_a_share_ages_from_the_usual_one() {
        let (rate, why) = two_years("celosia_plumosa", None, Some(Keeping::Cool));
        assert_eq!(keys(&why).first(), Some(&"why.germination_usual"));
        assert_eq!(keys(&why).last(), Some(&"why.germination_equation"));
        assert!(rate > 0.1 && rate < 0.9, "{rate}");
        for reason in &why {
            assert!(crate::words::has(reason.say.key()), "{}", reason.say.key());
        }
    }
}
