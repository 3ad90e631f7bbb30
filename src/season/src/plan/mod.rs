//! Back from the stems: what to sow, when and how much, so that every week has its stems.
//!
//! Target weeks and stems -> plants -> cells -> sowing date, one target after the other, first week first: a succession is placed for
//! the first week that is short, its stems are taken off the weeks it covers, and so on to the last week. What is already planted,
//! sown or accepted counts first. Whether all of it fits the mat, shelves and beds at the same time is not solved here: each
//! proposal says where it would stand, and [`Plan::crowding`] says when a space would overflow.

mod cells;
mod crowding;
mod dates;

use std::collections::BTreeMap;

use agronomy::bloom::StageKnown;
use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;
use chrono::NaiveDate;

pub use cells::{CellsFor, cells_for};
pub use crowding::Crowding;
pub use dates::{SowingDate, latest_sowing, sowing_for_bloom};

use crate::almanac::Almanac;
use crate::fact::{PlannedFact, Wanted};
use crate::forecast::{PLANTED_SURVIVAL, Supply, bloom_if_planted, stem_figures, supply};
use crate::ids::*;
use crate::state::{Space, Target};
use crate::why::Reason;
use crate::words::{Arg, Say};

/// Stems short in a week that are let pass: less than this share of what is wanted.
const SHORT_LET_PASS: f64 = 0.05;
/// Successions that one target may take.
const SUCCESSIONS_MAX: usize = 60;

/// A sowing that would serve a target.
#[derive(Debug, Clone, PartialEq)]
pub struct Proposal {
    /// Which target.
    pub target: TargetId,
    /// What to sow.
    pub variety: VarietyId,
    /// When to sow.
    pub sow: NaiveDate,
    /// When to plant.
    pub plant: NaiveDate,
    /// Where to plant.
    pub space: SpaceId,
    /// First bloom.
    pub bloom: Spread<NaiveDate>,
    /// Plants to set.
    pub plants: u32,
    /// Cells to sow.
    pub cells: u32,
    /// First and last week that it is meant for.
    pub weeks: (IsoWeek, IsoWeek),
    /// Bed length at the crop's spacing and a bed 1.2 m wide, m.
    pub bed_metres: f64,
    /// The chain behind the number of plants.
    pub why_plants: Vec<Reason>,
    /// The chain behind the number of cells.
    pub why_cells: Vec<Reason>,
    /// The chain behind the dates.
    pub why_dates: Vec<Reason>,
}

impl Proposal {
    /// The entry that accepts it.
    pub fn accept(&self, of: PlannedId) -> PlannedFact {
        PlannedFact {
            of,
            variety: Some(self.variety.clone()),
            target: Some(self.target.clone()),
            sow: Some(self.sow),
            space: Some(self.space.clone()),
            cells: Some(self.cells),
            plants: Some(self.plants),
            pinned: None,
            retired: None,
        }
    }
}

/// Stems of a target that no sowing can serve any more or at all.
#[derive(Debug, Clone, PartialEq)]
pub struct Shortfall {
    /// Which target.
    pub target: TargetId,
    /// First and last week that is short.
    pub weeks: (IsoWeek, IsoWeek),
    /// Stems short in all.
    pub stems: u32,
    /// Why, in one sentence.
    pub why: Say,
    /// The last day to sow for it, where that has passed: then there are four ways out.
    pub latest_sowing: Option<NaiveDate>,
}

/// The four ways out when it is too late to sow: keys of their words. Common practice.
pub const WAYS_OUT: [&str; 4] = [
    "way_out.plugs",
    "way_out.stems",
    "way_out.swap",
    "way_out.tell",
];

/// What to sow, and what can't be met.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Plan {
    /// By sowing date.
    pub proposals: Vec<Proposal>,
    /// What can't be met.
    pub shortfalls: Vec<Shortfall>,
    /// Weeks in which a mat or shelf would overflow if all were sown.
    pub crowding: Vec<Crowding>,
}

