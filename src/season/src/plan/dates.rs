//! Bloom wanted by a date, back to the day of sowing.

use agronomy::bloom::{Pace, StageKnown};
use chrono::{Datelike, NaiveDate};
use culture::Crop;

use crate::almanac::Almanac;
use crate::forecast::{
    bloom_if_planted, frost_bound, line_reasons, planting_by, planting_window, shifted,
};
use crate::state::{Space, Target};
use crate::why::Reason;
use crate::words::{Arg, Say};

/// Slack before the wanted week, days: 10 to 14 for cool-season crops, 5 to 7 for warm ones (common practice); never more than half
/// of what one flush is cut for, or a short one would be over before its week.
fn slack_days(pace: Pace, window_days: f64) -> i64 {
    let usual = match pace {
        Pace::Warm => 6,
        Pace::Cool => 12,
        Pace::Slow => 14,
    };
    usual.min((window_days / 2.0) as i64)
}

/// When to sow for bloom by a date, and when to plant.
#[derive(Debug, Clone, PartialEq)]
pub struct SowingDate {
    /// Sow.
    pub sow: NaiveDate,
    /// Plant.
    pub plant: NaiveDate,
    /// Set if frost holds the planting back: the earliest bloom there.
    pub held_back: Option<NaiveDate>,
    /// The chain behind it.
    pub why: Vec<Reason>,
}

/// The sowing day from which a crop's first bloom in a space comes by a date, less the usual slack. `None` without climate or
/// figures.
pub fn sowing_for_bloom(
    almanac: &Almanac<'_>,
    crop: &Crop,
    group: Option<u8>,
    space: &Space,
    bloom_by: NaiveDate,
) -> Option<SowingDate> {
    let figures = crop.bloom_figures(group)?;
    let slack = slack_days(crop.pace(), figures.harvest_window_days);
    let wanted = shifted(bloom_by, -slack);
    let plant = planting_by(almanac, crop, group, space, wanted)?;
    let weeks = crop.figure("weeks_sow_to_transplant")?;
    let tray_days = (weeks.typical * 7.0).round() as i64;
    let mut why = vec![
        Reason::measured(Say::new("why.bloom_wanted").with("date", bloom_by)),
        Reason::assumed(Say::new("why.slack").with("n", slack)),
        Reason::forecast(
            Say::new("why.days_to_bloom")
                .with("n", (wanted - plant).num_days())
                .with("date", plant)
                .with("space", space.name.clone()),
        ),
        Reason::figure("why.tray_weeks", weeks, Arg::Decimal(weeks.typical, 1)),
    ];
    why.extend(line_reasons(crop, group));
    if almanac.normals_assumed() {
        why.push(Reason::assumed(Say::new("why.example_climate")));
    }
    let mut date = SowingDate {
        sow: shifted(plant, -tray_days),
        plant,
        held_back: None,
        why,
    };
    // A planting that would have to stand a whole winter waits for spring: overwintering is not planned here.
    let spring = almanac.last_frost_near(wanted);
    let near = match spring {
        Some(last) if plant < last && winter_between(almanac, plant, last) => last,
        _ => plant,
    };
    // Forecasts of what was sown reckon with the usual frost-safe day, so the plan does too.
    if let Some((_, usual)) = frost_bound(almanac, crop, Some(space), near)
        && plant < usual
    {
        let bloom = bloom_if_planted(almanac, crop, group, Some(space), usual, StageKnown::Sown)?;
        date.plant = usual;
        date.sow = shifted(usual, -tray_days);
        date.why.push(Reason::assumed(
            Say::new("why.frost_bound")
                .with("date", usual)
                .with("space", space.name.clone()),
        ));
        date.held_back = Some(bloom.p50);
    }
    Some(date)
}

/// Whether the average first frost of an autumn lies between two days.
pub(super) fn winter_between(almanac: &Almanac<'_>, from: NaiveDate, to: NaiveDate) -> bool {
    let first = almanac.season().place().and_then(|place| place.first_frost);
    first
        .and_then(|frost| frost.in_year(from.year()))
        .is_some_and(|frost| from < shifted(frost, 30) && frost < to)
}

/// The last day on which sowing a crop for a target in a space is of use: two weeks of its span can still be cut.
pub fn latest_sowing(
    almanac: &Almanac<'_>,
    crop: &Crop,
    group: Option<u8>,
    space: &Space,
    target: &Target,
) -> Option<NaiveDate> {
    let useful = shifted(target.to?.sunday(), -14);
    let plant = planting_by(almanac, crop, group, space, useful)?;
    let weeks = crop.figure("weeks_sow_to_transplant")?.typical;
    let sow = shifted(plant, -((weeks * 7.0).round() as i64));
    // Frost may hold the planting back; then no sowing serves.
    let (window, _) = planting_window(almanac, crop, Some(space), sow, 0)?;
    (window.best <= plant).then_some(sow)
}
