//! Where the plan would overflow a mat or a shelf.

use agronomy::iso_week::IsoWeek;
use chrono::NaiveDate;
use culture::MatUse;

use super::Proposal;
use crate::almanac::Almanac;
use crate::fact::{SpaceKind, Tray};
use crate::forecast::{Supply, planting_window, shifted};
use crate::ids::*;
use crate::space::trays_on;
use crate::state::PlannedSowing;

/// Cells of a tray that a proposal is reckoned in where nothing was sown yet: the 60 soil blocks that fill a standard tray.
const CELLS_PER_TRAY: u32 = 60;
/// Weeks that are looked at from today on.
const WEEKS_AHEAD: i32 = 60;

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

/// Trays that stand in a kind of space from one day on and before another.
struct Stay {
    what: SpaceKind,
    from: NaiveDate,
    to: NaiveDate,
    trays: u32,
}

/// Weeks in which mats or shelves would overflow if all proposals and accepted sowings were carried out beside what stands there now.
pub(super) fn crowding(
    almanac: &Almanac<'_>,
    proposals: &[Proposal],
    supply: &Supply,
    today: NaiveDate,
) -> Vec<Crowding> {
    let mut stays = standing(almanac, supply, today);
    for proposal in proposals {
        let (sow, plant) = (proposal.sow, proposal.plant);
        stays.extend(to_come(
            almanac,
            &proposal.variety,
            sow,
            plant,
            proposal.cells,
        ));
    }
    for planned in almanac.season().planned.values() {
        stays.extend(accepted(almanac, planned, today).into_iter().flatten());
    }
    let mut found = Vec::new();
    for what in [SpaceKind::Mat, SpaceKind::Shelf] {
        if let Some(room) = room_of(almanac, what) {
            let stays: Vec<&Stay> = stays.iter().filter(|stay| stay.what == what).collect();
            found.extend(overflows(what, room, &stays, today));
        }
    }
    found
}

/// Room in all spaces of a kind; `None` if there is none or one whose room is not said, which can't overflow.
fn room_of(almanac: &Almanac<'_>, what: SpaceKind) -> Option<u32> {
    let spaces = almanac.season().spaces_in_order();
    let mut rooms = spaces.iter().filter(|s| s.what == what).peekable();
    rooms.peek()?;
    rooms.try_fold(0u32, |sum, space| Some(sum.saturating_add(space.room?)))
}

/// What is in trays now: as long on the mat as seedlings are waited for, on the shelf until hardening off.
fn standing(almanac: &Almanac<'_>, supply: &Supply, today: NaiveDate) -> Vec<Stay> {
    let rooms = trays_on(almanac.season(), today);
    let mut stays = Vec::new();
    for (id, room) in &rooms {
        let Some(space) = almanac.space(id) else {
            continue;
        };
        for (sowing, trays) in &room.sowings {
            let Some(forecast) = supply.trays.get(sowing) else {
                continue;
            };
            let tomorrow = shifted(today, 1);
            let off = forecast.quiet.unwrap_or(tomorrow).max(tomorrow);
            let harden = forecast.harden.unwrap_or(off).max(off);
            let stay = |what, from, to| Stay {
                what,
                from,
                to,
                trays: *trays,
            };
            match space.what {
                SpaceKind::Mat => {
                    stays.push(stay(SpaceKind::Mat, today, off));
                    stays.push(stay(SpaceKind::Shelf, off, harden));
                }
                SpaceKind::Shelf => stays.push(stay(SpaceKind::Shelf, today, harden)),
                _ => {}
            }
        }
    }
    stays
}

/// An accepted sowing that is not sown yet; one that is overdue is sown today.
fn accepted(almanac: &Almanac<'_>, planned: &PlannedSowing, today: NaiveDate) -> Option<Vec<Stay>> {
    let live = !planned.retired && planned.sown_as.is_none();
    let (variety, sow) = (planned.variety.as_ref()?, planned.sow.filter(|_| live)?);
    let sow = sow.max(today);
    let space = almanac.space_or_usual(planned.space.as_ref());
    let (window, _) = planting_window(almanac, almanac.crop(variety)?, space, sow, 0)?;
    Some(to_come(almanac, variety, sow, window.best, planned.cells))
}

fn to_come(
    almanac: &Almanac<'_>,
    variety: &VarietyId,
    sow: NaiveDate,
    plant: NaiveDate,
    cells: u32,
) -> Vec<Stay> {
    let Some(crop) = almanac.crop(variety) else {
        return Vec::new();
    };
    let trays = cells.div_ceil(cells_per_tray(almanac, variety));
    let mat_days = match crop.mat_use() {
        MatUse::Usual => crop
            .emergence_usual()
            .map_or(0, |usual| usual.most_day.ceil() as i64),
        MatUse::OnlyIfCold | MatUse::Never => 0,
    };
    let off = shifted(sow, mat_days);
    let hardening = crop.typical("hardening_off_days").unwrap_or(7.0) as i64;
    let harden = shifted(plant, -hardening).max(off);
    let stay = |what, from, to| Stay {
        what,
        from,
        to,
        trays,
    };
    vec![
        stay(SpaceKind::Mat, sow, off),
        stay(SpaceKind::Shelf, off, harden),
    ]
}

/// Cells of the tray that the crop was last sown into.
fn cells_per_tray(almanac: &Almanac<'_>, variety: &VarietyId) -> u32 {
    let crop = |id: &VarietyId| almanac.variety(id).map(|v| &v.crop);
    almanac
        .season()
        .sowings
        .values()
        .filter(|sowing| crop(&sowing.variety) == crop(variety))
        .max_by_key(|sowing| (sowing.date, &sowing.id))
        .and_then(|sowing| sowing.tray_on(sowing.date))
        .map_or(CELLS_PER_TRAY, Tray::cells)
}

fn overflows(what: SpaceKind, room: u32, stays: &[&Stay], today: NaiveDate) -> Vec<Crowding> {
    let trays_on = |day: NaiveDate| {
        stays
            .iter()
            .filter(|stay| stay.from <= day && day < stay.to)
            .fold(0u32, |sum, stay| sum.saturating_add(stay.trays))
    };
    let first = IsoWeek::of(today);
    let over: Vec<(IsoWeek, u32)> = (0..WEEKS_AHEAD)
        .map(|n| first.plus(n))
        .map(|week| {
            let days = (0..7).map(|n| shifted(week.monday(), n));
            let most = days.filter(|day| *day >= today).map(trays_on).max();
            (week, most.unwrap_or(0))
        })
        .filter(|(_, trays)| *trays > room)
        .collect();
    over.chunk_by(|a, b| a.0.plus(1) == b.0)
        .filter_map(|run| {
            Some(Crowding {
                what,
                weeks: (run.first()?.0, run.last()?.0),
                trays: run.iter().map(|(_, trays)| *trays).max()?,
                room,
            })
        })
        .collect()
}
