//! What plantings and trays of a season say of figures.

use std::collections::{BTreeMap, BTreeSet};

use agronomy::bloom::StageKnown;
use agronomy::bloom::{BloomFigures, first_bloom, planting_for_bloom};
use agronomy::climate::Cover;
use chrono::{Datelike, NaiveDate};

use crate::almanac::Almanac;
use crate::forecast::{of_planting, shifted, stem_figures};
use crate::ids::*;
use crate::review::beds::{first_bloom_seen, is_over};
use crate::review::lots::by_lot;
use crate::review::{Look, as_planted};
use crate::state::Planting;

/// The way to bloom is looked for between these, as times what was reckoned with.
const WAY: (f64, f64) = (0.3, 3.0);
/// A planting of so many plants says half as much as a large one (from memory of practice).
const PLANTS_HALF: f64 = 10.0;
/// A first bud tells bloom half as well as bloom itself (from memory of practice).
const BUD_WEIGHT: f64 = 0.5;

/// Something seen, as times what was reckoned with.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ratio {
    pub(super) times: f64,
    /// Of a whole planting, 0 to 1.
    pub(super) weight: f64,
    pub(super) plants: u32,
}

/// So many of so many.
#[derive(Debug, Clone, Copy)]
pub(super) struct Share {
    pub(super) did: u32,
    pub(super) of: u32,
}

/// Records by variety.
#[derive(Debug, Default)]
pub(super) struct Records {
    pub(super) stems: BTreeMap<VarietyId, Vec<Ratio>>,
    pub(super) tunnel: BTreeMap<VarietyId, Vec<Share>>,
    pub(super) field: BTreeMap<VarietyId, Vec<Share>>,
    pub(super) germination: BTreeMap<VarietyId, Vec<Share>>,
    pub(super) bloom: BTreeMap<VarietyId, Vec<Ratio>>,
}

impl Records {
    pub(super) fn of(look: &Look<'_, '_>) -> Self {
        let mut records = Self::default();
        for planting in look.plantings() {
            // What bloomed before the span was learned from then.
            if planting.first_cut().is_some_and(|cut| cut < look.from) {
                continue;
            }
            records.take_bloom(look, planting);
            if is_over(look, planting) {
                records.take_stems(look, planting);
            }
        }
        for ((variety, lot), trays) in by_lot(look) {
            let season = look.almanac.season();
            let packed = lot
                .and_then(|lot| season.lots.get(&lot))
                .and_then(|lot| lot.year);
            // Old seed says nothing of what fresh seed does.
            let fresh = trays.iter().filter(|tray| {
                let sown = season.sowings.get(&tray.sowing).map(|s| s.date.year());
                packed.is_none_or(|packed| sown.is_some_and(|sown| sown <= packed))
            });
            let seen = fresh.fold(Share { did: 0, of: 0 }, |sum, tray| Share {
                did: sum.did.saturating_add(tray.up),
                of: sum.of.saturating_add(tray.of),
            });
            if seen.of > 0 {
                records.germination.entry(variety).or_default().push(seen);
            }
        }
        records
    }

    pub(super) fn varieties(&self) -> BTreeSet<&VarietyId> {
        let shares = self.tunnel.keys().chain(self.field.keys());
        let ratios = self.stems.keys().chain(self.bloom.keys());
        shares
            .chain(self.germination.keys())
            .chain(ratios)
            .collect()
    }

