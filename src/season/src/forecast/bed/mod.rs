//! A planting's outlook: when it blooms, how many stems, in which weeks.

mod flush_told;
mod grades;
mod rest;
mod stems;
#[cfg(test)]
mod tests;
mod when;

use agronomy::bloom::StageKnown;
use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;
use chrono::NaiveDate;

use super::shifted;
use super::timing::spared_by_frost;
use crate::almanac::Almanac;
use crate::ids::*;
use crate::state::Planting;
use crate::why::Reason;
use crate::words::{Arg, Say};
pub use flush_told::FlushTold;
use flush_told::flush_told;
pub use grades::{GradeShares, grade_shares};
use rest::{Rest, rest};
pub use stems::{StemFigures, stem_figures};
use when::{When, when};

/// What follows from a planting's records.
#[derive(Debug, Clone)]
pub struct BedForecast {
    /// Which planting.
    pub planting: PlantingId,
    /// First bloom.
    pub bloom: Option<Spread<NaiveDate>>,
    /// What the bloom date rests on.
    pub known: StageKnown,
    /// Whether stems were cut already.
    pub cutting: bool,
    /// The flush that the cuts show.
    pub flush: Option<FlushTold>,
    /// Saleable stems over the season, those cut included.
    pub total: Spread<f64>,
    /// Saleable stems cut so far.
    pub cut: u32,
    /// Saleable stems still to come, by week from this week on.
    pub weeks: Vec<(IsoWeek, Spread<f64>)>,
    /// Last week with stems, if it goes as forecast.
    pub last_week: Option<IsoWeek>,
    /// The chain behind bloom and stems.
    pub why: Vec<Reason>,
}

/// Expected stems by week from a first bloom that is not known to the day: the flush weighed over its early, middle and late
/// date.
pub(crate) fn by_week(total: f64, shares: &[f64], bloom: Spread<NaiveDate>) -> Vec<(IsoWeek, f64)> {
    // Three points that keep the mean and the spread of a normal given by its 10 and 90 in 100 (Pearson-Tukey weights, from
    // memory).
    let points = [(bloom.p10, 0.3), (bloom.p50, 0.4), (bloom.p90, 0.3)];
    let mut weeks = std::collections::BTreeMap::<IsoWeek, f64>::new();
    for (first, weight) in points {
        for (n, share) in shares.iter().enumerate() {
            // Seven days of stems from the first bloom on fall partly into the next calendar week.
            let from = shifted(first, 7 * n as i64);
            let week = IsoWeek::of(from);
            let in_next = (from - week.monday()).num_days() as f64 / 7.0;
            *weeks.entry(week).or_default() += total * share * weight * (1.0 - in_next);
            *weeks.entry(week.plus(1)).or_default() += total * share * weight * in_next;
        }
    }
    weeks
        .into_iter()
        .filter(|(_, stems)| *stems > 1e-9)
        .collect()
}

/// The outlook of a planting as of a day.
pub fn of_planting(almanac: &Almanac<'_>, planting: &Planting, today: NaiveDate) -> BedForecast {
    let cut = planting.stems_cut();
    let mut forecast = BedForecast {
        planting: planting.id.clone(),
        bloom: None,
        known: StageKnown::Planted,
        cutting: !planting.cuts.is_empty(),
        flush: None,
        total: Spread::exact(f64::from(cut)),
        cut,
        weeks: Vec::new(),
        last_week: None,
        why: Vec::new(),
    };
    let Some(crop) = almanac.crop(&planting.variety) else {
        return forecast;
    };
    let space = almanac.space_of_bed(&planting.bed);
    When {
        bloom: forecast.bloom,
        known: forecast.known,
        why: forecast.why,
    } = when(almanac, crop, planting, today);
    let Some(figures) = stem_figures(crop, almanac.cover(space)) else {
        return forecast;
    };
    let figures = figures.known_for(almanac.years_learned(&planting.variety));
    let Some(bloom) = forecast.bloom else {
        return forecast;
    };
    forecast.why.push(Reason::measured(
        Say::new("why.plants_in_bed").with("n", planting.standing()),
    ));
    forecast.why.extend(figures.why.iter().cloned());
    if planting.finished.is_some_and(|date| date <= today) {
        return forecast;
    }
    // What is left is spread over the weeks to come as the flush has it, less what autumn frost takes.
    let spared = spared_by_frost(almanac, crop, space, bloom.p50);
    let flushes = figures.flushes;
    forecast.flush = flush_told(&planting.cuts, flushes.flushes, flushes.interval, today);
    let after_cuts = forecast.flush.and_then(|flush| {
        let plants = planting.standing();
        rest(plants, &figures, &planting.cuts, &flush, today, &spared)
    });
    match after_cuts {
        Some(after_cuts) => forecast.after_cuts(after_cuts),
        None => {
            let size = figures.saleable().scaled(f64::from(planting.standing()));
            forecast.before_cuts(size.spread(), &figures.shares, bloom, today, spared);
        }
    }
    forecast.last_week = forecast
        .weeks
        .iter()
        .rev()
        .find(|(_, stems)| stems.p50 >= 1.0)
        .map(|(week, _)| *week);
    forecast
}

impl BedForecast {
    fn before_cuts(
        &mut self,
        size: Spread<f64>,
        shares: &[f64],
        bloom: Spread<NaiveDate>,
        today: NaiveDate,
        spared: impl Fn(IsoWeek) -> f64,
    ) {
        let this_week = IsoWeek::of(today);
        let expected = by_week(1.0, shares, bloom)
            .into_iter()
            .filter(|(week, _)| *week >= this_week);
        let (mut open, mut lived) = (0.0, 0.0);
        let mut end = None;
        for (week, share) in expected {
            let left = spared(week);
            open += share;
            lived += share * left;
            if left < 0.5 {
                end = end.or(Some(week));
            }
            let stems = size.map(|stems| stems * share * left);
            if stems.p50 > 1e-9 {
                self.weeks.push((week, stems));
            }
        }
        self.total = size.map(|stems| stems * lived);
        if lived < 0.98 * open {
            self.ended_by_frost(end);
        }
    }

    fn after_cuts(&mut self, rest: Rest) {
        self.ended_by_frost(rest.frost_end);
        let say = |key| Say::new(key);
        let mut why = vec![
            Reason::measured(say("why.cut_so_far").with("n", self.cut)),
            Reason::forecast(say("why.flush_along").with("n", Arg::Share(rest.along))),
        ];
        if let Some(sells) = rest.sells {
            let sold = say("why.sold_so_far").with("n", Arg::Share(sells));
            why.push(Reason::forecast(sold));
        }
        if let Some(flush) = self.flush {
            let (key, date) = match flush.ended {
                Some(ended) => ("why.flush_over", ended),
                None => ("why.flush_began", flush.began),
            };
            let told = say(key)
                .with("n", i64::from(flush.number))
                .with("date", date);
            why.push(Reason::measured(told.with_some("next", flush.next)));
        }
        self.why.extend(why);
        self.total = rest.stems.map(|stems| stems + f64::from(self.cut));
        self.weeks = rest.weeks;
    }

    fn ended_by_frost(&mut self, week: Option<IsoWeek>) {
        self.why.extend(
            week.map(|week| Reason::forecast(Say::new("why.frost_end").with("week", week))),
        );
    }
}
