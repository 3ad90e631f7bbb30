//! When a planting blooms, by the model and by what was seen.

use agronomy::bloom::StageKnown;
use agronomy::quantity::{Chance, Spread};
use chrono::NaiveDate;
use culture::{Basis as DaysFrom, Crop};

use crate::almanac::Almanac;
use crate::forecast::shifted;
use crate::forecast::timing::{TRANSPLANT_GAIN_DAYS, bloom_from, line_reasons};
use crate::state::Planting;
use crate::why::Reason;
use crate::words::Say;

/// Days by which a pinch delays first bloom: middle of 7 to 14, common practice.
const PINCH_DAYS: i64 = 10;
/// Days from a visible bud to first bloom: middle of three to five weeks, common practice.
const BUD_DAYS: i64 = 28;
/// Days from first colour to the first cut, from memory of practice.
const COLOUR_DAYS: i64 = 4;
/// Degrees by which days to come must be expected to lean before it is said.
const WORTH_SAYING: f64 = 0.3;
/// The most of a forecast that can have passed without a bloom: beyond it the forecast was wrong, and what is left of it is
/// taken.
const MOST_PASSED: f64 = 0.95;

/// First bloom, what it rests on, and why.
pub(super) struct When {
    pub(super) bloom: Option<Spread<NaiveDate>>,
    pub(super) known: StageKnown,
    pub(super) why: Vec<Reason>,
}

/// First bloom of a planting of a crop as of a day.
pub(super) fn when(
    almanac: &Almanac<'_>,
    crop: &Crop,
    planting: &Planting,
    today: NaiveDate,
) -> When {
    let space = almanac.space_of_bed(&planting.bed);
    let group = almanac.variety(&planting.variety).and_then(|v| v.group);
    let modelled = bloom_from(
        almanac,
        crop,
        group,
        space,
        start(crop, planting),
        StageKnown::Planted,
    )
    .map(|bloom| {
        let later = if planting.pinched.is_some() {
            PINCH_DAYS
        } else {
            0
        };
        bloom.map(|date| shifted(date, later))
    });
    let mut why = Vec::new();
    if modelled.is_some() {
        why.push(Reason::forecast(
            Say::new("why.bloom_model").with("date", planting.date),
        ));
        why.extend(line_reasons(crop, group));
        let climate = almanac.climate().ok();
        let warmer = climate.map_or(0.0, |climate| {
            climate.expected_anomaly(today, almanac.cover(space))
        });
        if warmer.abs() >= WORTH_SAYING {
            let key = if warmer > 0.0 {
                "why.warm_lately"
            } else {
                "why.cold_lately"
            };
            why.push(Reason::forecast(Say::new(key)));
        }
    }
    if let Some(date) = planting.pinched {
        why.push(Reason::measured(
            Say::new("why.pinched")
                .with("date", date)
                .with("n", PINCH_DAYS),
        ));
    }
    let seen = |date: NaiveDate, days: i64, known| {
        let figures = crop.bloom_figures(group)?;
        Some(figures.around(shifted(date, days), known))
    };
    if let Some(first) = planting.first_cut() {
        why.push(Reason::measured(
            Say::new("why.first_cut").with("date", first),
        ));
        return When {
            bloom: Some(Spread::exact(first)),
            known: StageKnown::FirstColour,
            why,
        };
    }
    let noted = |key, date: NaiveDate, days: i64| {
        Reason::measured(Say::new(key).with("date", date).with("n", days))
    };
    let (bloom, known) = if let Some(date) = planting.first_colour {
        why.push(noted("why.first_colour", date, COLOUR_DAYS));
        let known = StageKnown::FirstColour;
        (seen(date, COLOUR_DAYS, known), known)
    } else if let Some(date) = planting.visible_bud {
        why.push(noted("why.visible_bud", date, BUD_DAYS));
        let known = StageKnown::VisibleBud;
        (seen(date, BUD_DAYS, known), known)
    } else {
        (modelled, StageKnown::Planted)
    };
    When {
        bloom: bloom.map(|bloom| still_to_come(bloom, today)),
        known,
        why,
    }
}

/// The day from which the crop's days to bloom count.
fn start(crop: &Crop, planting: &Planting) -> NaiveDate {
    match (planting.sowing.is_some(), crop.basis()) {
        // Days are told from the other start: shift to the one that this planting had.
        (true, DaysFrom::DirectSowing) => shifted(planting.date, -TRANSPLANT_GAIN_DAYS),
        (false, DaysFrom::Transplant) => shifted(
            planting.date,
            crop.typical("weeks_sow_to_transplant")
                .map_or(0, |w| (w * 7.0) as i64)
                - TRANSPLANT_GAIN_DAYS,
        ),
        _ => planting.date,
    }
}

/// Bloom that has not come by today is still to come: of the forecast what lies ahead.
fn still_to_come(bloom: Spread<NaiveDate>, today: NaiveDate) -> Spread<NaiveDate> {
    if today <= bloom.p10 {
        return bloom;
    }
    let days = bloom.map(|date| (date - bloom.p50).num_days() as f64);
    let passed = days
        .chance_below((today - bloom.p50).num_days() as f64)
        .get()
        .min(MOST_PASSED);
    let ahead = |chance: f64| {
        let of_whole = Chance::new(passed + (1.0 - passed) * chance).unwrap_or(Chance::EVEN);
        shifted(bloom.p50, days.quantile(of_whole).round() as i64).max(today)
    };
    Spread {
        p10: ahead(0.1),
        p50: ahead(0.5),
        p90: ahead(0.9),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 1 June to 21 June around 11 June is a normal with a deviation of 7.8 days; once 11 June has passed, its middle
    /// is the quartile, 5.3 days on.
    #[test]
    fn what_lies_ahead_is_left() {
        let day = |text: &str| text.parse::<NaiveDate>().expect("a date");
        let bloom = Spread {
            p10: day("2027-06-01"),
            p50: day("2027-06-11"),
            p90: day("2027-06-21"),
        };
        assert_eq!(still_to_come(bloom, day("2027-05-20")), bloom);
        let left = still_to_come(bloom, day("2027-06-11"));
        assert_eq!(left.p50, day("2027-06-16"));
        assert_eq!(left.p10, day("2027-06-12"));
        let late = still_to_come(bloom, day("2027-07-20"));
        assert_eq!((late.p10, late.p90), (day("2027-07-20"), day("2027-07-20")));
    }
}
