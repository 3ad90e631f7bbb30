//! Enough plants, or sow again, and by when.

use agronomy::bloom::StageKnown;
use agronomy::proportion::{Interval, wilson};
use agronomy::quantity::{Chance, Z90};
use agronomy::sowing::least_sown_uncertain;
use chrono::NaiveDate;
use culture::Crop;

use super::prick_out::spare_doubles;
use crate::almanac::Almanac;
use crate::forecast::{
    EYE_CELLS, Supply, TrayForecast, USABLE_SHARE, bloom_if_planted, planting_window, shifted,
};
use crate::state::{PlannedSowing, Sowing, Target};
use crate::why::Reason;
use crate::words::{Arg, Say};

/// The chance wanted of making up a shortfall. Common practice sows 1.12 over what the germination seen asks for, which comes to much
/// the same.
const SHORTFALL_CHANCE: f64 = 0.8;
/// The confidence of the range that is told of the germination seen.
const CONFIDENCE: f64 = 0.95;
/// Below it the same lot is not sown again at the same settings. Common practice.
const POOR: f64 = 0.3;
/// A shortfall below this share of what is needed is accepted or spaced away. Common practice: a tenth.
const ACCEPTED: f64 = 0.1;

/// A shortfall of a planned sowing and what sowing again would take.
#[derive(Debug, Clone, PartialEq)]
pub struct Resow {
    /// Plants short.
    pub short: u32,
    /// Cells to sow again.
    pub cells: u32,
    /// The last day on which it still serves the target.
    pub latest: NaiveDate,
    /// Whether that day has passed.
    pub too_late: bool,
    /// What it costs the target.
    pub cost: Option<Cost>,
    /// In one sentence.
    pub say: Say,
    /// The chain behind it.
    pub why: Vec<Reason>,
}

/// Weeks of a target that the stems of a new sowing come too late for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cost {
    /// Weeks wanted.
    pub weeks: u32,
    /// Weeks missed if sown today.
    pub today: u32,
    /// Weeks missed if sown a week later.
    pub in_a_week: u32,
}

/// The germination seen, and how sure it is.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Seen {
    rate: f64,
    /// Cells' worth of evidence.
    weight: f64,
    range: Interval,
}

impl Seen {
    /// Of a sowing by its outlook: known no better than by as many cells as were looked at.
    fn of(sowing: &Sowing, forecast: &TrayForecast) -> Option<Self> {
        let cells = f64::from(sowing.cells.max(1));
        let up = forecast.final_up?;
        let rate = (up.p50 / cells).clamp(0.02, 0.98);
        let looked_at = looked_at(sowing);
        let range = wilson(
            (rate * f64::from(looked_at)).round() as u32,
            looked_at,
            Chance::new(CONFIDENCE).ok()?,
        )
        .ok()?;
        // What is still to come up is not known, either.
        let spread = (up.p90 - up.p10) / (2.0 * Z90 * cells);
        let by_spread = if spread > 0.0 {
            rate * (1.0 - rate) / (spread * spread) - 1.0
        } else {
            f64::INFINITY
        };
        Some(Self {
            rate,
            weight: by_spread.min(f64::from(looked_at)).max(2.0),
            range,
        })
    }

    /// Cells to sow for so many plants.
    fn cells_for(self, plants: u32) -> Option<u32> {
        let per_cell = self.rate * USABLE_SHARE;
        least_sown_uncertain(
            plants,
            per_cell * self.weight,
            (1.0 - per_cell) * self.weight,
            Chance::new(SHORTFALL_CHANCE).ok()?,
        )
        .ok()
    }
}

/// The cells that the last count looked at, those of a guess by eye for what it is worth.
fn looked_at(sowing: &Sowing) -> u32 {
    let last = sowing.last_count();
    let of = last.and_then(|count| count.of).unwrap_or(sowing.cells);
    match last {
        Some(count) if count.about => of.min(EYE_CELLS),
        _ => of,
    }
    .max(1)
}

