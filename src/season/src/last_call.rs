//! The latest useful sowing day of every variety for a target, and what is left to do once it has passed.
//!
//! End of the target - useful window - days to bloom - hardening off - days in the tray (common practice: count back from the last
//! week in which a stem is still of use).

use std::cmp::Reverse;

use agronomy::quantity::Chance;
use chrono::{Datelike, NaiveDate};

use crate::almanac::Almanac;
use crate::fact::SpaceKind;
use crate::forecast::{Outlook, hardening_days, line_reasons, planting_by, shifted};
use crate::ids::*;
use crate::plan::{answers, latest_sowing};
use crate::roles::role_of;
use crate::state::{Space, Target};
use crate::why::Reason;
use crate::words::{Arg, Say};

/// Days of a target's span that must still be cut for a sowing to be of use, as the plan has it.
const USEFUL_DAYS: i64 = 14;

/// Whether there is a latest day at all.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// Sown on this day at the latest.
    Day(NaiveDate),
    /// Frost holds planting back until it is too late: no day serves.
    Frost,
    /// The crop reference or the place lacks what it takes to tell.
    Unknown,
}

/// The latest useful sowing day of a variety in a space.
#[derive(Debug, Clone, PartialEq)]
pub struct LastCall {
    /// Of which variety.
    pub variety: VarietyId,
    /// Planted where.
    pub space: SpaceId,
    /// The day.
    pub by: By,
    /// Planted then.
    pub plant: Option<NaiveDate>,
    /// Whether the day lies before today.
    pub passed: bool,
    /// The chain behind it, from the target's end back.
    pub why: Vec<Reason>,
}

impl LastCall {
    /// Whether sowing today or later is still of use.
    pub fn is_open(&self) -> bool {
        matches!(self.by, By::Day(_)) && !self.passed
    }

    fn day(&self) -> Option<NaiveDate> {
        match self.by {
            By::Day(day) => Some(day),
            By::Frost | By::Unknown => None,
        }
    }
}

/// Every variety that answers to a target in every space that it may grow in: those that can still be sown first, the most pressing
/// day first; then those whose day has passed, the last one first; then those without a day.
pub fn last_calls(outlook: &Outlook<'_>, target: &Target) -> Vec<LastCall> {
    let (almanac, today) = (outlook.almanac(), outlook.today());
    let of = |variety: &VarietyId| answers(almanac, variety, &target.wanted);
    let mut calls = calls(almanac, target, of, today);
    calls.sort_by_key(|call| {
        let day = call.day();
        let passed = day.filter(|_| call.passed);
        (
            day.is_none(),
            call.passed,
            Reverse(passed),
            day,
            call.variety.clone(),
        )
    });
    calls
}

/// Varieties of the same role that do not answer to the target's own wish and can still be sown for it, each in the space that leaves
/// the most time; the one with the most time first.
pub fn swaps(outlook: &Outlook<'_>, target: &Target) -> Vec<LastCall> {
    let (almanac, today) = (outlook.almanac(), outlook.today());
    let Some(role) = role_of(almanac, &target.wanted) else {
        return Vec::new();
    };
    let of = |variety: &VarietyId| {
        almanac.role(variety) == Some(role) && !answers(almanac, variety, &target.wanted)
    };
    let mut calls = calls(almanac, target, of, today);
    calls.retain(LastCall::is_open);
    calls.sort_by_key(|call| (Reverse(call.day()), call.variety.clone()));
    let mut seen: Vec<VarietyId> = Vec::new();
    calls.retain(|call| {
        let new = !seen.contains(&call.variety);
        if new {
            seen.push(call.variety.clone());
        }
        new
    });
    calls
}

