//! Where what stands, is sown, accepted and proposed would overflow mats, shelves or hardening spots.

use agronomy::iso_week::IsoWeek;

use super::Proposal;
use super::rooms::{TRAY_KINDS, room_of};
use crate::fact::SpaceKind;
use crate::forecast::{Course, Outlook};
use crate::occupancy::{SpaceUse, occupancy};

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

/// Weeks in which trays would overflow if all proposals and accepted sowings were carried out beside what stands there now.
pub(super) fn crowding(outlook: &Outlook<'_>, proposals: &[Proposal]) -> Vec<Crowding> {
    let almanac = outlook.almanac();
    let proposed: Vec<Course> = proposals
        .iter()
        .filter_map(|proposal| proposal.course(outlook))
        .collect();
    let used = occupancy(outlook, &proposed);
    TRAY_KINDS
        .into_iter()
        .filter_map(|what| Some((what, room_of(almanac, what)?)))
        .flat_map(|(what, room)| overflows(what, room, &used))
        .collect()
}

fn overflows(what: SpaceKind, room: u32, used: &[SpaceUse]) -> Vec<Crowding> {
    let of_kind: Vec<&SpaceUse> = used.iter().filter(|space| space.what == what).collect();
    let weeks = of_kind.first().map_or(&[][..], |space| &space.weeks);
    let over: Vec<(IsoWeek, f64)> = weeks
        .iter()
        .enumerate()
        .map(|(n, week)| {
            let in_week = |space: &&SpaceUse| space.weeks.get(n).map_or(0.0, |week| week.used);
            (week.week, of_kind.iter().map(in_week).sum())
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
