//! Stems by week, from all that stands in beds, in trays and in the plan.

use std::collections::BTreeMap;

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;
use agronomy::yields::{around, variation_between_years};
use chrono::NaiveDate;

use super::bed::{BedForecast, by_week, of_planting, stem_figures};
use super::planned::of_planned;
use super::sum::Sum;
use super::timing::spared_by_frost;
use super::tray::{TrayForecast, TrayStage, of_sowing};
use crate::almanac::Almanac;
use crate::ids::*;

/// Share of plants set that live to bloom: 3 to 8 in 100 are lost after planting, common practice.
pub const PLANTED_SURVIVAL: f64 = 0.95;
/// Coefficient of variation of the stand of plants that are not yet in a bed, beyond what the yield varies (from memory of practice).
const STAND_VARIATION: f64 = 0.15;

/// Coefficient of variation of the stems of plants that are not yet in a bed: yield between years and stand together.
pub fn sown_variation() -> f64 {
    variation_between_years(0).hypot(STAND_VARIATION)
}

/// What gives the stems.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Source {
    /// Plants in a bed.
    Planting(PlantingId),
    /// Plants in trays.
    Sowing(SowingId),
    /// A planned sowing not yet sown.
    Planned(PlannedId),
}

/// Stems that one source is expected to give.
#[derive(Debug, Clone)]
pub struct Line {
    /// What gives them.
    pub source: Source,
    /// Of which variety.
    pub variety: VarietyId,
    /// Where they grow.
    pub space: Option<SpaceId>,
    /// First bloom.
    pub bloom: Option<Spread<NaiveDate>>,
    /// Saleable stems by week from this week on.
    pub weeks: Vec<(IsoWeek, Spread<f64>)>,
}

/// All expected stems.
#[derive(Debug, Clone, Default)]
pub struct Supply {
    /// By source.
    pub lines: Vec<Line>,
    /// The trays' forecasts behind it.
    pub trays: BTreeMap<SowingId, TrayForecast>,
    /// The beds' forecasts behind it.
    pub beds: BTreeMap<PlantingId, BedForecast>,
}

impl Supply {
    /// Puts a line in the place of the one with the same source; all else stays. A source that gave nothing so far is added.
    pub fn replace(&mut self, line: Line) {
        match self.lines.iter_mut().find(|old| old.source == line.source) {
            Some(old) => *old = line,
            None => self.lines.push(line),
        }
    }

    /// Stems by week of the varieties that a test lets through; the bands are those of [`Sum`].
    pub fn weeks(&self, counts: impl FnMut(&VarietyId) -> bool) -> BTreeMap<IsoWeek, Spread<f64>> {
        let sums = self.sums(counts).into_iter();
        sums.map(|(week, sum)| (week, sum.spread())).collect()
    }

    /// The same, to be summed on.
    pub fn sums(&self, mut counts: impl FnMut(&VarietyId) -> bool) -> BTreeMap<IsoWeek, Sum> {
        let mut sums = BTreeMap::<IsoWeek, Sum>::new();
        for line in self.lines.iter().filter(|line| counts(&line.variety)) {
            for (week, stems) in &line.weeks {
                sums.entry(*week).or_default().add(*stems);
            }
        }
        sums
    }
}

fn band(middle: f64) -> Spread<f64> {
    around(middle, sown_variation()).unwrap_or(Spread::exact(middle))
}

/// All stems expected as of a day.
pub fn supply(almanac: &Almanac<'_>, today: NaiveDate) -> Supply {
    let season = almanac.season();
    let mut supply = Supply::default();
    for planting in season.plantings.values() {
        let forecast = of_planting(almanac, planting, today);
        supply.lines.push(Line {
            source: Source::Planting(planting.id.clone()),
            variety: planting.variety.clone(),
            space: almanac.space_of_bed(&planting.bed).map(|s| s.id.clone()),
            bloom: forecast.bloom,
            weeks: forecast.weeks.clone(),
        });
        supply.beds.insert(planting.id.clone(), forecast);
    }
    for sowing in season.sowings.values() {
        let forecast = of_sowing(almanac, sowing, today);
        if forecast.stage != TrayStage::Ended && !forecast.spare {
            supply.lines.push(Line {
                source: Source::Sowing(sowing.id.clone()),
                variety: sowing.variety.clone(),
                space: forecast.space.clone(),
                bloom: forecast.bloom,
                weeks: stems_of(
                    almanac,
                    &sowing.variety,
                    forecast.space.as_ref(),
                    forecast.bloom,
                    forecast.plants.p50,
                    today,
                ),
            });
        }
        supply.trays.insert(sowing.id.clone(), forecast);
    }
    for planned in season.planned.values() {
        supply
            .lines
            .extend(of_planned(almanac, planned, today).map(|outcome| outcome.line));
    }
    supply
}

/// Saleable stems by week of plants that are not in a bed yet, with the band of what is only sown or planned.
pub(super) fn stems_of(
    almanac: &Almanac<'_>,
    variety: &VarietyId,
    space: Option<&SpaceId>,
    bloom: Option<Spread<NaiveDate>>,
    plants: f64,
    today: NaiveDate,
) -> Vec<(IsoWeek, Spread<f64>)> {
    let space = space.and_then(|id| almanac.space(id));
    let Some(crop) = almanac.crop(variety) else {
        return Vec::new();
    };
    let figures = stem_figures(crop, almanac.cover(space));
    let (Some(figures), Some(bloom)) = (figures, bloom) else {
        return Vec::new();
    };
    let spared = spared_by_frost(almanac, crop, space, bloom.p50);
    let total = plants * PLANTED_SURVIVAL * figures.saleable_per_plant();
    by_week(total, &figures.shares, bloom)
        .into_iter()
        .filter(|(week, _)| *week >= IsoWeek::of(today))
        .map(|(week, stems)| (week, band(stems * spared(week))))
        .filter(|(_, stems)| stems.p50 > 1e-9)
        .collect()
}
