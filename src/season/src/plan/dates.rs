//! Bloom wanted by a date, back to the day of sowing.

use agronomy::bloom::{Pace, StageKnown, planting_for_bloom};
use chrono::NaiveDate;
use culture::Crop;

use crate::almanac::Almanac;
use crate::forecast::{bloom_if_planted, frost_bound, planting_window, shifted};
use crate::state::{Space, Target};
use crate::why::Reason;
use crate::words::{Arg, Say};

/// Slack before the wanted week, days: 10 to 14 for cool-season crops, 5 to 7 for warm ones. Common practice.
fn slack_days(pace: Pace) -> i64 {
    match pace {
        Pace::Warm => 6,
        Pace::Cool => 12,
        Pace::Slow => 14,
    }
}

/// When to sow for bloom by a date, and when to plant.
#[derive(Debug, Clone, PartialEq)]
pub struct SowingDate {
    /// Sow.
    pub sow: NaiveDate,
    /// Plant.
    pub plant: NaiveDate,
    /// Set if frost keeps the crop from blooming so early there: the earliest bloom.
    pub too_early: Option<NaiveDate>,
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
    let slack = slack_days(crop.pace());
    let wanted = shifted(bloom_by, -slack);
    let figures = crop.bloom_figures(group)?;
    let climate = almanac.climate().ok()?;
    let plant = planting_for_bloom(&figures, wanted, climate, almanac.cover(Some(space))).ok()?;
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
    if let Some(group) = figures.group {
        why.push(Reason::assumed(Say::new("why.group").with("n", group)));
    }
    if almanac.normals_assumed() {
        why.push(Reason::assumed(Say::new("why.example_climate")));
    }
    let mut date = SowingDate {
        sow: shifted(plant, -tray_days),
        plant,
        too_early: None,
        why,
    };
    if let Some((earliest, _)) = frost_bound(almanac, crop, Some(space), plant)
        && plant < earliest
    {
        // Planted as early as frost allows, does it still bloom by the end of the slack?
        let bloom = bloom_if_planted(
            almanac,
            crop,
            group,
            Some(space),
            earliest,
            StageKnown::Sown,
        )?;
        date.plant = earliest;
        date.sow = shifted(earliest, -tray_days);
        date.why.push(Reason::assumed(
            Say::new("why.frost_bound")
                .with("date", earliest)
                .with("space", space.name.clone()),
        ));
        if bloom.p50 > shifted(bloom_by, 6) {
            date.too_early = Some(bloom.p50);
        }
    }
    Some(date)
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
    let figures = crop.bloom_figures(group)?;
    let plant = planting_for_bloom(
        &figures,
        useful,
        almanac.climate().ok()?,
        almanac.cover(Some(space)),
    )
    .ok()?;
    let weeks = crop.figure("weeks_sow_to_transplant")?.typical;
    let sow = shifted(plant, -((weeks * 7.0).round() as i64));
    // Frost may hold the planting back; then no sowing serves.
    let (window, _) = planting_window(almanac, crop, Some(space), sow, 0)?;
    (window.best <= plant).then_some(sow)
}
