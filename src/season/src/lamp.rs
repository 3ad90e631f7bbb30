//! Hours of lamp for the light that young plants want in a day.

use agronomy::light::{daily_light, hours_to_reach};
use agronomy::quantity::{DailyLight, Hours, Ppfd};
use chrono::NaiveDate;
use culture::Crop;

use crate::almanac::Almanac;
use crate::fact::SpaceKind;
use crate::forecast::{TRUE_LEAVES_DAYS, TrayForecast, TrayStage, shifted};
use crate::state::{Sowing, Space};
use crate::why::Reason;
use crate::words::{Arg, Say};

/// Seed leaves want about this part of what true leaves want. Common practice: 14 to 16 hours of 150 to 200 micromoles, 8 to 11 mol,
/// against 12 and more from the second pair of leaves on.
const SEED_LEAVES_PART: f64 = 0.75;
/// Light of a day for young plants where the crop has no figure, mol per square metre. Common practice: 8 to 12.
const USUAL_MOL: f64 = 10.0;
/// Longest lamp day: most crops want some night. Common practice.
const LONGEST_HOURS: f64 = 18.0;

/// What the lamp over a tray gives and should give.
#[derive(Debug, Clone, PartialEq)]
pub struct LampDay {
    /// Light wanted in a day, mol per square metre.
    pub wanted: f64,
    /// Hours for that; `None` where no day is long enough.
    pub hours: Option<f64>,
    /// What the lamp gives now, mol per square metre, where its hours are known.
    pub now: Option<f64>,
    /// In one sentence.
    pub say: Say,
    /// The chain behind it.
    pub why: Vec<Reason>,
}

/// The lamp day of a tray that has come up and stands on a mat or shelf whose light was measured.
pub fn lamp_day(
    almanac: &Almanac<'_>,
    sowing: &Sowing,
    forecast: &TrayForecast,
    today: NaiveDate,
) -> Option<LampDay> {
    if forecast.standing.emerged == 0 || forecast.stage >= TrayStage::Hardening {
        return None;
    }
    let crop = almanac.crop(&sowing.variety)?;
    let space = almanac.space(sowing.space_on(today)?)?;
    let leaves = forecast.half_up.map(|half| shifted(half, TRUE_LEAVES_DAYS));
    lit(crop, space, leaves.is_some_and(|leaves| today >= leaves))
}

/// The lamp day of a crop in a space, with true leaves or before them.
pub fn lit(crop: &Crop, space: &Space, has_true_leaves: bool) -> Option<LampDay> {
    if !matches!(space.what, SpaceKind::Mat | SpaceKind::Shelf) {
        return None;
    }
    let ppfd = Ppfd(space.ppfd.filter(|ppfd| *ppfd > 0.0)?);
    let figure = crop.figure("daily_light_mol");
    let full = figure.map_or(USUAL_MOL, |range| range.typical);
    let wanted = if has_true_leaves {
        full
    } else {
        full * SEED_LEAVES_PART
    };
    let hours = hours_to_reach(DailyLight(wanted), ppfd)
        .ok()
        .map(|hours| hours.0)
        .filter(|hours| *hours <= LONGEST_HOURS);
    let now = space
        .lamp_hours
        .and_then(|hours| daily_light(ppfd, Hours(hours)).ok())
        .map(|light| light.0);
    let key = if hours.is_some() {
        "lamp.hours"
    } else {
        "lamp.too_weak"
    };
    let mut why = vec![match figure {
        Some(range) => Reason::figure("why.daily_light", range, Arg::Decimal(full, 0)),
        None => Reason::assumed(Say::new("why.daily_light").with("n", Arg::Decimal(full, 0))),
    }];
    if !has_true_leaves {
        why.push(Reason::assumed(Say::new("why.seed_leaves_light")));
    }
    why.push(Reason::measured(
        Say::new("why.lamp_light").with("n", Arg::Decimal(ppfd.0, 0)),
    ));
    Some(LampDay {
        wanted,
        hours,
        now,
        say: Say::new(key)
            .with("wanted", Arg::Decimal(wanted, 0))
            .with_some("hours", hours.map(|hours| Arg::Decimal(hours, 1)))
            .with("most", Arg::Decimal(LONGEST_HOURS, 0))
            .with_some("now", now.map(|now| Arg::Decimal(now, 1)))
            .with_some(
                "burns",
                space.lamp_hours.map(|hours| Arg::Decimal(hours, 1)),
            ),
        why,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fact::SpaceFact;
    use crate::ids::SpaceId;
    use crate::sample::Sample;

    fn space(ppfd: Option<f64>, hours: Option<f64>) -> Space {
        let mut sample = Sample::new();
        let of = SpaceId::new("shelf").unwrap();
        sample.add(SpaceFact {
            what: Some(SpaceKind::Shelf),
            ppfd,
            lamp_hours: hours,
            ..SpaceFact::new(of.clone())
        });
        sample.with(|almanac| almanac.space(&of).unwrap().clone())
    }

    #[test]
    fn hours_follow_from_light_and_wish() {
        let mut sample = Sample::new();
        let variety = sample.variety("v", "eustoma", "white");
        sample.with(|almanac| {
            let crop = almanac.crop(&variety).unwrap();
            // 12 mol at 200 micromoles: 12e6 / (200 x 3600) = 16.7 h. 14 h of it are 200 x 14 x 3600 / 1e6 = 10.08 mol.
            let found = lit(crop, &space(Some(200.0), Some(14.0)), true).unwrap();
            assert!((found.hours.unwrap() - 16.667).abs() < 0.01, "{found:?}");
            assert!((found.now.unwrap() - 10.08).abs() < 0.01);
            let young = lit(crop, &space(Some(200.0), None), false).unwrap();
            assert!((young.wanted - 9.0).abs() < 1e-9 && young.now.is_none());
            // 100 micromoles would take 33 hours.
            assert_eq!(
                lit(crop, &space(Some(100.0), None), true).unwrap().hours,
                None
            );
            assert_eq!(lit(crop, &space(None, Some(14.0)), true), None);
        });
    }
}
