//! What to cover tonight: from a low that was forecast, or a frost that was noted this morning.

use agronomy::quantity::{Celsius, TemperatureDifference};
use chrono::NaiveDate;
use culture::Crop;

use super::{Subject, Task, TaskKind, walk};
use crate::almanac::Almanac;
use crate::fact::SpaceKind;
use crate::forecast::{Window, shifted};
use crate::ids::*;
use crate::planting_out::{SOFT_MARGIN, hardening, harms_below};
use crate::state::{Frost, Planting, Sowing, Space};
use crate::words::{Arg, Say};

/// Margin to spare: on clear still nights it is 2 to 4 K colder at plant height than a forecast says. Common practice.
pub const SPARE: TemperatureDifference = TemperatureDifference(2.0);
/// What a frost that was noted stands for where no minimum was.
const FROST: Celsius = Celsius(0.0);

/// The night to come.
#[derive(Debug, Clone, PartialEq)]
pub struct Tonight {
    /// Its evening.
    pub evening: NaiveDate,
    /// The low outdoors as it was noted, C; that of a single space where nothing else is known.
    pub low_c: f64,
    /// Whether it is taken from this morning's frost: clear nights come together.
    pub from_frost: bool,
    /// What would be harmed, in walking order.
    pub items: Vec<CoverItem>,
    /// The night in one sentence.
    pub say: Say,
}

/// Plants that the night would harm.
#[derive(Debug, Clone, PartialEq)]
pub struct CoverItem {
    /// A planting, or a sowing that stands out to harden.
    pub subject: Subject,
    /// What they are.
    pub variety: VarietyId,
    /// Where.
    pub space: Option<SpaceId>,
    /// In which bed.
    pub bed: Option<BedId>,
    /// How many plants.
    pub plants: u32,
    /// The night that they bear, C.
    pub bears_c: f64,
    /// The low to be expected under what stands over them, C; at plant height it may be [`SPARE`] less.
    pub low_c: f64,
    /// Whether they would be killed or lastingly harmed, and not only held back.
    pub kills: bool,
    /// Whether they are covered already this evening.
    pub covered: bool,
    /// Why, in one sentence.
    pub why: Say,
}

/// Lows that are known of an evening.
struct Lows<'a> {
    almanac: &'a Almanac<'a>,
    outdoors: Option<f64>,
    /// The newest of each space, oldest first.
    spaces: Vec<(&'a SpaceId, f64)>,
}

impl Lows<'_> {
    /// The low under what stands over the plants of a space, and the low outdoors there.
    fn at(&self, space: Option<&Space>) -> Option<(f64, f64)> {
        let gain = self.almanac.cover(space).night_gain();
        let own = space.and_then(|space| self.spaces.iter().rev().find(|(id, _)| **id == space.id));
        match (own, self.outdoors) {
            (Some((_, low)), _) => Some((*low, (Celsius(*low) - gain).0)),
            (None, Some(low)) => Some(((Celsius(low) + gain).0, low)),
            (None, None) => None,
        }
    }
}

/// The night to come and what it would harm; `None` where neither a low is noted for it nor a frost for this morning.
pub fn tonight(almanac: &Almanac<'_>, today: NaiveDate) -> Option<Tonight> {
    let season = almanac.season();
    let forecast = season.lows.iter().filter(|low| low.date == today);
    let mut noted: Vec<(Option<&SpaceId>, f64)> = forecast
        .map(|low| (low.space.as_ref(), low.min_c))
        .collect();
    let from_frost = noted.is_empty();
    if from_frost {
        let frosts = season.frosts.iter().filter(|frost| frost.date == today);
        noted = frosts
            .map(|frost| (frost.space.as_ref(), frost_low(almanac, frost)))
            .collect();
    }
    let newest = noted.last()?.1;
    let is_open = |space: &Option<&SpaceId>| {
        space.is_none_or(|id| {
            almanac
                .space(id)
                .is_some_and(|s| s.what == SpaceKind::Outdoors)
        })
    };
    let lows = Lows {
        almanac,
        // A low that was noted of one field is the best that is known of another.
        outdoors: noted
            .iter()
            .rev()
            .find(|(space, _)| space.is_none())
            .or(noted.iter().rev().find(|(space, _)| is_open(space)))
            .map(|(_, low)| *low),
        spaces: noted
            .iter()
            .filter_map(|(space, low)| Some(((*space)?, *low)))
            .collect(),
    };
    let plantings = season
        .plantings
        .values()
        .filter_map(|planting| of_planting(&lows, planting, today));
    let trays = season
        .sowings
        .values()
        .filter_map(|sowing| of_trays(&lows, sowing, today));
    let mut items: Vec<CoverItem> = plantings.chain(trays).collect();
    items.sort_by_cached_key(|item| {
        (
            walk(almanac, item.space.as_ref(), item.bed.as_ref()),
            item.subject.clone(),
        )
    });
    let low_c = lows.outdoors.unwrap_or(newest);
    let open = items.iter().filter(|item| !item.covered).count();
    let key = match (from_frost, items.is_empty()) {
        (true, true) => "cover.frost_none",
        (true, false) => "cover.frost",
        (false, true) => "cover.none",
        (false, false) => "cover.low",
    };
    let say = Say::new(key)
        .with("low", Arg::Temperature(low_c))
        .with("n", open)
        .with("spare", SPARE);
    Some(Tonight {
        evening: today,
        low_c,
        from_frost,
        items,
        say,
    })
}

