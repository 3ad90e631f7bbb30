//! Plantings: bloom and stems as forecast on the planting day, and as they came.

use std::collections::BTreeMap;

use agronomy::quantity::Spread;
use chrono::NaiveDate;

use super::{Look, as_planted, within};
use crate::almanac::Almanac;
use crate::forecast::{Course, Source, of_planting};
use crate::ids::*;
use crate::space::planting_metres;
use crate::state::Planting;

/// Days of a week.
const WEEK_DAYS: f64 = 7.0;

/// One planting looked back on.
#[derive(Debug, Clone, PartialEq)]
pub struct PlantingRow {
    /// Which.
    pub planting: PlantingId,
    /// Of which variety.
    pub variety: VarietyId,
    /// In which bed.
    pub bed: BedId,
    /// In which space.
    pub space: Option<SpaceId>,
    /// When it was planted, or sown into the bed.
    pub date: NaiveDate,
    /// Plants set.
    pub plants: u32,
    /// Plants that were not lost.
    pub standing: u32,
    /// Whether it is cleared, or its flush is past.
    pub over: bool,
    /// First bloom as forecast on the planting day; `None` without figures or a climate, and for plants that bloomed before the
    /// span.
    pub bloom: Option<Spread<NaiveDate>>,
    /// First bloom as seen: the first cut, or first colour and the days that usually follow.
    pub first: Option<NaiveDate>,
    /// Saleable stems as forecast on the planting day; `None` as for `bloom`.
    pub forecast: Option<Spread<f64>>,
    /// Saleable stems cut in the span.
    pub cut: u32,
    /// Culls in the span.
    pub culls: u32,
    /// Metres of bed; `None` where the bed's width is not said.
    pub metres: Option<f64>,
    /// Weeks it stood in the bed, of those up to the end of the span.
    pub bed_weeks: f64,
    /// Money for its stems, where the price is known.
    pub returns: Option<f64>,
}

impl PlantingRow {
    /// Days by which first bloom came after the middle of its forecast; before it, below zero.
    pub fn late_days(&self) -> Option<i64> {
        Some((self.first? - self.bloom?.p50).num_days())
    }

    /// Whether first bloom lay within the band of its forecast.
    pub fn bloom_held(&self) -> Option<bool> {
        let bloom = self.bloom?;
        Some((bloom.p10..=bloom.p90).contains(&self.first?))
    }

    /// Whether the stems lay within the band of their forecast. Only of plantings that are over and were cut: where no cut was
    /// noted, nobody knows what they gave.
    pub fn stems_held(&self) -> Option<bool> {
        let known = self.over && self.cut > 0;
        self.forecast
            .filter(|_| known)
            .map(|band| within(band, self.cut))
    }

    /// Saleable stems a plant set.
    pub fn per_plant(&self) -> Option<f64> {
        (self.plants > 0).then(|| f64::from(self.cut) / f64::from(self.plants))
    }

    /// Saleable stems a metre of bed.
    pub fn per_metre(&self) -> Option<f64> {
        self.metres.map(|metres| f64::from(self.cut) / metres)
    }

    /// Share of the stems cut that were culls.
    pub fn cull_share(&self) -> Option<f64> {
        let all = f64::from(self.cut) + f64::from(self.culls);
        (all > 0.0).then(|| f64::from(self.culls) / all)
    }

    /// Money for a metre of bed and week.
    pub fn returns_per_bed_week(&self) -> Option<f64> {
        let bed_weeks = self.metres? * self.bed_weeks;
        Some(self.returns? / bed_weeks).filter(|money| money.is_finite())
    }
}

/// The rows, and the stems by week that were forecast on the planting days.
pub(super) fn rows(
    look: &Look<'_, '_>,
    price: &dyn Fn(&VarietyId) -> Option<f64>,
) -> (Vec<PlantingRow>, BTreeMap<Source, Course>) {
    // On a planting day nobody knows the weather to come.
    let mut unmeasured = look.almanac.season().clone();
    unmeasured.temperatures.clear();
    let then = Almanac::new(&unmeasured, look.almanac.reference());
    let mut courses = BTreeMap::new();
    let rows = look
        .plantings()
        .into_iter()
        .map(|planting| row(look, &then, planting, price, &mut courses))
        .collect();
    (rows, courses)
}

fn row(
    look: &Look<'_, '_>,
    then: &Almanac<'_>,
    planting: &Planting,
    price: &dyn Fn(&VarietyId) -> Option<f64>,
    courses: &mut BTreeMap<Source, Course>,
) -> PlantingRow {
    let almanac = look.almanac;
    let space = almanac.space_of_bed(&planting.bed).map(|s| s.id.clone());
    let bloomed_before = planting.first_cut().is_some_and(|cut| cut < look.from);
    let known = (!bloomed_before)
        .then(|| of_planting(then, &as_planted(planting, |_| ()), planting.date))
        .filter(|forecast| forecast.bloom.is_some());
    let forecast = known
        .as_ref()
        .map(|known| known.total)
        .filter(|total| total.p50 > 0.0);
    if let Some(known) = known.as_ref().filter(|_| forecast.is_some()) {
        let course = Course::of_stems(planting.variety.clone(), known.weeks.clone());
        courses.insert(Source::Planting(planting.id.clone()), course);
    }
    let (cut, culls) = look.cuts(planting).fold((0u32, 0u32), |sum, cut| {
        (
            sum.0.saturating_add(cut.stems),
            sum.1.saturating_add(cut.culls),
        )
    });
    let end = planting.finished.unwrap_or(look.until).min(look.until);
    PlantingRow {
        planting: planting.id.clone(),
        variety: planting.variety.clone(),
        bed: planting.bed.clone(),
        space,
        date: planting.date,
        plants: planting.plants,
        standing: planting.standing(),
        over: is_over(look, planting),
        bloom: known.and_then(|known| known.bloom),
        first: first_bloom_seen(almanac, planting).filter(|date| look.holds(*date)),
        forecast,
        cut,
        culls,
        metres: almanac
            .bed(&planting.bed)
            .map(|bed| planting_metres(almanac, bed, planting))
            .filter(|metres| *metres > 0.0),
        bed_weeks: (end - planting.date).num_days().max(0) as f64 / WEEK_DAYS,
        returns: price(&planting.variety).map(|money| money * f64::from(cut)),
    }
}

/// Whether a planting gives no more: cleared by the end of the span, or cut, and forecast to give less than a stem a week by the
/// last day for which cuts are known.
pub(super) fn is_over(look: &Look<'_, '_>, planting: &Planting) -> bool {
    let cleared = planting.finished.is_some_and(|date| date <= look.until);
    let outlook = || of_planting(look.almanac, planting, look.noted);
    cleared
        || (look.cuts(planting).next().is_some()
            && look.almanac.crop(&planting.variety).is_some()
            && outlook().last_week.is_none())
}

/// First bloom: the day of the first cut, else first colour and the days that usually follow.
pub(super) fn first_bloom_seen(almanac: &Almanac<'_>, planting: &Planting) -> Option<NaiveDate> {
    planting.first_cut().or_else(|| {
        let colour = planting.first_colour?;
        of_planting(almanac, planting, colour)
            .bloom
            .map(|bloom| bloom.p50)
    })
}
