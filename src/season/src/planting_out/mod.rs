//! Planting out: is it safe yet, in which space, and what goes where.
//!
//! The plan's rule ([`planting_window`]) says from when on: plants grown, and the crop's weeks against the last frost with the risk that is
//! accepted in the space. Beside it stands the chance that a night still comes that harms the plants, at plant height and under the
//! cover that is there. Where the two part, the verdict says so: what bears frost goes out by the plan with cloth at hand, what frost
//! kills waits.

mod beds;
mod care;
mod cold;
mod words;

use agronomy::quantity::Chance;
use chrono::NaiveDate;
use culture::Crop;

pub use beds::BedRoom;
pub(crate) use care::hardening;
pub use care::{HardeningState, NetNote, SoilNote};
pub use cold::{SOFT_MARGIN, harms_below};

use crate::almanac::Almanac;
use crate::forecast::{
    TrayForecast, bloom_if_planted, of_sowing, planting_window, spared_by_frost,
};
use crate::ids::*;
use crate::state::{Sowing, Space};
use crate::why::Reason;
use crate::words::Say;
use agronomy::bloom::StageKnown;
use agronomy::iso_week::IsoWeek;
use cold::Cold;

/// Chance of a harmful night that is accepted where the grower has not said: one in ten. Common practice.
const ACCEPTED_USUAL: Chance = Chance::ONE_IN_TEN;
/// Below this share of years in which frost spares its first bloom a planting comes too late.
const LATE_SHARE: f64 = 0.5;

/// Whether plants may go into a space.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// Plant.
    Safe,
    /// Plant, with cloth at hand: harmful nights are likelier than is accepted until then.
    WithCover {
        /// From this day on they are no likelier.
        until: NaiveDate,
    },
    /// Not yet.
    Wait {
        /// From this day on.
        until: NaiveDate,
    },
    /// Frost ends it before it blooms, in more than half of the years.
    Late {
        /// The even-chance day of the first bloom that frost forestalls.
        bloom: Option<NaiveDate>,
    },
    /// Nothing is known of the place's frosts.
    Unknown,
}

/// Planting a sowing into a space, as of a day.
#[derive(Debug, Clone, PartialEq)]
pub struct SpaceVerdict {
    /// Where.
    pub space: SpaceId,
    /// May it go there?
    pub state: State,
    /// The night that hardened plants of the crop bear, C.
    pub night_bears_c: Option<f64>,
    /// A night at plant height below this harms hardened plants for good, C.
    pub harms_below_c: Option<f64>,
    /// The chance that such a night still comes, under the cover that is there: this spring, or within three weeks in autumn.
    pub chance_of_harm: Option<Chance>,
    /// The chance that is accepted.
    pub accepted: Chance,
    /// Whether the grower said so.
    pub accepted_said: bool,
    /// The soil it wants.
    pub soil: Option<SoilNote>,
    /// How far the plants are hardened off.
    pub hardening: HardeningState,
    /// The verdict in one sentence.
    pub say: Say,
    /// The chain behind it.
    pub reasons: Vec<Reason>,
    /// What goes where: the bed it was planned for first, then those that take all, then the others in walking order.
    pub beds: Vec<BedRoom>,
    /// The net it wants.
    pub net: Option<NetNote>,
    /// Plants for which these beds have no room.
    pub left_in_tray: u32,
}

/// One verdict for each space with beds, in walking order. None where there is no such sowing, crop or plant.
pub fn verdicts(almanac: &Almanac<'_>, sowing: &SowingId, today: NaiveDate) -> Vec<SpaceVerdict> {
    let season = almanac.season();
    let found = season
        .sowings
        .get(sowing)
        .and_then(|sowing| Some((sowing, almanac.crop(&sowing.variety)?)));
    let Some((sowing, crop)) = found else {
        return Vec::new();
    };
    let forecast = of_sowing(almanac, sowing, today);
    if !forecast.standing.in_trays() {
        return Vec::new();
    }
    let spaces = season
        .spaces_in_order()
        .into_iter()
        .filter(|space| space.holds_beds());
    spaces
        .map(|space| {
            Ground {
                almanac,
                sowing,
                crop,
                forecast: &forecast,
                space,
                today,
            }
            .verdict()
        })
        .collect()
}