/// Whether a sowing that was planned for a number of plants falls short by a tenth or more, and until when sowing again helps.
///
/// Other sowings made for the same planned one count with it. The germination seen is used, not the packet's.
pub fn resow(
    almanac: &Almanac<'_>,
    sowing: &Sowing,
    forecast: &TrayForecast,
    supply: &Supply,
    today: NaiveDate,
) -> Option<Resow> {
    let planned = almanac.season().planned.get(sowing.planned.as_ref()?)?;
    let counted = sowing.last_count().is_some() || !sowing.losses.is_empty();
    // Said once, at the latest of the sowings made for the planned one.
    let newest = almanac
        .season()
        .sowings
        .values()
        .filter(|other| other.planned == sowing.planned)
        .max_by_key(|other| (other.date, other.id.clone()))?;
    if !counted || newest.id != sowing.id || planned.plants == 0 {
        return None;
    }
    let have: f64 = almanac
        .season()
        .sowings
        .values()
        .filter(|other| other.planned == sowing.planned)
        .filter_map(|other| supply.trays.get(&other.id))
        .map(|tray| {
            let pricked_out = f64::from(spare_doubles(&tray.standing)) * USABLE_SHARE;
            tray.plants.p50 + pricked_out + f64::from(tray.standing.transplanted)
        })
        .sum();
    let need = f64::from(planned.plants);
    if have >= need * (1.0 - ACCEPTED) {
        return None;
    }
    let short = (need - have).ceil() as u32;
    let crop = almanac.crop(&sowing.variety)?;
    let seen = Seen::of(sowing, forecast)?;
    let cells = seen.cells_for(short)?;
    let bloom = Blooms {
        almanac,
        crop,
        planned,
        forecast,
    };
    let latest = bloom.latest_useful(today)?;
    let too_late = latest < today;
    let cost = bloom.cost(today);
    let key = if too_late {
        "task.sow_again.too_late"
    } else if seen.rate < POOR {
        "task.sow_again.poor"
    } else {
        "task.sow_again.why"
    };
    Some(Resow {
        short,
        cells,
        latest,
        too_late,
        cost,
        say: Say::new(key)
            .with("short", short)
            .with("need", planned.plants)
            .with("cells", cells)
            .with("date", latest)
            .with_some(
                "rate",
                Some(Arg::Share(seen.rate)).filter(|_| seen.rate < POOR),
            )
            .with_some("weeks", cost.map(|cost| cost.weeks).filter(|_| !too_late))
            .with_some("missed", cost.map(|cost| cost.today).filter(|_| !too_late))
            .with_some(
                "later",
                cost.map(|cost| cost.in_a_week).filter(|_| !too_late),
            ),
        why: vec![
            Reason::measured(
                Say::new("why.have_plants")
                    .with("n", Arg::Number(have.round() as i64))
                    .with("need", planned.plants),
            ),
            Reason::measured(
                Say::new("why.germination_here")
                    .with("n", Arg::Share(seen.rate))
                    .with("low", Arg::Share(seen.range.low.get()))
                    .with("high", Arg::Share(seen.range.high.get())),
            ),
            Reason::assumed(Say::new("why.usable").with("n", Arg::Share(USABLE_SHARE))),
        ],
    })
}

/// When a new sowing for a planned one would bloom.
struct Blooms<'a> {
    almanac: &'a Almanac<'a>,
    crop: &'a Crop,
    planned: &'a PlannedSowing,
    forecast: &'a TrayForecast,
}

impl Blooms<'_> {
    fn target(&self) -> Option<&Target> {
        self.almanac
            .season()
            .targets
            .get(self.planned.target.as_ref()?)
    }

    /// First bloom, in the middle, if sown on a day.
    fn of(&self, sow: NaiveDate) -> Option<NaiveDate> {
        let space = self.forecast.space.as_ref();
        let space = space.and_then(|id| self.almanac.space(id));
        let variety = self.planned.variety.as_ref();
        let group = variety
            .and_then(|id| self.almanac.variety(id))
            .and_then(|v| v.group);
        let (window, _) = planting_window(self.almanac, self.crop, space, sow, 0)?;
        let stage = StageKnown::Sown;
        bloom_if_planted(self.almanac, self.crop, group, space, window.best, stage)
            .map(|bloom| bloom.p50)
    }

    /// The last sowing day from which stems still come in the target's last week; without a target, within the crop's usual lateness.
    fn latest_useful(&self, today: NaiveDate) -> Option<NaiveDate> {
        let Some(end) = self.target().and_then(|t| t.to).map(|week| week.sunday()) else {
            return self.planned.sow.map(|sow| shifted(sow, 28));
        };
        // A planting is worth while if it can be cut for two weeks of the target.
        let useful = shifted(end, -14);
        (0..400)
            .map(|ahead| shifted(today, ahead))
            .take_while(|sow| self.of(*sow).is_some_and(|bloom| bloom <= useful))
            .last()
            .or(Some(shifted(today, -1)))
    }

    /// What sowing again costs the target.
    fn cost(&self, today: NaiveDate) -> Option<Cost> {
        let target = self.target()?;
        let (from, to) = (target.from?.monday(), target.to?.sunday());
        let weeks_before = |date: NaiveDate| {
            let days = (date.min(shifted(to, 1)) - from).num_days().max(0);
            u32::try_from(days / 7).unwrap_or(0)
        };
        Some(Cost {
            weeks: weeks_before(shifted(to, 1)),
            today: weeks_before(self.of(today)?),
            in_a_week: weeks_before(self.of(shifted(today, 7))?),
        })
    }
}
