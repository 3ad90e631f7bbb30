//! A sowing's outlook: how many will stand, when to stop waiting, when to plant, when it blooms.

use agronomy::bloom::StageKnown;
use agronomy::emergence::{self, EmergenceFigures, Outlook};
use agronomy::quantity::Spread;
use chrono::NaiveDate;
use culture::Crop;

use super::germination::lot_germination;
use super::timing::{bloom_if_planted, planting_window};
use super::{Window, shifted};
use crate::almanac::Almanac;
use crate::ids::*;
use crate::past_trays::PastTray;
use crate::state::{Sowing, Standing};
use crate::why::Reason;
use crate::words::{Arg, Say};

/// Share of seedlings that are good enough to plant: runts, doubles and those without a growing tip stay behind. Common practice.
pub const USABLE_SHARE: f64 = 0.92;
/// A day is called quiet when fewer than this share of the cells sown ...
pub const QUIET_SHARE: f64 = 0.03;
/// ... are expected newly up within so many days. Common practice: under 3 in 100 in three days.
pub const QUIET_DAYS: f64 = 3.0;

/// What is judged by eye ("about three quarters") is worth a count of so many cells: two times of three it is within ten points. From
/// memory of practice.
pub const EYE_CELLS: u32 = 20;

/// No bench is taken for faster or slower than this many times the usual.
const PACES: (f64, f64) = (0.5, 2.0);

/// Days after half are up when the first true leaves show. Common practice.
pub const TRUE_LEAVES_DAYS: i64 = 12;

/// Once plants of a sowing are set, a rest of no more than this share of those that came up is spare: kept for gaps, not waiting
/// for a bed. Twice the usual loss after planting, from memory of practice.
const SPARE_SHARE: f64 = 0.15;

/// Where a sowing is on its way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum TrayStage {
    /// Nothing counted up yet.
    Sown,
    /// Coming up.
    Emerging,
    /// Growing on: dome lifted and mat off, or the count called.
    Growing,
    /// Hardening off.
    Hardening,
    /// All planted or given up.
    Ended,
}

impl TrayStage {
    /// The key of its word.
    pub fn key(self) -> &'static str {
        match self {
            Self::Sown => "stage.sown",
            Self::Emerging => "stage.emerging",
            Self::Growing => "stage.growing",
            Self::Hardening => "stage.hardening",
            Self::Ended => "stage.ended",
        }
    }
}

/// What follows from a sowing's records.
#[derive(Debug, Clone)]
pub struct TrayForecast {
    /// Which sowing.
    pub sowing: SowingId,
    /// Days since sowing.
    pub day: i64,
    /// Where it is on its way.
    pub stage: TrayStage,
    /// Cells and plants today.
    pub standing: Standing,
    /// Whether what is left after planting is only spare plants.
    pub spare: bool,
    /// What was to be expected before the first count, for seed.
    pub expected: Option<Expected>,
    /// The emergence outlook, for seed.
    pub outlook: Option<Outlook>,
    /// Cells up in the end, of those sown, losses not taken off.
    pub final_up: Option<Spread<f64>>,
    /// The day by which half of those that come are up.
    pub half_up: Option<NaiveDate>,
    /// How many days later than usual that is, if anything was counted.
    pub late_days: i64,
    /// From this day on so few more come that waiting is over.
    pub quiet: Option<NaiveDate>,
    /// Expected newly up between today and the quiet day.
    pub to_come: f64,
    /// Plants good enough to set, all that are still in trays.
    pub plants: Spread<f64>,
    /// The space they are meant for.
    pub space: Option<SpaceId>,
    /// When hardening off begins.
    pub harden: Option<NaiveDate>,
    /// When to plant.
    pub plant: Option<Window>,
    /// First bloom if planted at its best date, or today if that is past.
    pub bloom: Option<Spread<NaiveDate>>,
    /// The chain behind the planting date.
    pub why_plant: Vec<Reason>,
    /// The chain behind the number of plants.
    pub why_plants: Vec<Reason>,
}

/// What to expect of a sowing before its first count, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct Expected {
    /// How it usually comes up.
    pub usual: EmergenceFigures,
    /// The chain behind it.
    pub why: Vec<Reason>,
}

