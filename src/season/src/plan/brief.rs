//! The season as a planning problem, and what its numbers stand for.

use agronomy::iso_week::IsoWeek;
use chrono::NaiveDate;
use planner::problem::{Demand, Problem, WEEKS_MAX};

use super::choices::{Choices, Sowing};
use super::costs;
use super::rooms::{Place, Rooms};
use super::wishes::{Wish, wishes};
use crate::forecast::Outlook;

/// Weeks after the last one wanted in which plantings may still stand in their beds.
const WEEKS_AFTER: usize = 10;

/// A planning problem with what its demands, rooms and choices stand for.
#[derive(Debug, Clone)]
pub struct Brief {
    /// The numbers, for the planner.
    pub problem: Problem,
    pub(super) today: NaiveDate,
    pub(super) wishes: Vec<Wish>,
    pub(super) places: Vec<Place>,
    pub(super) sowings: Vec<Sowing>,
}

impl Brief {
    /// The problem of a season as of a day: what is wanted, less what stands, is sown and is accepted.
    pub fn of(outlook: &Outlook<'_>) -> Self {
        let (almanac, today) = (outlook.almanac(), outlook.today());
        let first = IsoWeek::of(today);
        let wishes = wishes(almanac, today);
        let last = wishes.iter().map(|wish| first.weeks_until(wish.weeks.1));
        let last = usize::try_from(last.max().unwrap_or(0)).unwrap_or(0);
        let weeks = (last + 1 + WEEKS_AFTER).min(WEEKS_MAX);
        let rooms = Rooms::of(outlook, weeks);
        let choices = Choices::of(outlook, &wishes, &rooms, weeks);
        let demands = wishes
            .iter()
            .map(|wish| demand(wish, first, weeks))
            .collect();
        Self {
            problem: Problem {
                weeks,
                rooms: rooms.rooms,
                demands,
                classes: choices.classes,
                choices: choices.choices,
            },
            today,
            wishes,
            places: rooms.places,
            sowings: choices.sowings,
        }
    }

    /// The week of a number.
    pub(super) fn week(&self, n: usize) -> IsoWeek {
        IsoWeek::of(self.today).plus(i32::try_from(n).unwrap_or(0))
    }
}

fn demand(wish: &Wish, first: IsoWeek, weeks: usize) -> Demand {
    let of = |week: IsoWeek| usize::try_from(first.weeks_until(week)).unwrap_or(0);
    let (from, to) = (of(wish.weeks.0), of(wish.weeks.1));
    Demand {
        wanted: (from..=to)
            .filter(|week| *week < weeks)
            .map(|week| (week, wish.needed()))
            .collect(),
        // Stems are told and weighed as those wanted, not as those reckoned with for safety.
        price: costs::MISSING * wish.dependable(),
    }
}
