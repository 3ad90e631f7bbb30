//! Measured days.

use chrono::NaiveDate;

use super::Cover;

/// A day's minimum and maximum in degrees Celsius.
pub(super) type Range = (f64, f64);

/// Measured days by date. A sorted vector, because it is searched for every day of every sum and contiguous
/// memory is faster than a tree.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Observed(Vec<(NaiveDate, Measured)>);

/// Measurements of one day, outdoors and in the tunnel.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Measured {
    pub(super) open: Option<Range>,
    pub(super) tunnel: Option<Range>,
}

impl Measured {
    fn under(&self, cover: Cover) -> Option<Range> {
        match cover {
            Cover::Open => self.open,
            Cover::Tunnel => self.tunnel,
        }
    }
}

impl Observed {
    /// Adds or replaces the measurement of a day.
    pub(super) fn insert(&mut self, date: NaiveDate, cover: Cover, range: Range) {
        let index = self.0.partition_point(|(other, _)| *other < date);
        if self.0.get(index).is_none_or(|(other, _)| *other != date) {
            self.0.insert(index, (date, Measured::default()));
        }
        if let Some((_, day)) = self.0.get_mut(index) {
            match cover {
                Cover::Open => day.open = Some(range),
                Cover::Tunnel => day.tunnel = Some(range),
            }
        }
    }

    /// The last day measured under a cover.
    pub(super) fn last(&self, cover: Cover) -> Option<NaiveDate> {
        let mut days = self.0.iter().rev();
        days.find_map(|(date, day)| day.under(cover).map(|_| *date))
    }

    /// The days measured under a cover from a date on.
    pub(super) fn since(
        &self,
        from: NaiveDate,
        cover: Cover,
    ) -> impl Iterator<Item = (NaiveDate, Range)> {
        let first = self.0.partition_point(|(date, _)| *date < from);
        let days = self.0.iter().skip(first);
        days.filter_map(move |(date, day)| Some((*date, day.under(cover)?)))
    }

    /// The measurements of a day, if any.
    pub(super) fn on(&self, date: NaiveDate) -> Measured {
        let known = self.0.first().zip(self.0.last());
        if known.is_none_or(|((first, _), (last, _))| date < *first || date > *last) {
            return Measured::default();
        }
        self.0
            .binary_search_by_key(&date, |(other, _)| *other)
            .ok()
            .and_then(|index| self.0.get(index))
            .map_or_else(Measured::default, |(_, day)| *day)
    }
}