/// Whether a variety answers to what is wanted.
pub fn answers(almanac: &Almanac<'_>, variety: &VarietyId, wanted: &Wanted) -> bool {
    let Some(entity) = almanac.variety(variety) else {
        return false;
    };
    if let Some(this) = &wanted.variety {
        return this == variety;
    }
    let crop = wanted.crop.as_ref().is_none_or(|crop| *crop == entity.crop);
    let colour = wanted
        .colour
        .as_ref()
        .is_none_or(|colour| colour.trim().to_lowercase() == entity.colour.trim().to_lowercase());
    let role = wanted
        .role
        .is_none_or(|role| almanac.role(variety) == Some(role));
    let anything = wanted.crop.is_some() || wanted.colour.is_some() || wanted.role.is_some();
    anything && crop && colour && role
}

/// Plans all targets as of a day.
pub fn plan(almanac: &Almanac<'_>, today: NaiveDate) -> Plan {
    let mut plan = Plan::default();
    let supply = supply(almanac, today);
    // Stems that stand, are sown or accepted go to the first target that they answer to, week by week.
    let mut left = left_over(&supply);
    for target in in_order(almanac) {
        plan_target(almanac, target, &mut left, today, &mut plan);
    }
    plan.proposals
        .sort_by_key(|p| (p.sow, p.target.clone(), p.variety.clone()));
    plan.crowding = crowding::crowding(almanac, &plan.proposals, today);
    plan
}

type LeftOver = BTreeMap<(VarietyId, IsoWeek), f64>;

fn left_over(supply: &Supply) -> LeftOver {
    let mut left = LeftOver::new();
    for line in &supply.lines {
        for (week, stems) in &line.weeks {
            *left.entry((line.variety.clone(), *week)).or_default() += stems.p50;
        }
    }
    left
}

/// Narrow targets first, so that a target for any white spike does not take what one for this variety needs; then by first week.
pub(crate) fn in_order<'a>(almanac: &Almanac<'a>) -> Vec<&'a Target> {
    let mut targets: Vec<&Target> = almanac
        .season()
        .targets
        .values()
        .filter(|t| !t.retired)
        .collect();
    targets.sort_by_key(|t| {
        (
            t.wanted.variety.is_none(),
            t.wanted.crop.is_none(),
            t.from,
            t.id.clone(),
        )
    });
    targets
}

fn plan_target(
    almanac: &Almanac<'_>,
    target: &Target,
    left: &mut LeftOver,
    today: NaiveDate,
    plan: &mut Plan,
) {
    let short = |why: Say, weeks: (IsoWeek, IsoWeek), stems: f64, latest_sowing| Shortfall {
        target: target.id.clone(),
        weeks,
        stems: stems.ceil() as u32,
        why,
        latest_sowing,
    };
    let (Some(from), Some(to)) = (target.from, target.to) else {
        return;
    };
    let from = from.max(IsoWeek::of(today));
    if from > to || target.stems == 0 {
        return;
    }
    let weeks: Vec<IsoWeek> = (0..=from.weeks_until(to)).map(|n| from.plus(n)).collect();
    let mut need: BTreeMap<IsoWeek, f64> = BTreeMap::new();
    let varieties: Vec<VarietyId> = almanac
        .season()
        .varieties_in_order()
        .iter()
        .filter(|v| answers(almanac, &v.id, &target.wanted))
        .map(|v| v.id.clone())
        .collect();
    for week in &weeks {
        let mut short = f64::from(target.stems);
        for variety in &varieties {
            if let Some(stems) = left.get_mut(&(variety.clone(), *week)) {
                let taken = stems.min(short);
                *stems -= taken;
                short -= taken;
            }
        }
        need.insert(*week, short);
    }
    let total = f64::from(target.stems) * weeks.len() as f64;
    if varieties.is_empty() {
        plan.shortfalls
            .push(short(Say::new("short.no_variety"), (from, to), total, None));
        return;
    }
    if almanac.climate().is_err() {
        plan.shortfalls
            .push(short(Say::new("short.no_place"), (from, to), total, None));
        return;
    }
    let mut missed: Vec<(IsoWeek, f64, Miss)> = Vec::new();
    let mut turn = 0;
    for _ in 0..SUCCESSIONS_MAX {
        let open = need.iter().find(|(week, stems)| {
            **stems > SHORT_LET_PASS * f64::from(target.stems)
                && missed.iter().all(|(missed, _, _)| missed != *week)
        });
        let Some((week, _)) = open else { break };
        let week = *week;
        match succession(almanac, target, &varieties, turn, week, &need, today) {
            Ok((proposal, gives)) => {
                for (week, stems) in gives {
                    if let Some(need) = need.get_mut(&week) {
                        *need = (*need - stems).max(0.0);
                    }
                }
                plan.proposals.push(proposal);
                turn += 1;
            }
            Err(miss) => missed.push((week, need.get(&week).copied().unwrap_or(0.0), miss)),
        }
    }
    // Weeks that miss for the same reason, told together.
    missed.sort_by_key(|(week, _, _)| *week);
    for run in missed.chunk_by(|a, b| a.2.key() == b.2.key() && a.0.plus(1) == b.0) {
        let (Some(first), Some(last)) = (run.first(), run.last()) else {
            continue;
        };
        // A week that a later succession has filled by its tail is short no more.
        let stems: f64 = run
            .iter()
            .map(|(week, _, _)| need.get(week).copied().unwrap_or(0.0))
            .sum();
        if stems >= 1.0 {
            plan.shortfalls.push(short(
                last.2.say(),
                (first.0, last.0),
                stems,
                last.2.latest_sowing(),
            ));
        }
    }
}