/// The crop's usual emergence with a sowing's own seed in it, at the pace of this grower's bench; a cell with several seeds is up when
/// one of them is.
pub fn usual_for(almanac: &Almanac<'_>, crop: &Crop, sowing: &Sowing) -> Option<Expected> {
    let usual = crop.emergence_usual()?;
    let germination = lot_germination(
        almanac,
        crop,
        &sowing.variety,
        sowing.lot.as_ref(),
        sowing.date,
        Some(&sowing.id),
    )?;
    let cell = |rate: f64| 1.0 - (1.0 - rate).powi(sowing.seeds_per_cell.clamp(1, 50) as i32);
    let mean = cell(germination.rate).clamp(0.01, 0.999);
    // The range between lots lies about what is usual here.
    let moved = mean - cell(usual.germination);
    let mut why = germination.why;
    let pace = bench_pace(almanac.past_trays(crop.id().as_str()), sowing, &mut why);
    let usual = EmergenceFigures {
        first_day: usual.first_day * pace,
        half_day: usual.half_day * pace,
        most_day: usual.most_day * pace,
        germination: mean,
        // Packet and trays say more of this seed than the crop's range from poor to good lots: their weight alone counts.
        germination_low: if germination.own_seed {
            mean
        } else {
            (cell(usual.germination_low) + moved).clamp(0.0, mean)
        },
        germination_high: if germination.own_seed {
            mean
        } else {
            (cell(usual.germination_high) + moved).clamp(mean, 1.0)
        },
        weight_seeds: germination.weight.min(200.0),
    };
    Some(Expected { usual, why })
}

/// How much slower (above 1) or faster than usual seed of a crop comes up on this bench, by the trays that were counted before a
/// sowing. Differences between sowings are taken for half the tray's and half the bench's (from memory of practice), so a few trays
/// move it by a part of what they show.
fn bench_pace(past: &[PastTray], sowing: &Sowing, why: &mut Vec<Reason>) -> f64 {
    let paces: Vec<f64> = past
        .iter()
        .filter(|tray| tray.counted <= sowing.date && tray.sowing != sowing.id)
        .filter_map(|tray| tray.pace)
        .map(f64::ln)
        .collect();
    if paces.is_empty() {
        return 1.0;
    }
    let n = paces.len() as f64;
    let pace = (paces.iter().sum::<f64>() / (n + 1.0))
        .exp()
        .clamp(PACES.0, PACES.1);
    why.push(Reason::measured(
        Say::new("why.pace")
            .with("trays", paces.len())
            .with("times", Arg::Decimal(pace, 2)),
    ));
    pace
}

/// A sowing's counts to a day, in days since sowing. Seedlings that were up and are lost have come up all the same.
pub(super) fn counts_of(sowing: &Sowing, today: NaiveDate) -> Vec<emergence::Count> {
    sowing
        .counts
        .iter()
        .filter(|count| count.date <= today && count.date >= sowing.date)
        .filter_map(|count| {
            let day = (count.date - sowing.date).num_days() as f64;
            let looked_at = count.of.filter(|of| *of > 0 && *of < sowing.cells);
            let (up, of) = match looked_at {
                _ if count.about => by_eye(count.up, looked_at.unwrap_or(sowing.cells)),
                Some(of) => (count.up.min(of), of),
                None => (
                    sowing.standing(count.date).emerged.min(sowing.cells),
                    sowing.cells,
                ),
            };
            (of > 0 && day <= emergence::DAYS_MAX).then_some(emergence::Count { day, up, of })
        })
        .collect()
}

/// A guess of so many of so many, as the count that is worth as much.
fn by_eye(up: u32, of: u32) -> (u32, u32) {
    let worth = of.min(EYE_CELLS);
    let share = f64::from(up.min(of)) / f64::from(of.max(1));
    ((share * f64::from(worth)).round() as u32, worth)
}

fn outlook_of(
    almanac: &Almanac<'_>,
    crop: &Crop,
    sowing: &Sowing,
    today: NaiveDate,
) -> Option<(Expected, Outlook)> {
    let expected = usual_for(almanac, crop, sowing)?;
    let counts = counts_of(sowing, today);
    let outlook = emergence::outlook(&expected.usual, sowing.cells, &counts).ok()?;
    Some((expected, outlook))
}

