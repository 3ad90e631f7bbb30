//! Stays put into spaces, day by day, and the weeks that come of it.

use std::collections::BTreeMap;

use agronomy::iso_week::IsoWeek;
use chrono::NaiveDate;

use super::stays::{Stay, Where};
use super::{HAIR, SpaceUse, WEEKS_AHEAD, WeekUse};
use crate::almanac::Almanac;
use crate::ids::*;
use crate::state::Space;

const DAYS: usize = WEEKS_AHEAD as usize * 7;

/// A space day by day.
struct Ledger<'a> {
    space: &'a Space,
    room: Option<f64>,
    used: Vec<f64>,
    firm: Vec<f64>,
}

impl Ledger<'_> {
    /// Room left on the fullest day of a span; without end where the room is not said.
    fn free(&self, days: &std::ops::Range<usize>) -> f64 {
        let most = self
            .used
            .get(days.clone())
            .map_or(0.0, |used| used.iter().copied().fold(0.0, f64::max));
        self.room
            .map_or(f64::INFINITY, |room| (room - most).max(0.0))
    }

    fn add(&mut self, days: &std::ops::Range<usize>, stay: &Stay, needs: f64) {
        let add = |ledger: &mut Vec<f64>| {
            for day in ledger.get_mut(days.clone()).into_iter().flatten() {
                *day += needs;
            }
        };
        add(&mut self.used);
        if stay.firm {
            add(&mut self.firm);
        }
    }
}

pub(super) fn fill(almanac: &Almanac<'_>, mut stays: Vec<Stay>, today: NaiveDate) -> Vec<SpaceUse> {
    let first = IsoWeek::of(today);
    let begin = first.monday();
    let mut ledgers: Vec<Ledger<'_>> = almanac
        .season()
        .spaces_in_order()
        .into_iter()
        .filter(|space| space.holds_trays() || space.holds_beds())
        .map(|space| Ledger {
            space,
            room: room(almanac, space),
            used: vec![0.0; DAYS],
            firm: vec![0.0; DAYS],
        })
        .collect();
    let places: BTreeMap<SpaceId, usize> = ledgers
        .iter()
        .enumerate()
        .map(|(n, ledger)| (ledger.space.id.clone(), n))
        .collect();
    // What has its place comes before what only needs one, and of those what comes first.
    stays.sort_by_key(|stay| (matches!(stay.at, Where::Any(_)), !stay.firm, stay.from));
    let day = |date: NaiveDate| (date - begin).num_days().clamp(0, DAYS as i64) as usize;
    for stay in &stays {
        let days = day(stay.from)..day(stay.to);
        if days.is_empty() {
            continue;
        }
        match &stay.at {
            Where::In(space) => {
                if let Some(ledger) = places.get(space).and_then(|n| ledgers.get_mut(*n)) {
                    ledger.add(&days, stay, stay.needs);
                }
            }
            Where::Any(kind) => {
                let mut left = stay.needs;
                let mut of_kind = ledgers.iter_mut().filter(|l| l.space.what == *kind);
                for ledger in of_kind.by_ref() {
                    let fits = ledger.free(&days).min(left);
                    if fits > 0.0 {
                        ledger.add(&days, stay, fits);
                        left -= fits;
                    }
                    if left <= HAIR {
                        break;
                    }
                }
                let first = ledgers.iter_mut().find(|l| l.space.what == *kind);
                if let Some(ledger) = first.filter(|_| left > HAIR) {
                    ledger.add(&days, stay, left);
                }
            }
        }
    }
    ledgers
        .into_iter()
        .map(|ledger| SpaceUse {
            space: ledger.space.id.clone(),
            what: ledger.space.what,
            room: ledger.room,
            weeks: weeks(&ledger, first),
        })
        .collect()
}

/// Trays that a space has room for, or the length of its beds, m.
fn room(almanac: &Almanac<'_>, space: &Space) -> Option<f64> {
    if space.holds_trays() {
        return space.room.map(f64::from);
    }
    let lengths: Vec<f64> = almanac
        .season()
        .beds
        .values()
        .filter(|bed| bed.space.as_ref() == Some(&space.id) && !bed.retired)
        .filter_map(|bed| bed.length_m)
        .collect();
    (!lengths.is_empty()).then(|| lengths.iter().sum())
}

fn weeks(ledger: &Ledger<'_>, first: IsoWeek) -> Vec<WeekUse> {
    let days = ledger.used.chunks(7).zip(ledger.firm.chunks(7));
    days.zip(0..)
        .map(|((used, firm), n)| WeekUse {
            week: first.plus(n),
            used: used.iter().copied().fold(0.0, f64::max),
            firm: firm.iter().copied().fold(0.0, f64::max),
        })
        .collect()
}
