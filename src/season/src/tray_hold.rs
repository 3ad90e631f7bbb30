//! Crops that can't be held in the tray: whether a late spring would keep a sowing there for too long.
//!
//! A late spring is one in ten: its last frost comes on the date after which frost still comes in 10 years of 100. The longest time in
//! the tray is the crop's own figure where it can't be held, else the high end of its usual weeks from sowing to planting.

use agronomy::quantity::Chance;
use chrono::{Datelike, NaiveDate};
use culture::{Crop, Range};

use crate::almanac::Almanac;
use crate::forecast::{frost_bound, shifted};
use crate::ids::*;
use crate::state::{PlannedSowing, Space};
use crate::why::Reason;
use crate::words::{Arg, Say};

/// The crop's own longest time in the tray; only crops that can't be held have it.
const LONGEST: &str = "weeks_in_tray_longest";
/// Usual weeks in the tray.
const USUAL: &str = "weeks_sow_to_transplant";

/// A sowing that a late spring would hold in its tray for too long.
#[derive(Debug, Clone, PartialEq)]
pub struct TrayHold {
    /// The last day on which its plants are still good.
    pub good_until: NaiveDate,
    /// The day of planting in a late spring.
    pub late_plant: NaiveDate,
    /// Days between the two.
    pub days_over: i64,
    /// Whether the crop is one that can't be held, as against one that only suffers.
    pub spoils: bool,
    /// The warning.
    pub say: Say,
    /// The chain behind it.
    pub why: Vec<Reason>,
}

/// A crop's longest time in the tray, weeks, with the figures it may come from: its own, or its usual weeks.
fn longest(crop: &Crop) -> Option<(f64, Option<&Range>, Option<&Range>)> {
    let own = crop.figure(LONGEST);
    let usual = crop.figure(USUAL);
    let weeks = own
        .map(|range| range.typical)
        .or_else(|| usual.map(|range| range.spread().2))?;
    Some((weeks, own, usual))
}

/// The last day on which plants sown on a day are good in their tray, and whether they spoil after it or only suffer.
pub fn good_until(crop: &Crop, sow: NaiveDate) -> Option<(NaiveDate, bool)> {
    let (weeks, own, _) = longest(crop)?;
    Some((shifted(sow, (weeks * 7.0).round() as i64), own.is_some()))
}

/// Whether a late spring would hold a sowing in its tray past its longest time there. `None` if it would not, where frost does not
/// bound the planting, and without climate or figures.
pub fn tray_hold(
    almanac: &Almanac<'_>,
    variety: &VarietyId,
    sow: NaiveDate,
    plant: NaiveDate,
    space: Option<&Space>,
) -> Option<TrayHold> {
    let crop = almanac.crop(variety)?;
    let climate = almanac.climate().ok()?;
    let (_, usual) = frost_bound(almanac, crop, space, plant)?;
    let year = almanac.last_frost_near(plant)?.year();
    let risk = space
        .and_then(|space| space.frost_risk)
        .and_then(|risk| Chance::new(risk).ok())
        .unwrap_or(Chance::EVEN);
    let frost = climate.last_frost_with_chance(year, Chance::ONE_IN_TEN);
    // Whoever accepts less risk has waited for a part of it already.
    let later = (frost - climate.last_frost_with_chance(year, risk)).num_days();
    let late_plant = shifted(usual, later.max(0)).max(plant);
    let (longest, own, weeks_usual) = longest(crop)?;
    let good_until = shifted(sow, (longest * 7.0).round() as i64);
    let days_over = (late_plant - good_until).num_days();
    if days_over <= 0 {
        return None;
    }
    let spoils = own.is_some();
    let key = if spoils {
        "hold.spoils"
    } else {
        "hold.suffers"
    };
    let mut why = vec![
        Reason::forecast(Say::new("why.late_spring").with("date", frost)),
        Reason::forecast(Say::new("why.late_plant").with("date", late_plant)),
    ];
    let (figure, word) = match own {
        Some(range) => (Some(range), "why.tray_longest"),
        None => (weeks_usual, "why.tray_longest_usual"),
    };
    if let Some(range) = figure {
        why.push(Reason::figure(word, range, Arg::Decimal(longest, 1)));
    }
    why.push(Reason::forecast(
        Say::new("why.tray_good_until").with("date", good_until),
    ));
    Some(TrayHold {
        good_until,
        late_plant,
        days_over,
        spoils,
        say: Say::new(key)
            .with("crop", crop.name().to_owned())
            .with("n", days_over)
            .with("until", good_until)
            .with("plant", late_plant),
        why,
    })
}

/// The same for a planned sowing that is to be planted on a day.
pub fn of_planned(
    almanac: &Almanac<'_>,
    planned: &PlannedSowing,
    sow: NaiveDate,
    plant: NaiveDate,
) -> Option<TrayHold> {
    let space = almanac.space_or_usual(planned.space.as_ref());
    tray_hold(almanac, planned.variety.as_ref()?, sow, plant, space)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample::Sample;

    /// Zinnias go out a week after the average last frost of 15 May, so on 22 May; at the usual spread of 11 days one spring in ten has
    /// its last frost on 29 May (15 May and 1.2816 x 11 days), two weeks later than the average.
    fn found(crop: &str, sow: &str, plant: &str) -> Option<TrayHold> {
        let mut sample = Sample::new();
        sample.bed("b", 5.0);
        let variety = sample.variety("v", crop, "");
        let (sow, plant) = (sample.day(sow), sample.day(plant));
        sample.with(|almanac| {
            let space = almanac.space_or_usual(None);
            tray_hold(almanac, &variety, sow, plant, space)
        })
    }

    /// "Do not hold zinnia over 4 weeks": growers' practice, as the crop reference has it.
    #[test]
    fn a_late_spring_holds_zinnias_past_their_four_weeks() {
        let hold = found("zinnia", "2027-04-28", "2027-05-22").expect("held");
        let day = |text: &str| text.parse::<NaiveDate>().expect("date");
        assert!(hold.spoils);
        assert_eq!(hold.good_until, day("2027-05-26"));
        assert_eq!(hold.late_plant, day("2027-06-05"));
        assert_eq!(hold.days_over, 10);
        assert_eq!(hold.say.key(), "hold.spoils");
        assert!(
            hold.why
                .iter()
                .any(|reason| reason.say.key() == "why.tray_longest")
        );
        // Sown ten days later they wait for no longer than they may.
        assert_eq!(found("zinnia", "2027-05-08", "2027-06-01"), None);
    }

    #[test]
    fn a_crop_without_its_own_figure_goes_by_the_high_end_of_its_usual_weeks() {
        // Cosmos: 4 to 6 weeks in the tray, planted at the average last frost outdoors or a week later.
        let hold = found("cosmos", "2027-04-13", "2027-05-22").expect("held");
        assert!(!hold.spoils);
        assert_eq!(hold.good_until, "2027-05-25".parse().expect("date"));
        assert_eq!(hold.say.key(), "hold.suffers");
        assert!(
            hold.why
                .iter()
                .any(|reason| reason.say.key() == "why.tray_longest_usual")
        );
    }

    #[test]
    fn what_is_planted_in_summer_waits_for_no_frost() {
        assert_eq!(found("zinnia", "2027-07-01", "2027-07-28"), None);
    }
}
