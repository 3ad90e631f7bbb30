//! All that is in beds, in trays and planned, and the stems by week it gives.

use std::collections::BTreeMap;

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;
use agronomy::yields::{around, variation_between_years};
use chrono::NaiveDate;
use culture::Crop;

use super::bed::{BedForecast, by_week, of_planting, stem_figures};
use super::planned::of_planned;
use super::sum::Sum;
use super::timeline::{self, Course, Source};
use super::tray::{TrayForecast, of_sowing};
use crate::almanac::Almanac;
use crate::ids::*;
use crate::state::Space;

/// Share of plants set that live to bloom: 3 to 8 in 100 are lost after planting, common practice.
pub const PLANTED_SURVIVAL: f64 = 0.95;
/// Coefficient of variation of the stand of plants that are not yet in a bed, beyond what the yield varies (from memory of practice).
const STAND_VARIATION: f64 = 0.15;

/// Coefficient of variation of the stems of plants that are not yet in a bed: yield between years and stand together.
pub fn sown_variation() -> f64 {
    variation_between_years(0).hypot(STAND_VARIATION)
}

/// Everything that grows or is to grow, with its forecasts.
#[derive(Debug, Clone, Default)]
pub struct Supply {
    /// What is in beds, in trays and planned, from seed to the last stem.
    pub courses: BTreeMap<Source, Course>,
    /// The trays' forecasts behind it.
    pub trays: BTreeMap<SowingId, TrayForecast>,
    /// The beds' forecasts behind it.
    pub beds: BTreeMap<PlantingId, BedForecast>,
}

impl Supply {
    /// Stems by week of the varieties that a test lets through; the bands are those of [`Sum`].
    pub fn weeks(&self, counts: impl FnMut(&VarietyId) -> bool) -> BTreeMap<IsoWeek, Spread<f64>> {
        let sums = self.sums(counts).into_iter();
        sums.map(|(week, sum)| (week, sum.spread())).collect()
    }

    /// The same, to be summed on.
    pub fn sums(&self, mut counts: impl FnMut(&VarietyId) -> bool) -> BTreeMap<IsoWeek, Sum> {
        let mut sums = BTreeMap::<IsoWeek, Sum>::new();
        for course in self.courses.values().filter(|c| counts(&c.variety)) {
            for (week, stems) in &course.weeks {
                sums.entry(*week).or_default().add(*stems);
            }
        }
        sums
    }
}

fn band(middle: f64) -> Spread<f64> {
    around(middle, sown_variation()).unwrap_or(Spread::exact(middle))
}

/// All that grows and is planned as of a day.
pub fn supply(almanac: &Almanac<'_>, today: NaiveDate) -> Supply {
    let season = almanac.season();
    let mut supply = Supply::default();
    for planting in season.plantings.values() {
        let forecast = of_planting(almanac, planting, today);
        let course = timeline::of_planting(almanac, planting, &forecast, today);
        let source = Source::Planting(planting.id.clone());
        supply.courses.insert(source, course);
        supply.beds.insert(planting.id.clone(), forecast);
    }
    for sowing in season.sowings.values() {
        let forecast = of_sowing(almanac, sowing, today);
        let course = timeline::of_sowing(almanac, sowing, &forecast, today);
        let source = Source::Sowing(sowing.id.clone());
        supply.courses.extend(course.map(|course| (source, course)));
        supply.trays.insert(sowing.id.clone(), forecast);
    }
    for planned in season.planned.values() {
        let course = of_planned(almanac, planned, today);
        let source = Source::Planned(planned.id.clone());
        supply.courses.extend(course.map(|course| (source, course)));
    }
    supply
}

/// Saleable stems by week of plants that are not in a bed yet, with the band of what is only sown or planned. `spared` is the share of
/// years in which frost has not ended a week.
pub(super) fn stems_of(
    almanac: &Almanac<'_>,
    crop: &Crop,
    space: Option<&Space>,
    (bloom, plants): (Spread<NaiveDate>, f64),
    spared: impl Fn(IsoWeek) -> f64,
    today: NaiveDate,
) -> Vec<(IsoWeek, Spread<f64>)> {
    let Some(figures) = stem_figures(crop, almanac.cover(space)) else {
        return Vec::new();
    };
    let total = plants * PLANTED_SURVIVAL * figures.saleable_per_plant();
    by_week(total, &figures.shares, bloom)
        .into_iter()
        .filter(|(week, _)| *week >= IsoWeek::of(today))
        .map(|(week, stems)| (week, band(stems * spared(week))))
        .filter(|(_, stems)| stems.p50 > 1e-9)
        .collect()
}
