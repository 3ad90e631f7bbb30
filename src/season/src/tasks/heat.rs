//! Temperatures noted where trays stand, against what their seed and seedlings bear.

use agronomy::quantity::{Celsius, TemperatureDifference};
use chrono::NaiveDate;
use culture::Crop;

use super::TaskKind;
use super::emergence::Cue;
use crate::almanac::Almanac;
use crate::forecast::{TrayForecast, TrayStage, Window, shifted};
use crate::state::{Measured, Sowing};
use crate::why::Reason;
use crate::words::{Arg, Say};

/// Days for which a noted temperature speaks for the place. From memory of practice.
const SPEAKS_DAYS: i64 = 3;
/// Where the reference has no limit: so much above the best range seed is harmed or stops. From memory of practice.
const ABOVE_BEST: TemperatureDifference = TemperatureDifference(6.0);
/// So much below it, seed waits and may rot. From memory of practice.
const BELOW_BEST: TemperatureDifference = TemperatureDifference(6.0);

/// What a temperature does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hazard {
    /// Seed does not come up.
    SeedTooWarm,
    /// Seed waits, and may rot.
    SeedTooCold,
    /// Seedlings stall or form rosettes.
    SeedlingsTooWarm,
}

impl Hazard {
    /// The key of its sentence.
    pub fn key(self) -> &'static str {
        match self {
            Self::SeedTooWarm => "task.mind_heat.seed_warm",
            Self::SeedTooCold => "task.mind_heat.seed_cold",
            Self::SeedlingsTooWarm => "task.mind_heat.seedlings_warm",
        }
    }
}

/// A hazard with the limit, C, that decides it and the reason for that limit.
fn limits(crop: &Crop, stage: TrayStage) -> Vec<(Hazard, f64, Reason)> {
    let mut found = Vec::new();
    let figure = |name, key| {
        crop.figure(name).map(|range| {
            (
                range.typical,
                Reason::figure(key, range, Arg::Temperature(range.typical)),
            )
        })
    };
    let best = crop.figure("germination_soil_temp_c");
    if stage <= TrayStage::Emerging {
        let (low, _, high) = best.map_or((None, 0.0, None), |range| {
            let (low, typical, high) = range.spread();
            (Some(low), typical, Some(high))
        });
        let about = |limit: Celsius, beyond| {
            let say = Say::new("why.seed_limit").with("at", limit);
            (limit.0, Reason::assumed(say.with("n", beyond)))
        };
        let most = figure("germination_max_c", "why.seed_warmest")
            .or_else(|| high.map(|high| about(Celsius(high) + ABOVE_BEST, ABOVE_BEST)));
        let least = figure("germination_min_c", "why.seed_coolest")
            .or_else(|| low.map(|low| about(Celsius(low) - BELOW_BEST, BELOW_BEST)));
        found.extend(most.map(|(limit, why)| (Hazard::SeedTooWarm, limit, why)));
        found.extend(least.map(|(limit, why)| (Hazard::SeedTooCold, limit, why)));
    }
    if stage >= TrayStage::Emerging && stage < TrayStage::Hardening {
        let stall = figure("seedling_stall_above_c", "why.seedling_stall");
        found.extend(stall.map(|(limit, why)| (Hazard::SeedlingsTooWarm, limit, why)));
    }
    found
}

/// What temperatures the trays of a crop at a stage should not pass: the hazard and its limit, C.
pub fn hazards(crop: &Crop, stage: TrayStage) -> Vec<(Hazard, f64)> {
    limits(crop, stage)
        .into_iter()
        .map(|(hazard, limit, _)| (hazard, limit))
        .collect()
}

/// The last temperature noted where the trays stand, not older than it speaks for.
fn noted<'a>(
    almanac: &Almanac<'a>,
    sowing: &Sowing,
    today: NaiveDate,
) -> Option<(NaiveDate, &'a Measured)> {
    let space = sowing.space_on(today)?;
    let since = shifted(today, -SPEAKS_DAYS).max(sowing.date);
    if since > today {
        return None;
    }
    almanac
        .season()
        .temperatures
        .range(since..=today)
        .rev()
        .find_map(|(date, noted)| {
            let here = noted
                .iter()
                .rev()
                .find(|m| m.space.as_ref() == Some(space))?;
            Some((*date, here))
        })
}

/// Cooler, or warmer: where the last noted temperature passes what the trays there bear.
pub(super) fn cue(
    almanac: &Almanac<'_>,
    crop: &Crop,
    sowing: &Sowing,
    forecast: &TrayForecast,
    today: NaiveDate,
) -> Option<(Cue, Reason)> {
    let (date, measured) = noted(almanac, sowing, today)?;
    limits(crop, forecast.stage)
        .into_iter()
        .find_map(|(hazard, limit, why)| {
            let noted = match hazard {
                Hazard::SeedTooCold => (measured.min_c < limit).then_some(measured.min_c),
                Hazard::SeedTooWarm | Hazard::SeedlingsTooWarm => {
                    (measured.max_c > limit).then_some(measured.max_c)
                }
            }?;
            let cue = (
                TaskKind::MindHeat,
                Window {
                    earliest: date,
                    best: date,
                    latest: shifted(today, 1),
                },
                Say::new(hazard.key())
                    .with("at", Arg::Temperature(noted))
                    .with("date", date)
                    .with("limit", Arg::Temperature(limit)),
                Some("caution.mat"),
            );
            Some((cue, why))
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::{Manner, Units};

    /// The margin beyond the best range is a difference: 6 K are 11 °F.
    #[test]
    fn a_limit_by_the_rule_of_thumb_names_its_margin_in_the_readers_degrees() {
        let reference = culture::Reference::builtin().unwrap();
        let mut rule_of_thumb = 0;
        for crop in reference.crops() {
            for (_, limit, why) in limits(crop, TrayStage::Sown) {
                if why.say.key() != "why.seed_limit" {
                    continue;
                }
                rule_of_thumb += 1;
                let us = Manner { units: Units::Us };
                assert_eq!(
                    why.say.write(us),
                    format!(
                        "{}, 11 °F beyond its best range, as growers reckon",
                        us.temperature(limit)
                    )
                );
            }
        }
        assert!(rule_of_thumb > 0);
    }
}