/// A sowing before a space.
struct Ground<'a> {
    almanac: &'a Almanac<'a>,
    sowing: &'a Sowing,
    crop: &'a Crop,
    forecast: &'a TrayForecast,
    space: &'a Space,
    today: NaiveDate,
}

impl Ground<'_> {
    fn verdict(&self) -> SpaceVerdict {
        let said = self
            .space
            .frost_risk
            .and_then(|risk| Chance::new(risk).ok());
        let accepted = said.unwrap_or(ACCEPTED_USUAL);
        let hardening = hardening(self.crop, self.sowing, self.today);
        let window = planting_window(
            self.almanac,
            self.crop,
            Some(self.space),
            self.sowing.date,
            self.forecast.late_days,
        );
        let cold = cold::of(self.almanac, self.crop, self.space, accepted, self.today);
        let grown = window
            .as_ref()
            .map_or(self.today, |(window, _)| window.earliest);
        let state = self.state(grown.max(hardening.over), cold.as_ref());
        let plants = self.forecast.plants.p50.round().max(0.0) as u32;
        let beds = beds::rooms(self.almanac, self.sowing, self.space, plants, self.today);
        let proposed = beds
            .iter()
            .fold(0_u32, |sum, bed| sum.saturating_add(bed.plants));
        let mut verdict = SpaceVerdict {
            space: self.space.id.clone(),
            state,
            night_bears_c: self.crop.typical("min_safe_night_c_hardened_plants"),
            harms_below_c: harms_below(self.crop, true),
            chance_of_harm: cold.as_ref().map(|cold| cold.chance),
            accepted,
            accepted_said: said.is_some(),
            soil: care::soil(
                self.crop,
                self.almanac.season().beds_of(&self.space.id).into_iter(),
                self.today,
            ),
            hardening,
            say: Say::new("planting_out.unknown"),
            reasons: Vec::new(),
            beds,
            net: care::net(self.crop, self.first_day(&state)),
            left_in_tray: plants.saturating_sub(proposed),
        };
        verdict.say = words::sentence(&verdict, self.space, grown, cold.as_ref());
        verdict.reasons = words::reasons(self, &verdict, cold.as_ref(), window);
        verdict
    }

    fn first_day(&self, state: &State) -> NaiveDate {
        match state {
            State::Wait { until } => *until,
            _ => self.today,
        }
    }

    /// `ready`: when the plants are grown and hardened, and the plan lets them out.
    fn state(&self, ready: NaiveDate, cold: Option<&Cold>) -> State {
        let Some(cold) = cold else {
            return State::Unknown;
        };
        let likelier = cold
            .until
            .filter(|_| cold.too_likely)
            .filter(|until| *until > self.today);
        // What frost kills waits for its nights; the rest goes out by the plan, under cloth.
        let waits = cold.kills || cold.autumn;
        let until = match likelier {
            Some(until) if waits => ready.max(until),
            _ => ready,
        };
        let bloom = self.too_late(ready.max(self.today));
        let winter = cold.kills && cold.autumn && cold.too_likely;
        if bloom.is_some() || winter {
            return State::Late { bloom };
        }
        match likelier {
            _ if until > self.today => State::Wait { until },
            Some(until) => State::WithCover { until },
            None => State::Safe,
        }
    }

    /// First bloom of what is planted on a day, where frost mostly comes before it.
    fn too_late(&self, planted: NaiveDate) -> Option<NaiveDate> {
        let group = self
            .almanac
            .variety(&self.sowing.variety)
            .and_then(|variety| variety.group);
        let bloom = bloom_if_planted(
            self.almanac,
            self.crop,
            group,
            Some(self.space),
            planted,
            StageKnown::Planted,
        )?
        .p50;
        let spared = spared_by_frost(self.almanac, self.crop, Some(self.space), bloom);
        (spared(IsoWeek::of(bloom)) < LATE_SHARE).then_some(bloom)
    }
}

#[cfg(test)]
mod tests;