/// The low of a frost: as it was read, else the minimum that was noted of its day, else just frost.
fn frost_low(almanac: &Almanac<'_>, frost: &Frost) -> f64 {
    let measured = almanac.season().temperatures.get(&frost.date);
    let of_space = measured
        .into_iter()
        .flatten()
        .filter(|day| day.space == frost.space);
    let noted = || of_space.map(|day| day.min_c).fold(FROST.0, f64::min);
    frost.min_c.unwrap_or_else(noted)
}

/// Whether a night harms plants that bear so much, and whether for good.
fn harm(crop: &Crop, hardened: bool, low_c: f64) -> Option<(f64, bool)> {
    let hardy = Celsius(crop.typical("min_safe_night_c_hardened_plants")?);
    let bears = if hardened {
        hardy.0
    } else {
        (hardy + SOFT_MARGIN).0
    };
    let at_plants = (Celsius(low_c) - SPARE).0;
    let kills = harms_below(crop, hardened).is_some_and(|harms| at_plants < harms);
    (at_plants < bears).then_some((bears, kills))
}

fn of_planting(lows: &Lows<'_>, planting: &Planting, today: NaiveDate) -> Option<CoverItem> {
    let ended = planting.finished.is_some_and(|end| end <= today);
    let crop = lows.almanac.crop(&planting.variety)?;
    // Seed in the ground takes no harm.
    let up = match planting.sowing {
        Some(_) => planting.date,
        None => {
            let first = crop
                .figure("days_to_emergence_first_typ_most")
                .map_or(0.0, |days| days.spread().0);
            shifted(planting.date, first.round() as i64)
        }
    };
    if ended || planting.standing() == 0 || up > today {
        return None;
    }
    let space = lows.almanac.space_of_bed(&planting.bed);
    let (low, outdoors) = lows.at(space)?;
    // In a tunnel some crops are covered from a forecast temperature outdoors on, which has its margin in it.
    let in_tunnel = space.is_some_and(|space| space.what == SpaceKind::Tunnel);
    let covered_below = crop
        .typical("cover_below_c")
        .filter(|below| in_tunnel && outdoors < *below);
    let (bears_c, kills) = harm(crop, true, low).or(covered_below.map(|below| (below, false)))?;
    Some(CoverItem {
        subject: Subject::Planting(planting.id.clone()),
        variety: planting.variety.clone(),
        space: space.map(|space| space.id.clone()),
        bed: Some(planting.bed.clone()),
        plants: planting.standing(),
        bears_c,
        low_c: low,
        kills,
        covered: planting.covered.contains(&today),
        why: sentence("task.cover.why", low, bears_c, kills),
    })
}

/// Trays that stand where the night gets at them.
fn of_trays(lows: &Lows<'_>, sowing: &Sowing, today: NaiveDate) -> Option<CoverItem> {
    let standing = sowing.standing(today);
    let ended = sowing.date > today || sowing.finished.is_some_and(|end| end <= today);
    let crop = lows.almanac.crop(&sowing.variety)?;
    let space = sowing.space_on(today).and_then(|id| lows.almanac.space(id));
    let is_out = match space.map(|space| space.what) {
        Some(SpaceKind::Hardening | SpaceKind::Tunnel | SpaceKind::Outdoors) => true,
        Some(_) => false,
        None => sowing.hardening.is_some_and(|begun| begun <= today),
    };
    if ended || !standing.in_trays() || standing.emerged == 0 || !is_out {
        return None;
    }
    let (low, _) = lows.at(space)?;
    let hardened = hardening(crop, sowing, today).is_over();
    let (bears_c, kills) = harm(crop, hardened, low)?;
    Some(CoverItem {
        subject: Subject::Sowing(sowing.id.clone()),
        variety: sowing.variety.clone(),
        space: space.map(|space| space.id.clone()),
        bed: None,
        plants: standing.up.unwrap_or(standing.cells),
        bears_c,
        low_c: low,
        kills,
        covered: sowing.covered.contains(&today),
        why: sentence("task.cover.why_trays", low, bears_c, kills),
    })
}

fn sentence(key: &'static str, low: f64, bears: f64, kills: bool) -> Say {
    Say::new(key)
        .with("low", Arg::Temperature(low))
        .with("bears", Arg::Temperature(bears))
        .with("spare", SPARE)
        .with_some("kills", kills.then_some(Arg::Number(1)))
}

/// Tonight's tasks: what is not covered yet.
pub(super) fn tasks(almanac: &Almanac<'_>, today: NaiveDate) -> Vec<Task> {
    let items = tonight(almanac, today).map_or_else(Vec::new, |tonight| tonight.items);
    let open = items.into_iter().filter(|item| !item.covered);
    let task = |item: CoverItem| Task {
        kind: TaskKind::Cover,
        subject: item.subject,
        variety: Some(item.variety),
        space: item.space,
        bed: item.bed,
        window: Window {
            earliest: today,
            best: today,
            latest: today,
        },
        why: item.why,
        reasons: Vec::new(),
        number: Some(item.plants),
        caution: Some("caution.cover"),
    };
    open.map(task).collect()
}

#[cfg(test)]
mod tests;
