//! What can be full, and what is free of it week by week beside what stands, is sown and is accepted.

use agronomy::iso_week::IsoWeek;
use chrono::NaiveDate;
use planner::problem::{Room, Take};

use super::stays::{Stay, stays_of_all};
use crate::almanac::Almanac;
use crate::fact::SpaceKind;
use crate::forecast::Supply;
use crate::ids::*;
use crate::state::Bed;

/// Width of the bed that metres are told for, m.
pub(super) const BED_WIDTH_M: f64 = 1.2;

/// Something that can be full.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Place {
    /// All spaces of a kind that hold trays, together.
    Trays(SpaceKind),
    /// The beds of a space, in metres of a bed 1.2 m wide.
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
    pub fn of(almanac: &Almanac<'_>, supply: &Supply, today: NaiveDate, weeks: usize) -> Self {
        let mut found = Self {
            places: Vec::new(),
            rooms: Vec::new(),
            first: IsoWeek::of(today),
            weeks,
        };
        for what in [SpaceKind::Mat, SpaceKind::Shelf, SpaceKind::Hardening] {
            if let Some(trays) = room_of(almanac, what) {
                found.add(Place::Trays(what), |_| f64::from(trays));
            }
        }
        for space in almanac.season().spaces_in_order() {
            let beds = almanac.season().beds_of(&space.id);
            let sized: Vec<&Bed> = beds
                .into_iter()
                .filter(|bed| metres_of(bed).is_some())
                .collect();
            if space.holds_beds() && !sized.is_empty() {
                found.add(Place::Beds(space.id.clone()), |week| {
                    let whole_week = |bed: &&&Bed| bed.in_use(week.monday()) && bed.in_use(week.sunday());
                    sized
                        .iter()
                        .filter(whole_week)
                        .filter_map(|bed| metres_of(bed))
                        .sum()
                });
            }
        }
        for stay in stays_of_all(almanac, supply, today) {
            found.occupy(&stay);
        }
        found
    }

    fn add(&mut self, place: Place, size: impl Fn(IsoWeek) -> f64) {
        let free = (0..self.weeks)
            .map(|week| size(self.first.plus(week as i32)))
            .collect();
        self.places.push(place);
        self.rooms.push(Room { free });
    }

    fn occupy(&mut self, stay: &Stay) {
        let (from, to) = self.span(stay.from, stay.to);
        let place = self.places.iter().position(|place| *place == stay.place);
        let room = place.and_then(|n| self.rooms.get_mut(n));
        for free in room
            .and_then(|room| room.free.get_mut(from..to))
            .into_iter()
            .flatten()
        {
            *free = (*free - stay.amount).max(0.0);
        }
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
    pub fn take(&self, stay: &Stay) -> Option<Take> {
        let room = self.places.iter().position(|place| *place == stay.place)?;
        let (from, to) = self.span(stay.from, stay.to);
        (to > from).then_some(Take {
            room,
            from,
            to,
            each: stay.amount,
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

/// A bed in metres of one 1.2 m wide; none where its size is not said.
pub(super) fn metres_of(bed: &Bed) -> Option<f64> {
    let metres = bed.length_m? * bed.width_m? / BED_WIDTH_M;
    (metres.is_finite() && metres > 0.0).then_some(metres)
}