/// Why a week can't be served.
#[derive(Debug, Clone, PartialEq)]
enum Miss {
    NoSpace,
    NoFigures,
    TooLate(NaiveDate),
    TooEarly(NaiveDate),
}

impl Miss {
    fn key(&self) -> &'static str {
        match self {
            Self::NoSpace => "short.no_space",
            Self::NoFigures => "short.no_figures",
            Self::TooLate(_) => "short.too_late",
            Self::TooEarly(_) => "short.too_early",
        }
    }

    fn say(&self) -> Say {
        let say = Say::new(self.key());
        match self {
            Self::TooLate(date) | Self::TooEarly(date) => say.with("date", *date),
            _ => say,
        }
    }

    fn latest_sowing(&self) -> Option<NaiveDate> {
        match self {
            Self::TooLate(date) => Some(*date),
            _ => None,
        }
    }
}

/// One succession for a week: the variety whose turn it is, or the next one that can bloom in time, in the space that lets it.
fn succession(
    almanac: &Almanac<'_>,
    target: &Target,
    varieties: &[VarietyId],
    turn: usize,
    week: IsoWeek,
    need: &BTreeMap<IsoWeek, f64>,
    today: NaiveDate,
) -> Result<(Proposal, Vec<(IsoWeek, f64)>), Miss> {
    let spaces: Vec<&Space> = match target.space.as_ref().and_then(|id| almanac.space(id)) {
        Some(space) => vec![space],
        None => {
            let mut spaces: Vec<&Space> = almanac
                .season()
                .spaces_in_order()
                .into_iter()
                .filter(|s| s.holds_beds())
                .collect();
            // Open ground first: the tunnel is dear and small, and goes to what needs it.
            spaces.sort_by_key(|s| core::cmp::Reverse(s.what));
            spaces
        }
    };
    let mut miss = Miss::NoSpace;
    for n in 0..varieties.len() {
        let Some(variety) = varieties.get((turn + n) % varieties.len()) else {
            continue;
        };
        for space in &spaces {
            match place(almanac, target, variety, space, week, need, today) {
                Ok(found) => return Ok(found),
                // Too early or late tells more than a missing space or figure.
                Err(found) => match (&miss, &found) {
                    (Miss::TooEarly(a), Miss::TooEarly(b)) if b >= a => {}
                    (Miss::TooLate(a), Miss::TooLate(b)) if b <= a => {}
                    _ => miss = found,
                },
            }
        }
    }
    Err(miss)
}

