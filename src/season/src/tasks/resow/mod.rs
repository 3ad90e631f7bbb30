//! Enough plants, or sow again, and by when.

mod blooms;
mod seen;

use chrono::NaiveDate;
use culture::Crop;

pub use self::blooms::Cost;

use self::blooms::Blooms;
use self::seen::Seen;
use super::prick_out::spare_doubles;
use crate::almanac::Almanac;
use crate::forecast::{Outlook, USABLE_SHARE, usual_for};
use crate::state::{Season, Sowing};
use crate::why::Reason;
use crate::words::{Arg, Say};

/// Below it the same lot is not sown again at the same settings. Common practice.
const POOR: f64 = 0.3;
/// A shortfall below this share of what is needed is accepted or spaced away. Common practice: a tenth.
const ACCEPTED: f64 = 0.1;
/// What was lost whole is asked about for so long after its last useful day; then it is history. From memory of practice.
const ASKED_DAYS: i64 = 14;
/// Sowings that make up for each other in a chain: nobody sows again so often.
const CHAIN_MOST: usize = 50;

/// A shortfall of a sowing and what sowing again would take.
#[derive(Debug, Clone, PartialEq)]
pub struct Resow {
    /// Plants short.
    pub short: u32,
    /// Cells to sow again.
    pub cells: u32,
    /// The last day on which it still serves.
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

/// The first sowing of a chain in which each makes up for the one before.
fn first_of<'a>(season: &'a Season, sowing: &'a Sowing) -> &'a Sowing {
    let mut first = sowing;
    // A file may hold a ring.
    for _ in 0..CHAIN_MOST {
        let before = first.again_for.as_ref();
        match before.and_then(|id| season.sowings.get(id)) {
            Some(before) => first = before,
            None => break,
        }
    }
    first
}

/// The sowings that serve what the first of them was sown for.
fn together<'a>(season: &'a Season, sowing: &'a Sowing) -> (&'a Sowing, Vec<&'a Sowing>) {
    let first = first_of(season, sowing);
    let serves = |other: &&Sowing| {
        let planned = first.planned.is_some() && other.planned == first.planned;
        planned
            || other.id == first.id
            || other.again_for.is_some() && first_of(season, other).id == first.id
    };
    (first, season.sowings.values().filter(serves).collect())
}

/// The plants that a sowing was meant to give: as planned, else what its cells usually give.
fn meant(almanac: &Almanac<'_>, crop: &Crop, first: &Sowing) -> Option<f64> {
    let planned = first.planned.as_ref();
    let plants = match planned.and_then(|id| almanac.season().planned.get(id)) {
        Some(planned) => f64::from(planned.plants),
        None => {
            let usual = usual_for(almanac, crop, first)?.usual;
            f64::from(first.cells) * usual.germination * USABLE_SHARE
        }
    };
    Some(plants).filter(|plants| *plants >= 1.0)
}

/// Whether a shortfall is no matter any more: what came up is in its bed and nobody planned for more, or nothing is left in trays and
/// the time to do something about it is over.
fn is_past(first: &Sowing, all: &[&Sowing], latest: NaiveDate, today: NaiveDate) -> bool {
    let standing = |sowing: &&Sowing| sowing.standing(today);
    let planted = all.iter().any(|s| standing(s).transplanted > 0);
    let in_trays = all.iter().any(|s| standing(s).in_trays());
    let over = (today - latest).num_days() > ASKED_DAYS;
    if first.planned.is_some() {
        !in_trays && (planted || over)
    } else {
        planted || over
    }
}

