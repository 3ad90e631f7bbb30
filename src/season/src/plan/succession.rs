//! One succession: the sowing that serves a week, sized by the week that is hardest to fill.

use agronomy::bloom::StageKnown;
use agronomy::iso_week::IsoWeek;
use agronomy::quantity::{Metres, Spread};
use agronomy::spacing::bed_metres_for;
use chrono::NaiveDate;

use super::serve::Stems;
use super::{Proposal, SowingDate, cells_for, sowing_for_bloom};
use crate::almanac::Almanac;
use crate::forecast::{
    PLANTED_SURVIVAL, StemFigures, bloom_if_planted, by_week, spared_by_frost, stem_figures,
};
use crate::ids::*;
use crate::limits::PLANTS_MAX;
use crate::space::spacing_cm;
use crate::state::{Space, Target};
use crate::why::Reason;
use crate::words::{Arg, Say};

/// A succession whose stems in the week that is short are fewer than this share of its best week comes too early or late for it.
const FIRST_WEEK_SHARE: f64 = 0.5;
/// Weeks of at least this share of a succession's best week are filled by it.
const FULL_WEEK_SHARE: f64 = 0.75;
/// Width of the bed that a proposal's metres are told for, m.
const BED_WIDTH_M: f64 = 1.2;

/// Why a week can't be served.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Miss {
    /// Nowhere to plant.
    NoSpace,
    /// The reference lacks what is needed to time the crop.
    NoFigures,
    /// The last sowing day for it has passed.
    TooLate(NaiveDate),
    /// Frost holds planting back: the earliest bloom.
    TooEarly(NaiveDate),
    /// Autumn frost ends the crop first.
    Frost,
}

impl Miss {
    pub(super) fn key(&self) -> &'static str {
        match self {
            Self::NoSpace => "short.no_space",
            Self::NoFigures => "short.no_figures",
            Self::TooLate(_) => "short.too_late",
            Self::TooEarly(_) => "short.too_early",
            Self::Frost => "short.frost",
        }
    }

    pub(super) fn say(&self) -> Say {
        let say = Say::new(self.key());
        match self {
            Self::TooLate(date) | Self::TooEarly(date) => say.with("date", *date),
            _ => say,
        }
    }

    pub(super) fn latest_sowing(&self) -> Option<NaiveDate> {
        match self {
            Self::TooLate(date) => Some(*date),
            _ => None,
        }
    }
}