fn place(
    almanac: &Almanac<'_>,
    target: &Target,
    variety: &VarietyId,
    space: &Space,
    week: IsoWeek,
    need: &BTreeMap<IsoWeek, f64>,
    today: NaiveDate,
) -> Result<(Proposal, Vec<(IsoWeek, f64)>), Miss> {
    let crop = almanac.crop(variety).ok_or(Miss::NoFigures)?;
    let group = almanac.variety(variety).and_then(|v| v.group);
    let figures = stem_figures(crop, almanac.cover(Some(space))).ok_or(Miss::NoFigures)?;
    let date =
        sowing_for_bloom(almanac, crop, group, space, week.monday()).ok_or(Miss::NoFigures)?;
    if date.sow < today {
        return Err(Miss::TooLate(date.sow));
    }
    if let Some(earliest) = date.too_early {
        return Err(Miss::TooEarly(earliest));
    }
    let bloom = bloom_if_planted(
        almanac,
        crop,
        group,
        Some(space),
        date.plant,
        StageKnown::Sown,
    )
    .ok_or(Miss::NoFigures)?;
    // The weeks it is meant for: from the one that is short, as long as it gives at least half its best week.
    let best = figures.shares.iter().copied().fold(0.0, f64::max);
    let meant: Vec<(IsoWeek, f64)> = figures
        .shares
        .iter()
        .enumerate()
        .take_while(|(n, share)| *n == 0 || **share >= best / 2.0)
        .map(|(n, share)| (week.plus(n as i32), *share))
        .filter(|(week, _)| need.contains_key(week))
        .collect();
    let per_plant = figures.saleable_per_plant() * PLANTED_SURVIVAL;
    if per_plant <= 0.0 || meant.is_empty() {
        return Err(Miss::NoFigures);
    }
    // The rising first week is not sized for: the plateau decides, the slack before the target week carries the first one.
    let sized: Vec<&(IsoWeek, f64)> = match meant.len() {
        0 | 1 => meant.iter().collect(),
        _ => meant
            .iter()
            .filter(|(_, share)| *share >= best * 0.75)
            .collect(),
    };
    let (hardest, share, stems) = sized
        .iter()
        .filter_map(|(week, share)| Some((*week, *share, *need.get(week)?)))
        .max_by(|a, b| (a.2 / a.1).total_cmp(&(b.2 / b.1)))
        .ok_or(Miss::NoFigures)?;
    let plants = (stems / (share * per_plant))
        .ceil()
        .clamp(1.0, f64::from(crate::limits::PLANTS_MAX)) as u32;
    let cells = cells_for(almanac, crop, variety, plants, target.chance, date.sow)
        .ok_or(Miss::NoFigures)?;
    let mut why_plants = vec![Reason::measured(
        Say::new("why.stems_wanted")
            .with("n", Arg::Number(stems.ceil() as i64))
            .with("week", hardest)
            .with("of", target.stems),
    )];
    why_plants.push(Reason::assumed(
        Say::new("why.week_share").with("n", Arg::Share(share)),
    ));
    why_plants.extend(figures.why.iter().cloned());
    why_plants.push(Reason::assumed(
        Say::new("why.survival").with("n", Arg::Share(PLANTED_SURVIVAL)),
    ));
    why_plants.push(Reason::forecast(
        Say::new("why.plants_sum").with("n", plants),
    ));
    let last = meant.last().map_or(week, |(week, _)| *week);
    let spacing = crate::space::spacing_cm(almanac, variety);
    let metres = agronomy::spacing::bed_metres_for(
        plants,
        agronomy::quantity::Metres(1.2),
        agronomy::quantity::Metres(spacing / 100.0),
    );
    let gives = figures
        .shares
        .iter()
        .enumerate()
        .map(|(n, share)| {
            (
                week.plus(n as i32),
                f64::from(plants)
                    * per_plant
                    * if n == 0 {
                        share.max(best * 0.75)
                    } else {
                        *share
                    },
            )
        })
        .collect();
    Ok((
        Proposal {
            target: target.id.clone(),
            variety: variety.clone(),
            sow: date.sow,
            plant: date.plant,
            space: space.id.clone(),
            bloom,
            plants,
            cells: cells.cells,
            weeks: (week, last),
            bed_metres: metres.0,
            why_plants,
            why_cells: cells.why,
            why_dates: date.why,
        },
        gives,
    ))
}
