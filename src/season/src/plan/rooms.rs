//! What can be full, and what is free of it week by week beside what stands, is sown and is accepted.

use agronomy::iso_week::IsoWeek;
use chrono::NaiveDate;
use planner::problem::{Room, Take};

use crate::almanac::Almanac;
use crate::fact::SpaceKind;
use crate::forecast::{Outlook, Phase, Station};
use crate::ids::*;
use crate::occupancy::{SpaceUse, rooms};
use crate::state::Bed;

/// Kinds of space that hold trays for the plan.
pub(super) const TRAY_KINDS: [SpaceKind; 3] =
    [SpaceKind::Mat, SpaceKind::Shelf, SpaceKind::Hardening];

/// Something that can be full.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Place {
    /// All spaces of a kind that hold trays, together.
    Trays(SpaceKind),
    /// The beds of a space, in metres.
    Beds(SpaceId),
}

/// The rooms of a plan.
pub(super) struct Rooms {
    pub places: Vec<Place>,
    pub rooms: Vec<Room>,
    first: IsoWeek,
    weeks: usize,
}

impl Rooms {
    pub fn of(outlook: &Outlook<'_>, weeks: usize) -> Self {
        let (almanac, today) = (outlook.almanac(), outlook.today());
        let mut found = Self {
            places: Vec::new(),
            rooms: Vec::new(),
            first: IsoWeek::of(today),
            weeks,
        };
        let used = rooms(outlook);
        for what in TRAY_KINDS {
            if let Some(trays) = room_of(almanac, what) {
                let used = used.iter().filter(|space| space.what == what);
                found.add(Place::Trays(what), |_| f64::from(trays), used);
            }
        }
        for space in almanac.season().spaces_in_order() {
            let beds: Vec<&Bed> = almanac.season().beds_of(&space.id);
            let is_sized = |bed: &&Bed| bed.length_m.is_some_and(|length| length > 0.0);
            if !space.holds_beds() || !beds.iter().any(is_sized) {
                continue;
            }
            let used = used.iter().filter(|used| used.space == space.id);
            let metres = |week: IsoWeek| {
                let whole_week =
                    |bed: &&&Bed| bed.in_use(week.monday()) && bed.in_use(week.sunday());
                let beds = beds.iter().filter(whole_week);
                beds.filter_map(|bed| bed.length_m).sum()
            };
            found.add(Place::Beds(space.id.clone()), metres, used);
        }
        found
    }

    fn add<'a>(
        &mut self,
        place: Place,
        size: impl Fn(IsoWeek) -> f64,
        used: impl Iterator<Item = &'a SpaceUse> + Clone,
    ) {
        let free = (0..self.weeks)
            .map(|n| {
                let week = self.first.plus(n as i32);
                let in_week = |space: &SpaceUse| space.weeks.get(n).map_or(0.0, |week| week.used);
                (size(week) - used.clone().map(in_week).sum::<f64>()).max(0.0)
            })
            .collect();
        self.places.push(place);
        self.rooms.push(Room { free });
    }

    /// Weeks that a stay touches: from, and before.
    fn span(&self, from: NaiveDate, to: NaiveDate) -> (usize, usize) {
        let days = |date: NaiveDate| (date - self.first.monday()).num_days();
        let week = |days: i64| {
            usize::try_from(days.max(0))
                .unwrap_or(0)
                .min(self.weeks * 7)
        };
        let (from, to) = (week(days(from)) / 7, week(days(to)).div_ceil(7));
        (from, to.max(from))
    }

    /// What one plant's stay takes; none where the place can't be full.
    pub fn take(&self, phase: &Phase) -> Option<Take> {
        let place = Place::of(phase)?;
        let room = self.places.iter().position(|one| *one == place)?;
        let (from, to) = self.span(phase.from, phase.to);
        (to > from).then_some(Take {
            room,
            from,
            to,
            each: phase.needs,
        })
    }
}

impl Place {
    /// Where a stay takes room; none for a bed of which the space is not known.
    fn of(phase: &Phase) -> Option<Self> {
        Some(match phase.station {
            Station::Mat => Self::Trays(SpaceKind::Mat),
            Station::Shelf => Self::Trays(SpaceKind::Shelf),
            Station::Hardening => Self::Trays(SpaceKind::Hardening),
            Station::Bed => Self::Beds(phase.space.clone()?),
        })
    }
}

/// Room in all spaces of a kind; `None` if there is none or one whose room is not said, which can't overflow.
pub(super) fn room_of(almanac: &Almanac<'_>, what: SpaceKind) -> Option<u32> {
    let spaces = almanac.season().spaces_in_order();
    let mut rooms = spaces.iter().filter(|s| s.what == what).peekable();
    rooms.peek()?;
    rooms.try_fold(0u32, |sum, space| Some(sum.saturating_add(space.room?)))
}