/// One succession for a week: the variety whose turn it is, or the next one that can bloom in time, in the space that lets it.
pub(super) fn succession(
    almanac: &Almanac<'_>,
    target: &Target,
    varieties: &[VarietyId],
    turn: usize,
    week: IsoWeek,
    need: &Stems,
    today: NaiveDate,
) -> Result<Succession, Miss> {
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
            match place(almanac, variety, space, week, need, today) {
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

/// A sowing in the making.
#[derive(Debug, Clone)]
pub(super) struct Succession {
    /// What is sown.
    pub variety: VarietyId,
    /// Plants to set.
    pub plants: u32,
    space: SpaceId,
    date: SowingDate,
    bloom: Spread<NaiveDate>,
    figures: StemFigures,
    /// Saleable stems of one plant by week.
    per_plant: Vec<(IsoWeek, f64)>,
    /// Share of a plant's stems by week.
    shares: Vec<(IsoWeek, f64)>,
    /// First and last week that it is meant for.
    weeks: (IsoWeek, IsoWeek),
}

/// The week that decides how many plants it takes.
pub(super) struct Hardest {
    week: IsoWeek,
    stems: f64,
    pub plants: u32,
}

impl Succession {
    /// Stems by week.
    pub fn gives(&self) -> impl Iterator<Item = (IsoWeek, f64)> {
        let plants = f64::from(self.plants);
        self.per_plant
            .iter()
            .map(move |(week, stems)| (*week, plants * stems))
    }

    /// The week that takes most plants, given the stems that are needed and those that come from elsewhere.
    pub fn hardest(&self, need: &Stems, elsewhere: &Stems) -> Option<Hardest> {
        let weeks = self.per_plant.iter().copied();
        hardest(weeks, need, elsewhere)
    }

    /// As a proposal; `None` if no number of cells gives the plants.
    pub fn proposal(
        &self,
        almanac: &Almanac<'_>,
        target: &Target,
        need: &Stems,
        elsewhere: &Stems,
    ) -> Option<Proposal> {
        let crop = almanac.crop(&self.variety)?;
        let (variety, sow) = (&self.variety, self.date.sow);
        let cells = cells_for(almanac, crop, variety, self.plants, target.chance, sow)?;
        let spacing = Metres(spacing_cm(almanac, variety) / 100.0);
        Some(Proposal {
            target: target.id.clone(),
            variety: variety.clone(),
            sow,
            plant: self.date.plant,
            space: self.space.clone(),
            bloom: self.bloom,
            plants: self.plants,
            cells: cells.cells,
            weeks: self.weeks,
            bed_metres: bed_metres_for(self.plants, Metres(BED_WIDTH_M), spacing).0,
            why_plants: self.why_plants(target, need, elsewhere),
            why_cells: cells.why,
            why_dates: self.date.why.clone(),
        })
    }

    fn why_plants(&self, target: &Target, need: &Stems, elsewhere: &Stems) -> Vec<Reason> {
        let mut why = Vec::new();
        if let Some(hardest) = self.hardest(need, elsewhere) {
            let share = self.shares.iter().find(|(week, _)| *week == hardest.week);
            why.push(Reason::measured(
                Say::new("why.stems_wanted")
                    .with("n", Arg::Number(hardest.stems.ceil() as i64))
                    .with("week", hardest.week)
                    .with("of", target.stems),
            ));
            why.extend(share.map(|(_, share)| {
                Reason::assumed(Say::new("why.week_share").with("n", Arg::Share(*share)))
            }));
        }
        why.extend(self.figures.why.iter().cloned());
        why.push(Reason::assumed(
            Say::new("why.survival").with("n", Arg::Share(PLANTED_SURVIVAL)),
        ));
        why.push(Reason::forecast(
            Say::new("why.plants_sum").with("n", self.plants),
        ));
        why
    }
}

fn hardest(
    per_plant: impl Iterator<Item = (IsoWeek, f64)>,
    need: &Stems,
    elsewhere: &Stems,
) -> Option<Hardest> {
    per_plant
        .filter(|(_, stems)| *stems > 1e-6)
        .filter_map(|(week, per_plant)| {
            let stems = need.get(&week)? - elsewhere.get(&week).copied().unwrap_or(0.0);
            // A hair of rounding is not a plant more.
            let plants = (stems / per_plant - 1e-6).ceil();
            let plants = plants.clamp(0.0, f64::from(PLANTS_MAX)) as u32;
            (plants > 0).then_some(Hardest {
                week,
                stems,
                plants,
            })
        })
        .max_by_key(|hardest| hardest.plants)
}

/// A succession of a variety in a space for a week.
fn place(
    almanac: &Almanac<'_>,
    variety: &VarietyId,
    space: &Space,
    week: IsoWeek,
    need: &Stems,
    today: NaiveDate,
) -> Result<Succession, Miss> {
    let crop = almanac.crop(variety).ok_or(Miss::NoFigures)?;
    let group = almanac.variety(variety).and_then(|v| v.group);
    let there = Some(space);
    let figures = stem_figures(crop, almanac.cover(there)).ok_or(Miss::NoFigures)?;
    let date =
        sowing_for_bloom(almanac, crop, group, space, week.monday()).ok_or(Miss::NoFigures)?;
    if date.sow < today {
        return Err(Miss::TooLate(date.sow));
    }
    let bloom = bloom_if_planted(almanac, crop, group, there, date.plant, StageKnown::Sown)
        .ok_or(Miss::NoFigures)?;
    // By calendar week, exactly as the forecast will have it once it is sown; the best week is one that frost spares.
    let spared = spared_by_frost(almanac, crop, there, bloom.p50);
    let unharmed = by_week(1.0, &figures.shares, bloom);
    let best = unharmed.iter().map(|(_, share)| *share).fold(0.0, f64::max);
    let shares: Vec<(IsoWeek, f64)> = unharmed
        .into_iter()
        .map(|(week, share)| (week, share * spared(week)))
        .collect();
    let here = shares.iter().find(|(this, _)| *this == week);
    if here.is_none_or(|(_, share)| *share < best * FIRST_WEEK_SHARE) || best <= 0.0 {
        return Err(date.held_back.map_or(Miss::Frost, Miss::TooEarly));
    }
    let saleable = figures.saleable_per_plant() * PLANTED_SURVIVAL;
    let per_plant: Vec<(IsoWeek, f64)> = shares
        .iter()
        .map(|(week, share)| (*week, share * saleable))
        .collect();
    // Meant for the weeks from the one that is short, as long as it gives at least half its best week. Filled are that week and the
    // full ones after it; the tail is left to the next succession.
    let meant: Vec<&(IsoWeek, f64)> = shares
        .iter()
        .skip_while(|(this, _)| *this < week)
        .take_while(|(this, share)| *share >= best / 2.0 && need.contains_key(this))
        .collect();
    let filled = meant
        .iter()
        .filter(|(this, share)| *this == week || *share >= best * FULL_WEEK_SHARE)
        .map(|(week, share)| (*week, share * saleable));
    let plants = hardest(filled, need, &Stems::new()).ok_or(Miss::NoFigures)?;
    let last = meant.last().map_or(week, |(week, _)| *week);
    Ok(Succession {
        variety: variety.clone(),
        plants: plants.plants,
        space: space.id.clone(),
        date,
        bloom,
        figures,
        per_plant,
        shares,
        weeks: (week, last),
    })
}
