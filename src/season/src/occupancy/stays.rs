//! Who needs room, of what kind, from when to when: the stays of all courses.

use chrono::NaiveDate;

use crate::fact::SpaceKind;
use crate::forecast::{Course, Phase, Source, Station, Supply};
use crate::ids::*;

/// Where a stay needs its room.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Where {
    /// In this space.
    In(SpaceId),
    /// In any space of a kind.
    Any(SpaceKind),
}

/// Room that is needed from one day on and before another.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Stay {
    pub(super) at: Where,
    pub(super) from: NaiveDate,
    pub(super) to: NaiveDate,
    /// Trays, or metres of bed.
    pub(super) needs: f64,
    /// Whether it is planted or sown already.
    pub(super) firm: bool,
}

/// The stays of what is planted, sown, planned and proposed.
pub(super) fn stays(supply: &Supply, proposed: &[Course], today: NaiveDate) -> Vec<Stay> {
    let known = supply
        .courses
        .iter()
        // Where the day is set back before a record, the sowing's plantings are there already: its trays and beds count once.
        .filter(|(source, course)| !matches!(source, Source::Sowing(_)) || course.sown <= today)
        .map(|(source, course)| (course, !matches!(source, Source::Planned(_))));
    let proposed = proposed.iter().map(|course| (course, false));
    known
        .chain(proposed)
        .flat_map(|(course, firm)| {
            let phases = course.phases.iter();
            phases.filter_map(move |phase| stay(phase, firm, today))
        })
        .collect()
}

fn stay(phase: &Phase, firm: bool, today: NaiveDate) -> Option<Stay> {
    // Trays that are somewhere nobody noted fill no space.
    let is_placed = !firm || phase.from > today;
    let any = |kind| is_placed.then_some(Where::Any(kind));
    let kind = match phase.station {
        Station::Mat => Some(SpaceKind::Mat),
        Station::Shelf => Some(SpaceKind::Shelf),
        Station::Hardening => Some(SpaceKind::Hardening),
        Station::Bed => None,
    };
    let at = match (&phase.space, kind) {
        (Some(space), _) => Where::In(space.clone()),
        (None, Some(kind)) => any(kind)?,
        (None, None) => return None,
    };
    // Trays are counted where they are from today on; a bed is taken up for the whole of its first week.
    let from = match phase.station {
        Station::Bed => phase.from,
        _ => phase.from.max(today),
    };
    Some(Stay {
        at,
        from,
        to: phase.to,
        needs: phase.needs,
        firm,
    })
}
