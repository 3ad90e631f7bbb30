//! The chance that a night still comes that harms the plants.

use agronomy::frost::ColdNights;
use agronomy::quantity::{Celsius, Chance, TemperatureDifference};
use chrono::{Datelike, NaiveDate};
use culture::Crop;

use crate::almanac::Almanac;
use crate::forecast::shifted;
use crate::state::Space;

/// So much less cold is borne by plants that were not hardened off. From memory of practice.
pub const SOFT_MARGIN: TemperatureDifference = TemperatureDifference(3.0);
/// In autumn new plantings must get so far before a night that harms them: until they are rooted in. From memory of practice.
const ROOTED_DAYS: i64 = 21;

/// Below this, at plant height, a night harms plants of a crop for good, C.
///
/// A crop that bears frost bears what its figure says. Of one whose figure lies above 0 C, frost is what kills; nights between the two
/// hold it back, and cloth helps (common practice, by which such crops go out one or two weeks after the last frost and not when the
/// nights are warm). What was not hardened off bears [`SOFT_MARGIN`] less.
pub fn harms_below(crop: &Crop, hardened: bool) -> Option<f64> {
    let bears = crop.typical("min_safe_night_c_hardened_plants")?.min(0.0);
    Some(if hardened {
        bears
    } else {
        (Celsius(bears) + SOFT_MARGIN).0
    })
}

/// What cold still threatens a space.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Cold {
    /// A night outdoors below this harms the plants under their cover, C.
    pub(super) outdoors_c: f64,
    /// The chance of such a night.
    pub(super) chance: Chance,
    /// Whether that is more than is accepted.
    pub(super) too_likely: bool,
    /// From this day on it is no more; `None` where such nights have no date.
    pub(super) until: Option<NaiveDate>,
    /// Whether any frost kills the crop.
    pub(super) kills: bool,
    /// Whether it is the coming winter that threatens, and not the spring's end of frost.
    pub(super) autumn: bool,
}

/// `None` where nothing is known of the place's frosts or of what the crop bears.
pub(super) fn of(
    almanac: &Almanac<'_>,
    crop: &Crop,
    space: &Space,
    accepted: Chance,
    today: NaiveDate,
) -> Option<Cold> {
    let climate = almanac.climate().ok()?;
    let harms = harms_below(crop, true)?;
    let outdoors = Celsius(harms) - almanac.cover(Some(space)).night_gain();
    let nights = climate.frost().colder_than(outdoors, climate.normals());
    let even = |year: i32| climate.last_frost_with_chance(year, Chance::EVEN);
    let around = |of: &dyn Fn(i32) -> NaiveDate| {
        let years = (-1..=1).map(|step| today.year() + step);
        years.min_by_key(|year| (of(*year) - today).num_days().abs())
    };
    let first = |year: i32| climate.first_frost_with_chance(year, Chance::EVEN);
    let (spring, fall) = (around(&even)?, around(&first)?);
    // Spring from the middle of winter to the middle of the time without frost.
    let autumn = (even(spring) - today).num_days().abs() > (first(fall) - today).num_days().abs();
    let chance = match (autumn, nights.last, nights.first) {
        (false, ColdNights::Dated(last), _) => last.chance_on_or_after(today),
        (true, _, ColdNights::Dated(first)) => {
            first.chance_on_or_before(shifted(today, ROOTED_DAYS))
        }
        (false, ColdNights::AllYear, _) | (true, _, ColdNights::AllYear) => Chance::CERTAIN,
        _ => Chance::NEVER,
    };
    let year = if autumn && even(spring) < today {
        spring + 1
    } else {
        spring
    };
    let until = match nights.last {
        ColdNights::Dated(last) => Some(last.date_by(year, accepted.complement())),
        _ => None,
    };
    Some(Cold {
        outdoors_c: outdoors.0,
        chance,
        too_likely: chance.get() > accepted.get(),
        until,
        kills: harms >= 0.0,
        autumn,
    })
}
