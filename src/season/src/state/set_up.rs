//! What can be said of what is set up and wanted. The types themselves follow from the tables of their facts.

use chrono::{Datelike, NaiveDate};

use crate::fact::{Bed, Order, Space, SpaceKind};
use crate::month_day::MonthDay;

impl Space {
    /// Whether it holds beds.
    pub fn holds_beds(&self) -> bool {
        matches!(self.what, SpaceKind::Tunnel | SpaceKind::Outdoors)
    }

    /// Whether it holds trays.
    pub fn holds_trays(&self) -> bool {
        matches!(
            self.what,
            SpaceKind::Mat | SpaceKind::Shelf | SpaceKind::Hardening
        )
    }
}

impl Bed {
    /// The days of the year from and to which it is in use; `None` when that is always.
    pub fn use_span(&self) -> Option<(MonthDay, MonthDay)> {
        if self.in_use_from.is_none() && self.in_use_to.is_none() {
            return None;
        }
        let from = self.in_use_from.or(MonthDay::new(1, 1))?;
        let to = self.in_use_to.or(MonthDay::new(12, 31))?;
        let whole_year = from.follows(to);
        (!whole_year).then_some((from, to))
    }

    /// Whether it is in use on a day. A span whose first day comes after its last runs over New Year.
    pub fn in_use(&self, date: NaiveDate) -> bool {
        let Some((from, to)) = self.use_span() else {
            return true;
        };
        let year = date.year();
        let (Some(first), Some(last)) = (from.in_year(year), to.in_year(year)) else {
            return true;
        };
        if first <= last {
            (first..=last).contains(&date)
        } else {
            date >= first || date <= last
        }
    }
}

impl Order {
    /// Whether it is wanted again and again.
    pub fn is_standing(&self) -> bool {
        self.every_days > 0
    }
}