fn calls(
    almanac: &Almanac<'_>,
    target: &Target,
    counts: impl Fn(&VarietyId) -> bool,
    today: NaiveDate,
) -> Vec<LastCall> {
    let spaces: Vec<&Space> = almanac
        .season()
        .spaces_in_order()
        .into_iter()
        .filter(|space| space.holds_beds())
        .filter(|space| target.space.as_ref().is_none_or(|only| *only == space.id))
        .collect();
    almanac
        .season()
        .varieties_in_order()
        .into_iter()
        .filter(|variety| counts(&variety.id))
        .flat_map(|variety| spaces.iter().map(|space| (variety.id.clone(), *space)))
        .map(|(variety, space)| call(almanac, target, variety, space, today))
        .collect()
}

fn call(
    almanac: &Almanac<'_>,
    target: &Target,
    variety: VarietyId,
    space: &Space,
    today: NaiveDate,
) -> LastCall {
    let mut call = LastCall {
        variety,
        space: space.id.clone(),
        by: By::Unknown,
        plant: None,
        passed: false,
        why: Vec::new(),
    };
    let (Some(end), Some(crop)) = (
        target.to.map(|week| week.sunday()),
        almanac.crop(&call.variety),
    ) else {
        return call;
    };
    let group = almanac.variety(&call.variety).and_then(|v| v.group);
    let useful = shifted(end, -USEFUL_DAYS);
    let plant = planting_by(almanac, crop, group, space, useful);
    let (Some(plant), Some(weeks)) = (plant, crop.figure("weeks_sow_to_transplant")) else {
        return call;
    };
    call.plant = Some(plant);
    call.why = vec![
        Reason::measured(Say::new("why.target_ends").with("date", end)),
        Reason::assumed(Say::new("why.useful").with("n", USEFUL_DAYS)),
        Reason::forecast(
            Say::new("why.days_to_bloom")
                .with("n", (useful - plant).num_days())
                .with("date", plant)
                .with("space", space.name.clone()),
        ),
    ];
    let hardening = hardening_days(crop);
    let in_tray = (weeks.typical * 7.0).round() as i64;
    call.why.push(match crop.figure("hardening_off_days") {
        Some(days) => Reason::figure("why.hardening", days, hardening),
        None => Reason::assumed(Say::new("why.hardening").with("n", hardening)),
    });
    call.why.push(Reason::figure(
        "why.tray_before",
        weeks,
        Arg::Number((in_tray - hardening).max(0)),
    ));
    call.why.extend(line_reasons(crop, group));
    let winter = stands_a_winter(almanac, space, plant, useful);
    match latest_sowing(almanac, crop, group, space, target) {
        Some(day) if !winter => {
            call.by = By::Day(day);
            call.passed = day < today;
        }
        _ => {
            call.by = By::Frost;
            call.why.push(Reason::assumed(
                Say::new("why.frost_too_late").with("space", space.name.clone()),
            ));
        }
    }
    call
}

