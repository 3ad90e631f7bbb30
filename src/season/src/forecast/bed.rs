//! A planting's outlook: when it blooms, how many stems, in which weeks.

use agronomy::bloom::{StageKnown, flush};
use agronomy::climate::Cover;
use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;
use agronomy::yields::{around, variation_between_years};
use chrono::NaiveDate;
use culture::{Basis as DaysFrom, Crop};

use super::shifted;
use super::timing::{TRANSPLANT_GAIN_DAYS, bloom_from, line_reasons, spared_by_frost};
use crate::almanac::Almanac;
use crate::ids::*;
use crate::state::Planting;
use crate::why::Reason;
use crate::words::{Arg, Say};

/// Days by which a pinch delays first bloom: middle of 7 to 14, common practice.
const PINCH_DAYS: i64 = 10;
/// Days from a visible bud to first bloom: middle of three to five weeks, common practice.
const BUD_DAYS: i64 = 28;
/// Days from first colour to the first cut, from memory of practice.
const COLOUR_DAYS: i64 = 4;
/// Saleable stems a plant gives, and the chain behind it.
#[derive(Debug, Clone, PartialEq)]
pub struct StemFigures {
    /// Stems a plant gives over the season.
    pub per_plant: f64,
    /// Share of them that sells, by where it grows.
    pub marketable: f64,
    /// Shares by week after first bloom, summing to 1.
    pub shares: Vec<f64>,
    /// Why.
    pub why: Vec<Reason>,
}

impl StemFigures {
    /// Saleable stems a plant gives over the season.
    pub fn saleable_per_plant(&self) -> f64 {
        self.per_plant * self.marketable
    }
}

/// What a plant of a crop gives under a cover.
pub fn stem_figures(crop: &Crop, cover: Cover) -> Option<StemFigures> {
    let per_plant = crop.figure("stems_per_plant_season")?;
    let marketable = crop.figure(match cover {
        Cover::Tunnel => "marketable_tunnel",
        Cover::Open => "marketable_field",
    })?;
    let window = crop.figure("harvest_window_days")?;
    let flushes = crop.typical("flushes").unwrap_or(1.0);
    let interval = crop
        .typical("flush_interval_days")
        .unwrap_or(window.typical);
    Some(StemFigures {
        per_plant: per_plant.typical.max(0.0),
        marketable: marketable.typical.clamp(0.0, 1.0),
        shares: flush(window.typical, flushes, interval),
        why: vec![
            Reason::figure(
                "why.stems_per_plant",
                per_plant,
                Arg::Decimal(per_plant.typical, 1),
            ),
            Reason::figure("why.marketable", marketable, Arg::Share(marketable.typical)),
            Reason::figure("why.window", window, Arg::Decimal(window.typical, 0)),
        ],
    })
}

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

/// A number of stems with the band that a first year's forecast has.
fn scaled(middle: f64) -> Spread<f64> {
    around(middle, variation_between_years(0)).unwrap_or(Spread::exact(middle))
}