    /// Stems cut beside those that the standing plants were forecast to give, frost included. Where no cull was noted, all stems
    /// are taken as saleable ones: many growers do not count what they leave.
    fn take_stems(&mut self, look: &Look<'_, '_>, planting: &Planting) {
        let almanac = look.almanac;
        let (stems, culls) = look.cuts(planting).fold((0u32, 0u32), |sum, cut| {
            (
                sum.0.saturating_add(cut.stems),
                sum.1.saturating_add(cut.culls),
            )
        });
        let cover = almanac.cover(almanac.space_of_bed(&planting.bed));
        let figures = almanac
            .crop(&planting.variety)
            .and_then(|crop| stem_figures(crop, cover));
        let Some(figures) = figures.filter(|_| stems > 0 && planting.standing() > 0) else {
            return;
        };
        let of_all = f64::from(stems) + f64::from(culls);
        let young = as_planted(planting, |young| {
            young.lost = planting.lost;
            young.pinched = planting.pinched;
        });
        let saleable = of_planting(almanac, &young, planting.date).total.p50;
        let (seen, expected) = if culls == 0 {
            (f64::from(stems), saleable)
        } else {
            (of_all, saleable / figures.marketable)
        };
        let times = seen / expected;
        if times.is_finite() && times > 0.0 {
            let plants = f64::from(planting.standing());
            let ratio = Ratio {
                times,
                weight: plants / (plants + PLANTS_HALF),
                plants: planting.standing(),
            };
            let of = self.stems.entry(planting.variety.clone());
            of.or_default().push(ratio);
        }
        if culls > 0 {
            let by_cover = match cover {
                Cover::Tunnel => &mut self.tunnel,
                Cover::Open => &mut self.field,
            };
            let of = by_cover.entry(planting.variety.clone());
            of.or_default().push(Share {
                did: stems,
                of: stems.saturating_add(culls),
            });
        }
    }

    fn take_bloom(&mut self, look: &Look<'_, '_>, planting: &Planting) {
        let bloom = first_bloom_seen(look.almanac, planting).map(|date| (date, 1.0));
        let bud = || {
            let seen = planting.visible_bud?;
            let outlook = of_planting(look.almanac, planting, seen);
            Some((outlook.bloom?.p50, BUD_WEIGHT))
        };
        let Some((date, weight)) = bloom.or_else(bud).filter(|(date, _)| look.holds(*date)) else {
            return;
        };
        if let Some(times) = way_to(look.almanac, planting, date) {
            let of = self.bloom.entry(planting.variety.clone());
            of.or_default().push(Ratio {
                times,
                weight,
                plants: planting.plants,
            });
        }
    }
}

/// The way to bloom that a planting needed until `seen`, as times the way that its figures have, in the weather as it was.
fn way_to(almanac: &Almanac<'_>, planting: &Planting, seen: NaiveDate) -> Option<f64> {
    let variety = almanac.variety(&planting.variety)?;
    let figures = almanac
        .crop(&planting.variety)?
        .bloom_figures(variety.group)?;
    let climate = almanac.climate().ok()?;
    let cover = almanac.cover(almanac.space_of_bed(&planting.bed));
    let forecast = |keep: fn(&Planting, &mut Planting)| {
        let young = as_planted(planting, |young| keep(planting, young));
        let bloom = of_planting(almanac, &young, planting.date).bloom?;
        Some(bloom.p50)
    };
    let expected = forecast(|_, _| ())?;
    // A pinch puts bloom off by days, and is no part of the way.
    let pinched = forecast(|planting, young| young.pinched = planting.pinched)?;
    let seen = shifted(seen, -(pinched - expected).num_days());
    if seen <= planting.date {
        return None;
    }
    // The forecast's own start is found again from where it leads.
    let start = planting_for_bloom(&figures, expected, climate, cover).ok()?;
    let least = WAY.0.max(0.2 / figures.line_factor);
    let most = WAY.1.min(5.0 / figures.line_factor);
    let blooms_by = |times: f64| {
        let line = BloomFigures {
            line_factor: figures.line_factor * times,
            ..figures
        };
        first_bloom(&line, start, climate, cover, StageKnown::Planted)
            .ok()
            .map(|bloom| bloom.p50)
    };
    // The shortest way that leads to a day or later. A way whose end is not found leads later than any.
    let shortest = |day: NaiveDate| {
        let (mut short, mut enough) = (least, most);
        while enough - short > 1e-4 {
            let middle = f64::midpoint(short, enough);
            if blooms_by(middle).is_none_or(|bloom| bloom >= day) {
                enough = middle;
            } else {
                short = middle;
            }
        }
        f64::midpoint(short, enough)
    };
    // All ways between this day and the next lead to it.
    Some(f64::midpoint(shortest(seen), shortest(shifted(seen, 1))))
}