/// Whether what is planted on a day for bloom on another would have to stand a winter: overwintering is not planned here, and the
/// spring of the bloom is what frost holds back.
fn stands_a_winter(
    almanac: &Almanac<'_>,
    space: &Space,
    plant: NaiveDate,
    bloom: NaiveDate,
) -> bool {
    const NEARLY_FROST_DAYS: i64 = 30;
    // Under a tunnel the frost that ends a season comes weeks later. Common practice: two to four.
    const TUNNEL_DAYS: i64 = 21;
    let later = if space.what == SpaceKind::Tunnel {
        TUNNEL_DAYS
    } else {
        0
    };
    almanac.climate().is_ok_and(|climate| {
        let outdoors = climate.first_frost_with_chance(plant.year(), Chance::EVEN);
        let autumn = shifted(outdoors, later);
        plant < shifted(autumn, NEARLY_FROST_DAYS) && autumn < bloom
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fact::{SpaceFact, Wanted};
    use crate::sample::Sample;

    /// A field and a tunnel at 44 N, white and red snapdragons, stock; white spikes wanted until week 31.
    fn season() -> (Sample, TargetId) {
        let mut sample = Sample::new();
        sample.bed("b", 10.0);
        sample.add(SpaceFact {
            what: Some(SpaceKind::Tunnel),
            name: Some("Tunnel".into()),
            ..SpaceFact::new(SpaceId::new("tunnel").expect("id"))
        });
        sample.variety("white", "antirrhinum", "white");
        sample.variety("red", "antirrhinum", "red");
        sample.variety("stock", "matthiola", "red");
        sample.variety("zinnia", "zinnia", "white");
        let wanted = Wanted {
            crop: Some("antirrhinum".into()),
            colour: Some("white".into()),
            ..Wanted::default()
        };
        let target = sample.target("t", wanted, ("2027-W24", "2027-W31"), 40);
        (sample, target)
    }

    fn calls_on(sample: &Sample, target: &TargetId, today: &str) -> (Vec<LastCall>, Vec<LastCall>) {
        let today = sample.day(today);
        sample.with(|almanac| {
            let target = &almanac.season().targets[target];
            let outlook = Outlook::new(almanac.clone(), today);
            (last_calls(&outlook, target), swaps(&outlook, target))
        })
    }

    /// The chain adds up to the day: end - useful - bloom - hardening - tray.
    #[test]
    fn the_latest_day_is_the_targets_end_less_every_link_of_its_chain() {
        let (sample, target) = season();
        let (calls, _) = calls_on(&sample, &target, "2027-02-01");
        assert_eq!(calls.len(), 2, "{calls:?}");
        assert!(
            calls
                .iter()
                .all(|call| call.variety.as_str() == "white" && call.is_open())
        );
        let end = sample.day("2027-08-08");
        for call in &calls {
            let By::Day(day) = call.by else {
                panic!("no day: {call:?}")
            };
            let plant = call.plant.expect("plant");
            let tray = sample.with(|almanac| {
                let crop = almanac.crop(&call.variety).expect("crop");
                (crop.typical("weeks_sow_to_transplant").expect("weeks") * 7.0).round() as i64
            });
            let bloom = (shifted(end, -14) - plant).num_days();
            assert_eq!(day, shifted(end, -14 - bloom - tray));
            // Eight to eleven weeks from planting to bloom outdoors in summer, less under cover (common practice).
            assert!((45..95).contains(&bloom), "{bloom}");
        }
        // A tunnel is warmer, so its day is later; the most pressing one stands first.
        assert_eq!(calls[0].space.as_str(), "field");
        assert!(calls[0].day() <= calls[1].day());
    }

    #[test]
    fn once_the_day_has_passed_another_of_the_role_may_still_make_it() {
        let (sample, target) = season();
        let (late, swaps) = calls_on(&sample, &target, "2027-04-20");
        assert!(
            late.iter().all(|call| call.passed && !call.is_open()),
            "{late:?}"
        );
        assert!(
            late[0].day() >= late[1].day(),
            "the one that passed last stands first"
        );
        // Spikes only, each once, none that is wanted anyway: red snapdragons are as late, stock is quicker.
        let names: Vec<&str> = swaps.iter().map(|call| call.variety.as_str()).collect();
        assert_eq!(names, ["stock"]);
        let (_, early) = calls_on(&sample, &target, "2027-02-01");
        assert_eq!(early.len(), 2);
        assert!(early[0].day() >= early[1].day());
    }

    #[test]
    fn a_target_that_ends_before_frost_lets_plant_has_no_day_outdoors() {
        let (mut sample, _) = season();
        let wanted = Wanted {
            crop: Some("zinnia".into()),
            ..Wanted::default()
        };
        let target = sample.target("early", wanted, ("2027-W20", "2027-W24"), 40);
        let (calls, _) = calls_on(&sample, &target, "2027-01-10");
        let field = calls
            .iter()
            .find(|call| call.space.as_str() == "field")
            .expect("field");
        assert_eq!(field.by, By::Frost, "{field:?}");
        assert!(!field.is_open() && !field.passed);
        assert!(
            field
                .why
                .iter()
                .any(|reason| reason.say.key() == "why.frost_too_late")
        );
    }
}