/// Expected stems by week from a first bloom that is not known to the day: the flush weighed over its early, middle and late date.
pub(crate) fn by_week(total: f64, shares: &[f64], bloom: Spread<NaiveDate>) -> Vec<(IsoWeek, f64)> {
    // Three points that keep the mean and the spread of a normal given by its 10 and 90 in 100 (Pearson-Tukey weights, from memory).
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
    let group = almanac.variety(&planting.variety).and_then(|v| v.group);
    let start = match (planting.sowing.is_some(), crop.basis()) {
        // Days are told from the other start: shift to the one that this planting had.
        (true, DaysFrom::DirectSowing) => shifted(planting.date, -TRANSPLANT_GAIN_DAYS),
        (false, DaysFrom::Transplant) => shifted(
            planting.date,
            crop.typical("weeks_sow_to_transplant")
                .map_or(0, |w| (w * 7.0) as i64)
                - TRANSPLANT_GAIN_DAYS,
        ),
        _ => planting.date,
    };
    let modelled =
        bloom_from(almanac, crop, group, space, start, StageKnown::Planted).map(|bloom| {
            bloom.map(|date| {
                if planting.pinched.is_some() {
                    shifted(date, PINCH_DAYS)
                } else {
                    date
                }
            })
        });
    if modelled.is_some() {
        forecast.why.push(Reason::forecast(
            Say::new("why.bloom_model").with("date", planting.date),
        ));
        forecast.why.extend(line_reasons(crop, group));
    }
    if let Some(date) = planting.pinched {
        forecast.why.push(Reason::measured(
            Say::new("why.pinched")
                .with("date", date)
                .with("n", PINCH_DAYS),
        ));
    }
    let around = |middle: NaiveDate, known: StageKnown| -> Option<Spread<NaiveDate>> {
        let width = bloom_from(almanac, crop, group, space, start, known)?;
        let half = (
            (width.p90 - width.p50).num_days(),
            (width.p50 - width.p10).num_days(),
        );
        Some(Spread {
            p10: shifted(middle, -half.1),
            p50: middle,
            p90: shifted(middle, half.0),
        })
    };
    (forecast.bloom, forecast.known) = if let Some(first) = planting.first_cut() {
        forecast.why.push(Reason::measured(
            Say::new("why.first_cut").with("date", first),
        ));
        (Some(Spread::exact(first)), StageKnown::FirstColour)
    } else if let Some(date) = planting.first_colour {
        forecast.why.push(Reason::measured(
            Say::new("why.first_colour")
                .with("date", date)
                .with("n", COLOUR_DAYS),
        ));
        (
            around(shifted(date, COLOUR_DAYS), StageKnown::FirstColour),
            StageKnown::FirstColour,
        )
    } else if let Some(date) = planting.visible_bud {
        forecast.why.push(Reason::measured(
            Say::new("why.visible_bud")
                .with("date", date)
                .with("n", BUD_DAYS),
        ));
        (
            around(shifted(date, BUD_DAYS), StageKnown::VisibleBud),
            StageKnown::VisibleBud,
        )
    } else {
        (modelled, StageKnown::Planted)
    };
    // Bloom that has not come by today is still to come.
    if !forecast.cutting {
        forecast.bloom = forecast.bloom.map(|bloom| {
            let p50 = bloom.p50.max(today);
            Spread {
                p10: bloom.p10.max(today).min(p50),
                p50,
                p90: bloom.p90.max(p50),
            }
        });
    }
    let Some(figures) = stem_figures(crop, almanac.cover(space)) else {
        return forecast;
    };
    let Some(bloom) = forecast.bloom else {
        return forecast;
    };
    forecast.why.push(Reason::measured(
        Say::new("why.plants_in_bed").with("n", planting.standing()),
    ));
    forecast.why.extend(figures.why.iter().cloned());
    let middle = f64::from(planting.standing()) * figures.saleable_per_plant();
    forecast.total = scaled(middle).map(|n| n.max(f64::from(cut)));
    if planting.finished.is_some_and(|date| date <= today) {
        forecast.total = Spread::exact(f64::from(cut));
        return forecast;
    }
    // What is left is spread over the weeks to come as the flush has it, less what autumn frost takes.
    let this_week = IsoWeek::of(today);
    let spared = spared_by_frost(almanac, crop, space, bloom.p50);
    let expected: Vec<(IsoWeek, f64)> = by_week(1.0, &figures.shares, bloom)
        .into_iter()
        .filter(|(week, _)| *week >= this_week)
        .collect();
    let open: f64 = expected.iter().map(|(_, share)| share).sum();
    if open <= 0.0 {
        return forecast;
    }
    let lived: f64 = expected
        .iter()
        .map(|(week, share)| share * spared(*week))
        .sum();
    if let Some(end) = expected.iter().find(|(week, _)| spared(*week) < 0.5)
        && lived < 0.98 * open
    {
        forecast.why.push(Reason::forecast(
            Say::new("why.frost_end").with("week", end.0),
        ));
    }
    let done = 1.0 - open;
    // A planting that has given more than forecast so far is believed: the rest is read from what it gave, halfway.
    let paced = if done > 0.1 && forecast.cutting {
        0.5 * middle + 0.5 * f64::from(cut) / done
    } else {
        middle
    };
    let rest = (paced - f64::from(cut)).max(paced * open * 0.25).max(0.0);
    if forecast.cutting {
        forecast
            .why
            .push(Reason::measured(Say::new("why.cut_so_far").with("n", cut)));
    }
    forecast.total = scaled(rest * lived / open).map(|n| n + f64::from(cut));
    forecast.weeks = expected
        .iter()
        .map(|(week, share)| (*week, scaled(rest * share * spared(*week) / open)))
        .filter(|(_, stems)| stems.p50 > 1e-9)
        .collect();
    forecast.last_week = forecast
        .weeks
        .iter()
        .rev()
        .find(|(_, stems)| stems.p50 >= 1.0)
        .map(|(week, _)| *week);
    forecast
}
