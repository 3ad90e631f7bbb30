//! Where what stands, is sown, accepted and proposed would overflow a mat or a shelf.

use agronomy::iso_week::IsoWeek;
use chrono::NaiveDate;

use super::Proposal;
use super::rooms::{Place, room_of};
use super::stays::{Moves, Stay, cells_per_tray, stays_of_all};
use crate::almanac::Almanac;
use crate::fact::SpaceKind;
use crate::forecast::{Supply, shifted};

/// Weeks that are looked at from today on.
const WEEKS_AHEAD: i32 = 60;
/// Parts of a tray that are let pass: rounding.
const HAIR: f64 = 1e-6;

/// A kind of space that would hold more trays than fit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Crowding {
    /// Which kind.
    pub what: SpaceKind,
    /// First and last week.
    pub weeks: (IsoWeek, IsoWeek),
    /// Most trays in one of these weeks.
    pub trays: u32,
    /// Room in all spaces of the kind.
    pub room: u32,
}

/// Weeks in which mats or shelves would overflow if all proposals and accepted sowings were carried out beside what stands there now.
pub(super) fn crowding(
    almanac: &Almanac<'_>,
    proposals: &[Proposal],
    supply: &Supply,
    today: NaiveDate,
) -> Vec<Crowding> {
    let mut stays = stays_of_all(almanac, supply, today);
    for proposal in proposals {
        if let Some(crop) = almanac.crop(&proposal.variety) {
            let cells = f64::from(cells_per_tray(almanac, &proposal.variety));
            let moves = Moves::of(crop, proposal.sow, proposal.plant);
            stays.extend(moves.stays(f64::from(proposal.cells) / cells));
        }
    }
    let mut found = Vec::new();
    for what in [SpaceKind::Mat, SpaceKind::Shelf, SpaceKind::Hardening] {
        if let Some(room) = room_of(almanac, what) {
            let there = Place::Trays(what);
            let stays: Vec<&Stay> = stays.iter().filter(|stay| stay.place == there).collect();
            found.extend(overflows(what, room, &stays, today));
        }
    }
    found
}

fn overflows(what: SpaceKind, room: u32, stays: &[&Stay], today: NaiveDate) -> Vec<Crowding> {
    let trays_on = |day: NaiveDate| -> f64 {
        stays
            .iter()
            .filter(|stay| stay.from <= day && day < stay.to)
            .map(|stay| stay.amount)
            .sum()
    };
    let first = IsoWeek::of(today);
    let over: Vec<(IsoWeek, f64)> = (0..WEEKS_AHEAD)
        .map(|n| first.plus(n))
        .map(|week| {
            let days = (0..7).map(|n| shifted(week.monday(), n));
            let most = days.filter(|day| *day >= today).map(trays_on);
            (week, most.fold(0.0, f64::max))
        })
        .filter(|(_, trays)| *trays > f64::from(room) + HAIR)
        .collect();
    over.chunk_by(|a, b| a.0.plus(1) == b.0)
        .filter_map(|run| {
            let most = run.iter().map(|(_, trays)| *trays).fold(0.0, f64::max);
            Some(Crowding {
                what,
                weeks: (run.first()?.0, run.last()?.0),
                trays: most.ceil() as u32,
                room,
            })
        })
        .collect()
}
