//! Where the plan would overflow a mat or a shelf.

use std::collections::BTreeMap;

use agronomy::iso_week::IsoWeek;
use chrono::NaiveDate;
use culture::MatUse;

use super::Proposal;
use crate::almanac::Almanac;
use crate::fact::SpaceKind;
use crate::forecast::{planting_window, shifted};
use crate::ids::*;
use crate::space::trays_on;

/// Cells of a tray that a proposal is reckoned in where nothing was sown yet: the 60 soil blocks that fill a standard tray.
const CELLS_PER_TRAY: u32 = 60;

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

/// Weeks in which mats or shelves would overflow if all proposals and accepted sowings were carried out.
pub(super) fn crowding(
    almanac: &Almanac<'_>,
    proposals: &[Proposal],
    today: NaiveDate,
) -> Vec<Crowding> {
    let season = almanac.season();
    let mut stays: Vec<(SpaceKind, NaiveDate, NaiveDate, u32)> = Vec::new();
    let mut add = |variety: &VarietyId, sow: NaiveDate, plant: NaiveDate, cells: u32| {
        let Some(crop) = almanac.crop(variety) else {
            return;
        };
        let trays = cells.div_ceil(CELLS_PER_TRAY);
        let mat_days = match crop.mat_use() {
            MatUse::Usual => crop
                .emergence_usual()
                .map_or(0, |usual| usual.most_day.ceil() as i64),
            MatUse::OnlyIfCold | MatUse::Never => 0,
        };
        let off = shifted(sow, mat_days);
        let harden = shifted(
            plant,
            -(crop.typical("hardening_off_days").unwrap_or(7.0) as i64),
        );
        if mat_days > 0 {
            stays.push((SpaceKind::Mat, sow, off, trays));
        }
        stays.push((SpaceKind::Shelf, off, harden.max(off), trays));
    };
    for proposal in proposals {
        add(
            &proposal.variety,
            proposal.sow,
            proposal.plant,
            proposal.cells,
        );
    }
    for planned in season
        .planned
        .values()
        .filter(|p| !p.retired && p.sown_as.is_none())
    {
        let (Some(variety), Some(sow)) = (&planned.variety, planned.sow) else {
            continue;
        };
        let space = almanac.space_or_usual(planned.space.as_ref());
        let Some((window, _)) = almanac
            .crop(variety)
            .and_then(|crop| planting_window(almanac, crop, space, sow, 0))
        else {
            continue;
        };
        add(variety, sow, window.best, planned.cells);
    }
    let mut found = Vec::new();
    for what in [SpaceKind::Mat, SpaceKind::Shelf] {
        let rooms: Vec<Option<u32>> = season
            .spaces
            .values()
            .filter(|s| s.what == what && !s.retired)
            .map(|s| s.room)
            .collect();
        // Room that is not said can't overflow.
        if rooms.is_empty() || rooms.iter().any(Option::is_none) {
            continue;
        }
        let room: u32 = rooms.iter().flatten().sum();
        let mut over: BTreeMap<IsoWeek, u32> = BTreeMap::new();
        let first = IsoWeek::of(today);
        for n in 0..60 {
            let week = first.plus(n);
            let day = shifted(week.monday(), 3);
            let standing: u32 = if day < shifted(today, 28) {
                trays_on(season, today.max(day.min(today)))
                    .iter()
                    .filter(|(id, _)| season.spaces.get(*id).is_some_and(|s| s.what == what))
                    .map(|(_, room)| room.trays)
                    .sum()
            } else {
                0
            };
            let planned: u32 = stays
                .iter()
                .filter(|(kind, from, to, _)| *kind == what && *from <= day && day < *to)
                .map(|(_, _, _, trays)| trays)
                .sum();
            if standing + planned > room {
                over.insert(week, standing + planned);
            }
        }
        let weeks: Vec<(IsoWeek, u32)> = over.into_iter().collect();
        for run in weeks.chunk_by(|a, b| a.0.plus(1) == b.0) {
            let (Some(first), Some(last)) = (run.first(), run.last()) else {
                continue;
            };
            let trays = run.iter().map(|(_, trays)| *trays).max().unwrap_or(0);
            found.push(Crowding {
                what,
                weeks: (first.0, last.0),
                trays,
                room,
            });
        }
    }
    found
}