/// Whether a sowing falls short of what it was meant to give by a tenth or more, and until when sowing again helps.
///
/// Sowings that serve the same count with it; it is said once, at the newest of them. The germination seen is used, not the packet's.
pub fn resow(outlook: &Outlook<'_>, sowing: &Sowing) -> Option<Resow> {
    let (almanac, today) = (outlook.almanac(), outlook.today());
    let supply = outlook.supply();
    let season = almanac.season();
    let (first, all) = together(season, sowing);
    let newest = all.iter().max_by_key(|other| (other.date, &other.id))?;
    // Seed just sown again is hoped for until it is counted itself; before any count or loss nothing is known to lack.
    let known = |other: &&Sowing| other.last_count().is_some() || !other.losses.is_empty();
    if newest.id != sowing.id || sowing.finished.is_some() || !all.iter().any(known) {
        return None;
    }
    let crop = almanac.crop(&sowing.variety)?;
    let need = meant(almanac, crop, first)?;
    let have: f64 = all
        .iter()
        .filter_map(|other| supply.trays.get(&other.id))
        .map(|tray| {
            let pricked_out = f64::from(spare_doubles(&tray.standing)) * USABLE_SHARE;
            tray.plants.p50 + pricked_out + f64::from(tray.standing.transplanted)
        })
        .sum();
    if have >= need * (1.0 - ACCEPTED) {
        return None;
    }
    let short = (need - have).ceil() as u32;
    let seen = all
        .iter()
        .rev()
        .find_map(|other| Seen::of(other, supply.trays.get(&other.id)?));
    let seen = match seen {
        Some(seen) => seen,
        None => {
            let usual = usual_for(almanac, crop, sowing)?.usual;
            Seen::usual(usual.germination, usual.weight_seeds)
        }
    };
    let cells = seen.cells_for(short)?;
    let space = supply
        .trays
        .get(&first.id)
        .and_then(|tray| tray.space.as_ref());
    let bloom = Blooms {
        almanac,
        crop,
        first,
        space: space.and_then(|id| almanac.space(id)),
    };
    let latest = bloom.latest_useful(today);
    let too_late = latest < today;
    if is_past(first, &all, latest, today) {
        return None;
    }
    let cost = bloom.cost(today).filter(|_| !too_late);
    let is_poor = seen.range.is_some() && seen.rate < POOR;
    let key = match (too_late, is_poor) {
        (true, _) => "task.sow_again.too_late",
        (false, true) => "task.sow_again.poor",
        (false, false) => "task.sow_again.why",
    };
    let need = Arg::Number(need.round() as i64);
    Some(Resow {
        short,
        cells,
        latest,
        too_late,
        cost,
        say: Say::new(key)
            .with("short", short)
            .with("need", need.clone())
            .with("cells", cells)
            .with("date", latest)
            .with("rate", Arg::Share(seen.rate))
            .with_some("weeks", cost.map(|cost| cost.weeks))
            .with_some("missed", cost.map(|cost| cost.today))
            .with_some("later", cost.map(|cost| cost.in_a_week)),
        why: why(have, need, seen),
    })
}

fn why(have: f64, need: Arg, seen: Seen) -> Vec<Reason> {
    let rate = Arg::Share(seen.rate);
    let germination = match seen.range {
        Some(range) => Reason::measured(
            Say::new("why.germination_here")
                .with("n", rate)
                .with("low", Arg::Share(range.low.get()))
                .with("high", Arg::Share(range.high.get())),
        ),
        None => Reason::assumed(Say::new("why.germination_hoped").with("n", rate)),
    };
    vec![
        Reason::measured(
            Say::new("why.have_plants")
                .with("n", Arg::Number(have.round() as i64))
                .with("need", need),
        ),
        germination,
        Reason::assumed(Say::new("why.usable").with("n", Arg::Share(USABLE_SHARE))),
    ]
}

#[cfg(test)]
mod tests {
    use crate::fact::{LossCause, LostFact, TransplantedFact};
    use crate::ids::SowingId;
    use crate::sample::Sample;
    use crate::tasks::{Subject, TaskKind, tasks};

    /// Whether a tray is to be sown again on a day.
    fn asked(sample: &Sample, sowing: &SowingId, on: &str) -> bool {
        let today = sample.day(on);
        sample.on(today, |outlook| {
            tasks(outlook).iter().any(|task| {
                task.kind == TaskKind::SowAgain && task.subject == Subject::Sowing(sowing.clone())
            })
        })
    }

    fn lose(sample: &mut Sample, sowing: &SowingId, on: &str, number: u32) {
        let date = sample.day(on);
        sample.add(LostFact {
            sowing: Some(sowing.clone()),
            ..LostFact::new(LossCause::Dropped, number, date)
        });
    }

    #[test]
    fn a_tray_lost_whole_is_asked_about_until_it_is_history() {
        let mut sample = Sample::new();
        let variety = sample.variety("v", "zinnia", "white");
        let tray = sample.sown(&variety, "2027-04-20", 72);
        assert!(!asked(&sample, &tray, "2027-04-25"), "nothing is known yet");
        lose(&mut sample, &tray, "2027-04-25", 72);
        assert!(asked(&sample, &tray, "2027-04-25"));
        // Four weeks it goes with the first; a fortnight more it is told that it is too late.
        assert!(asked(&sample, &tray, "2027-06-01"));
        assert!(!asked(&sample, &tray, "2027-06-02"));
        assert!(!asked(&sample, &tray, "2028-04-25"));
    }

    #[test]
    fn what_came_up_and_was_planted_is_not_mourned() {
        let mut sample = Sample::new();
        let variety = sample.variety("v", "zinnia", "white");
        let bed = sample.bed("b", 20.0);
        let tray = sample.sown(&variety, "2027-04-20", 72);
        sample.counted(&tray, "2027-04-30", 30);
        assert!(
            asked(&sample, &tray, "2027-05-01"),
            "half of what was hoped for"
        );
        let date = sample.day("2027-05-20");
        sample.add(TransplantedFact::new(tray.clone(), bed, 28, date));
        assert!(!asked(&sample, &tray, "2027-05-20"));
    }
}
