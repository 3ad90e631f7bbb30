//! Weeks: stems as forecast when they were planted, beside those cut.

use std::collections::{BTreeMap, BTreeSet};

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;

use super::{Look, within};
use crate::forecast::{Course, Source, Supply};

/// One week looked back on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WeekRow {
    /// Which.
    pub week: IsoWeek,
    /// Saleable stems, as forecast on the planting days, all plantings together; `None` of less than a stem.
    pub forecast: Option<Spread<f64>>,
    /// Saleable stems cut.
    pub cut: u32,
    /// Of these, from plantings that had a forecast.
    pub cut_of_forecast: u32,
    /// Whether the whole week lies in the span and is past, and cuts were noted to its days or later.
    pub known: bool,
}

impl WeekRow {
    /// Whether the stems lay within the band; `None` of a week that is not known, and without a forecast.
    pub fn held(&self) -> Option<bool> {
        let band = self.forecast?;
        self.known.then(|| within(band, self.cut_of_forecast))
    }
}

/// Weeks with stems forecast or cut.
pub(super) fn rows(look: &Look<'_, '_>, courses: BTreeMap<Source, Course>) -> Vec<WeekRow> {
    let (first, last) = (IsoWeek::of(look.from), IsoWeek::of(look.until));
    let supply = Supply {
        courses,
        ..Supply::default()
    };
    let mut forecast = supply.weeks(|_| true);
    forecast.retain(|_, band| band.p90 >= 1.0);
    let mut cut = BTreeMap::<IsoWeek, (u32, u32)>::new();
    for planting in look.plantings() {
        let forecast = supply
            .courses
            .contains_key(&Source::Planting(planting.id.clone()));
        for record in look.cuts(planting) {
            let sum = cut.entry(IsoWeek::of(record.date)).or_default();
            sum.0 = sum.0.saturating_add(record.stems);
            if forecast {
                sum.1 = sum.1.saturating_add(record.stems);
            }
        }
    }
    let weeks: BTreeSet<IsoWeek> = forecast.keys().chain(cut.keys()).copied().collect();
    weeks
        .into_iter()
        .filter(|week| (first..=last).contains(week))
        .map(|week| {
            let (all, of_forecast) = cut.get(&week).copied().unwrap_or_default();
            WeekRow {
                week,
                forecast: forecast.get(&week).copied(),
                cut: all,
                cut_of_forecast: of_forecast,
                known: look.knows(week),
            }
        })
        .collect()
}