/// The outlook of a sowing as of a day.
pub fn of_sowing(almanac: &Almanac<'_>, sowing: &Sowing, today: NaiveDate) -> TrayForecast {
    let day = (today - sowing.date).num_days();
    let standing = sowing.standing(today);
    let crop = almanac.crop(&sowing.variety);
    // Nothing is left to expect of trays that are empty; the outlook is the dearest step.
    let ended = stage_of(sowing, &standing, today, None) == TrayStage::Ended;
    let found = crop
        .filter(|_| !ended)
        .and_then(|crop| outlook_of(almanac, crop, sowing, today));
    let counted = sowing.counts.iter().any(|count| count.date <= today);
    let mut late_days = 0;
    let (mut half_up, mut quiet, mut to_come) = (None, None, 0.0);
    if let Some((Expected { usual, .. }, outlook)) = &found {
        half_up = Some(shifted(sowing.date, outlook.half_day.p50.round() as i64));
        if counted {
            late_days = (outlook.half_day.p50 - usual.half_day).round() as i64;
        }
        // Before the first look there is nothing to call off: waiting lasts at least until most should be up.
        let from = if counted {
            day.max(0) as f64
        } else {
            (day.max(0) as f64).max(usual.half_day)
        };
        let quiet_day = outlook.quiet_day(from, QUIET_DAYS, QUIET_SHARE);
        quiet = Some(shifted(sowing.date, quiet_day as i64));
        to_come = outlook.newly_between(day.max(0) as f64, quiet_day);
    }
    let stage = stage_of(sowing, &standing, today, quiet);
    let (plants, why_plants) = plants_to_set(
        sowing,
        &standing,
        found.as_ref().map(|(_, outlook)| outlook),
    );

    let space = almanac.space_or_usual(sowing.for_space.as_ref().or_else(|| {
        almanac
            .season()
            .planned
            .get(sowing.planned.as_ref()?)?
            .space
            .as_ref()
    }));
    let timed = crop.and_then(|crop| planting_window(almanac, crop, space, sowing.date, late_days));
    let (plant, why_plant) = timed.map_or((None, Vec::new()), |(window, why)| (Some(window), why));
    let harden = crop.zip(plant).map(|(crop, plant)| {
        let days = crop.typical("hardening_off_days").unwrap_or(7.0);
        shifted(plant.best, -(days.round() as i64))
    });
    let group = almanac.variety(&sowing.variety).and_then(|v| v.group);
    let bloom = crop.zip(plant).and_then(|(crop, plant)| {
        bloom_if_planted(
            almanac,
            crop,
            group,
            space,
            plant.best.max(today.min(plant.latest)),
            StageKnown::Sown,
        )
    });
    let (expected, outlook) = found.unzip();
    TrayForecast {
        sowing: sowing.id.clone(),
        day,
        stage,
        standing,
        spare: is_spare(&standing),
        final_up: outlook.as_ref().map(|outlook| outlook.final_up),
        expected,
        outlook,
        half_up,
        late_days,
        quiet,
        to_come,
        plants,
        space: space.map(|s| s.id.clone()),
        harden,
        plant,
        bloom,
        why_plant,
        why_plants,
    }
}

fn is_spare(standing: &Standing) -> bool {
    let left = f64::from(standing.up.unwrap_or(standing.cells));
    standing.transplanted > 0 && left <= SPARE_SHARE * f64::from(standing.emerged)
}

fn stage_of(
    sowing: &Sowing,
    standing: &Standing,
    today: NaiveDate,
    quiet: Option<NaiveDate>,
) -> TrayStage {
    let by = |date: Option<NaiveDate>| date.is_some_and(|d| d <= today);
    if by(sowing.finished) || !standing.in_trays() {
        TrayStage::Ended
    } else if by(sowing.hardening) {
        TrayStage::Hardening
    } else if standing.emerged == 0 {
        TrayStage::Sown
    } else if by(sowing.mat_off) || by(sowing.dome_lifted) && quiet.is_none_or(|q| q <= today) {
        TrayStage::Growing
    } else {
        TrayStage::Emerging
    }
}

fn plants_to_set(
    sowing: &Sowing,
    standing: &Standing,
    outlook: Option<&Outlook>,
) -> (Spread<f64>, Vec<Reason>) {
    let mut why = Vec::new();
    let gone = f64::from(standing.emerged.saturating_sub(standing.up.unwrap_or(0)));
    let room = f64::from(standing.cells);
    let up = match (standing.up, outlook) {
        (Some(up), Some(outlook)) => {
            why.push(Reason::measured(Say::new("why.plants_up").with("n", up)));
            let spread = outlook
                .final_up
                .map(|n| (n - gone).clamp(f64::from(standing.surely_up()).min(room), room));
            why.push(Reason::forecast(
                Say::new("why.plants_final").with_spread(spread),
            ));
            spread
        }
        (Some(up), None) => {
            why.push(Reason::measured(Say::new("why.plants_up").with("n", up)));
            Spread::exact(f64::from(up))
        }
        (None, Some(outlook)) => {
            let share = if sowing.cells == 0 {
                0.0
            } else {
                room / f64::from(sowing.cells)
            };
            let spread = outlook.final_up.map(|n| n * share);
            why.push(Reason::forecast(
                Say::new("why.plants_final").with_spread(spread),
            ));
            spread
        }
        (None, None) => Spread::exact(room),
    };
    why.push(Reason::assumed(
        Say::new("why.usable").with("n", Arg::Share(USABLE_SHARE)),
    ));
    (up.map(|n| n * USABLE_SHARE), why)
}
