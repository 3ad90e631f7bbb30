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
use super::timeline::{self, Course, Inputs, Source};
use super::tray::{TrayForecast, of_sowing};
use crate::almanac::Almanac;
use crate::ids::*;
use crate::state::{Season, Space};

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
    let mut supply = Supply::default();
    for source in sources(almanac.season()) {
        supply.work_out(almanac, source, today);
    }
    supply
}

/// The same, where `known` is the forecast of an earlier state of the season (`before`) on the same day: what rests on the same records
/// as then is taken over.
pub fn supply_after(
    (before, known): (&Almanac<'_>, &Supply),
    almanac: &Almanac<'_>,
    today: NaiveDate,
) -> Supply {
    if !timeline::same_set_up(before.season(), almanac.season()) {
        return supply(almanac, today);
    }
    let mut supply = Supply::default();
    for source in sources(almanac.season()) {
        if Inputs::of(before, &source) == Inputs::of(almanac, &source) {
            supply.take_over(known, source);
        } else {
            supply.work_out(almanac, source, today);
        }
    }
    supply
}

fn sources(season: &Season) -> impl Iterator<Item = Source> {
    let plantings = season.plantings.keys().cloned().map(Source::Planting);
    let sowings = season.sowings.keys().cloned().map(Source::Sowing);
    let planned = season.planned.keys().cloned().map(Source::Planned);
    plantings.chain(sowings).chain(planned)
}

impl Supply {
    fn work_out(&mut self, almanac: &Almanac<'_>, source: Source, today: NaiveDate) {
        let season = almanac.season();
        let course = match &source {
            Source::Planting(id) => season.plantings.get(id).map(|planting| {
                let forecast = of_planting(almanac, planting, today);
                let course = timeline::of_planting(almanac, planting, &forecast, today);
                self.beds.insert(id.clone(), forecast);
                course
            }),
            Source::Sowing(id) => season.sowings.get(id).and_then(|sowing| {
                let forecast = of_sowing(almanac, sowing, today);
                let course = timeline::of_sowing(almanac, sowing, &forecast, today);
                self.trays.insert(id.clone(), forecast);
                course
            }),
            Source::Planned(id) => {
                let planned = season.planned.get(id);
                planned.and_then(|planned| of_planned(almanac, planned, today))
            }
        };
        self.courses.extend(course.map(|course| (source, course)));
    }

    fn take_over(&mut self, known: &Self, source: Source) {
        match &source {
            Source::Planting(id) => self.beds.extend(known.beds.get_key_value(id).map(copied)),
            Source::Sowing(id) => self.trays.extend(known.trays.get_key_value(id).map(copied)),
            Source::Planned(_) => {}
        }
        let course = known.courses.get_key_value(&source);
        self.courses.extend(course.map(copied));
    }
}

fn copied<K: Clone, V: Clone>((key, value): (&K, &V)) -> (K, V) {
    (key.clone(), value.clone())
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
