//! What is to stand in a bed, from when to when, and in which beds it may.

use std::collections::BTreeMap;

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Metres;
use agronomy::spacing::bed_metres_for;
use chrono::NaiveDate;
use planner::layout::BedOption;

use crate::almanac::Almanac;
use crate::forecast::{Course, Source, shifted};
use crate::ids::*;
use crate::space::spacing_cm;
use crate::state::{Bed, Space};

/// What is to stand in a bed.
pub(super) struct Wish<'a> {
    pub what: Source,
    pub variety: VarietyId,
    pub weeks: (IsoWeek, IsoWeek),
    /// The bed it stands in or was given.
    pub bed: Option<&'a Bed>,
    pub space: Option<&'a Space>,
    pub room: Room,
}

/// Room that it takes up.
pub(super) enum Room {
    /// So many metres of its bed.
    Metres(f64),
    /// So many plants at the crop's spacing.
    Plants(u32),
}

/// Length and width of a bed, m, where both are said and make sense.
pub(super) fn size_of(bed: &Bed) -> Option<(f64, f64)> {
    let possible = |metres: &f64| *metres > 0.0 && metres.is_finite();
    Some((
        bed.length_m.filter(possible)?,
        bed.width_m.filter(possible)?,
    ))
}

pub(super) fn wish<'a>(
    almanac: &Almanac<'a>,
    source: &Source,
    course: &Course,
    today: NaiveDate,
) -> Option<Wish<'a>> {
    let stay = course.in_bed().filter(|stay| stay.to > today)?;
    let bed = course.bed.as_ref().and_then(|id| almanac.bed(id));
    let bed = bed.filter(|bed| !bed.retired && size_of(bed).is_some());
    let room = match source {
        Source::Planting(_) => Room::Metres(bed.map_or(0.0, |_| stay.needs)),
        Source::Sowing(_) | Source::Planned(_) => Room::Plants(course.plants),
    };
    let needs = match room {
        Room::Metres(metres) => metres > 0.0,
        Room::Plants(plants) => plants > 0,
    };
    needs.then(|| Wish {
        what: source.clone(),
        variety: course.variety.clone(),
        weeks: (IsoWeek::of(stay.from), IsoWeek::of(shifted(stay.to, -1))),
        bed,
        space: course.space.as_ref().and_then(|id| almanac.space(id)),
        room,
    })
}

/// Beds that would do: the one that is given, else all of the space.
pub(super) fn places(
    almanac: &Almanac<'_>,
    wish: &Wish<'_>,
    beds: &[&Bed],
    number: &BTreeMap<&BedId, usize>,
) -> Vec<BedOption> {
    let would_do = |bed: &&Bed| match (wish.bed, wish.space) {
        (Some(given), _) => bed.id == given.id,
        (None, space) => bed.space.as_ref() == space.map(|space| &space.id),
    };
    beds.iter()
        .filter(|bed| would_do(bed))
        .filter_map(|bed| {
            let metres = match wish.room {
                Room::Metres(metres) => metres,
                Room::Plants(plants) => {
                    let spacing = spacing_cm(almanac, &wish.variety) / 100.0;
                    bed_metres_for(plants, Metres(size_of(bed)?.1), Metres(spacing)).0
                }
            };
            let bed = *number.get(&bed.id)?;
            (metres.is_finite() && metres > 0.0).then_some(BedOption { bed, metres })
        })
        .collect()
}
