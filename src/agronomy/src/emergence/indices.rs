//! Indices of a germination or emergence test, from its counts.
//!
//! Definitions follow J. Aravind et al., *The germinationmetrics package: a brief introduction* (version
//! 0.1.10); the original paper named at each is from memory. n is the number newly up at an inspection on day
//! t, N the total. None of the indices depends on the number sown. An index that is undefined with nothing up
//! is `None`.
//!
//! An inspection stands for everything since the one before, so indices of time depend on how often a tray is
//! inspected. The fitted curve ([`super::fit`]) does not.

use super::record::{self, Count};
use crate::error::{AgronomyError, within};

/// The counts of one test, from sowing to the last inspection.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// Day, newly up and total up at each inspection.
    inspections: Vec<(f64, f64, f64)>,
}

impl Record {
    /// From counts of the same seeds or cells, in any order. A count lower than an earlier one is read as the
    /// earlier one.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] for no counts (`counts`), counts of different numbers of seeds
    /// (`count.of`), more up than covered or seedlings on the day of sowing (`count.up`), and a day outside 0
    /// to [`super::DAYS_MAX`] (`count.day`).
    pub fn new(counts: &[Count]) -> Result<Self, AgronomyError> {
        within("counts", counts.len() as f64, 1.0, 1e6)?;
        let checked = record::inspections(counts)?;
        let sown = checked.first().map_or(0.0, |first| f64::from(first.of));
        let mut inspections = Vec::with_capacity(checked.len());
        let mut before = 0.0;
        for inspection in &checked {
            within("count.of", f64::from(inspection.of), sown, sown)?;
            let up = (inspection.share * sown).round();
            if inspection.day <= 0.0 {
                within("count.up", up, 0.0, 0.0)?;
            }
            inspections.push((inspection.day, up - before, up));
            before = up;
        }
        Ok(Self { inspections })
    }

    /// N, the total.
    fn came(&self) -> f64 {
        self.inspections.last().map_or(0.0, |(_, _, up)| *up)
    }

    /// Inspections with new seedlings: (t, n).
    fn newly(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.inspections
            .iter()
            .filter(|(_, newly, _)| *newly > 0.0)
            .map(|(day, newly, _)| (*day, *newly))
    }

    fn any(&self, figure: impl FnOnce(f64) -> f64) -> Option<f64> {
        let came = self.came();
        (came > 0.0).then(|| figure(came))
    }

    /// Day of the first inspection with seedlings.
    pub fn first_day(&self) -> Option<f64> {
        self.newly().next().map(|(day, _)| day)
    }

    /// Day of the last inspection with new seedlings.
    pub fn last_day(&self) -> Option<f64> {
        self.newly().last().map(|(day, _)| day)
    }

    /// T50: the day on which seedling number (N + 1) / 2 came up, by linear interpolation between the
    /// inspections around it (Coolbear, Francis & Grierson 1984, J. Exp. Bot. 35:1609). If an inspection
    /// meets that number exactly, it is that inspection's day; some programs interpolate across it and are a
    /// third of a day off.
    pub fn half_day(&self) -> Option<f64> {
        let came = self.came();
        if came < 1.0 {
            return None;
        }
        let wanted = f64::midpoint(came, 1.0);
        let (mut last_day, mut last_up) = (0.0, 0.0);
        for (day, _, up) in &self.inspections {
            if *up >= wanted {
                return Some(last_day + (day - last_day) * (wanted - last_up) / (up - last_up));
            }
            (last_day, last_up) = (*day, *up);
        }
        None
    }

    /// Mean time, days: sum of n t over N.
    pub fn mean_time(&self) -> Option<f64> {
        self.any(|came| self.newly().map(|(day, newly)| newly * day).sum::<f64>() / came)
    }

    /// Speed, seedlings a day: sum of n / t (Association of Official Seed Analysts 1983, Seed vigor testing
    /// handbook; also called germination index, like other figures).
    pub fn speed(&self) -> Option<f64> {
        self.any(|_| self.newly().map(|(day, newly)| newly / day).sum())
    }

    /// Synchrony Z, from 0 (no two at one inspection) to 1 (all at one): pairs that came up together over all
    /// pairs (Primack 1980; Ranal & Santana 2006, Revta. Brasil. Bot. 29:1). `None` with fewer than two up.
    pub fn synchrony(&self) -> Option<f64> {
        let pairs = |count: f64| count * (count - 1.0) / 2.0;
        let all = pairs(self.came());
        (all > 0.0).then(|| self.newly().map(|(_, newly)| pairs(newly)).sum::<f64>() / all)
    }

    /// Uncertainty U in bits, 0 if all came up at one inspection: the entropy of the shares of N by
    /// inspection (Labouriau & Valadares 1976; Ranal & Santana 2006).
    pub fn uncertainty(&self) -> Option<f64> {
        self.any(|came| {
            let bits = |(_, newly): (f64, f64)| {
                let share = newly / came;
                -share * share.log2()
            };
            // Avoids -0.
            self.newly().map(bits).sum::<f64>().max(0.0)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn record(counts: &[(f64, u32)]) -> Result<Record, AgronomyError> {
        let counts: Vec<Count> = counts
            .iter()
            .map(|(day, up)| Count {
                day: *day,
                up: *up,
                of: 40,
            })
            .collect();
        Record::new(&counts)
    }

    #[test]
    fn nothing_up_has_no_indices() {
        let none = record(&[(3.0, 0), (9.0, 0)]).unwrap();
        assert_eq!(none.half_day(), None);
        assert_eq!(none.mean_time(), None);
        assert_eq!(none.speed(), None);
        assert_eq!(none.uncertainty(), None);
        assert_eq!(none.synchrony(), None);
    }

    #[test]
    fn all_at_one_inspection_is_fully_synchronous() {
        let all = record(&[(7.0, 40)]).unwrap();
        assert_eq!(all.synchrony(), Some(1.0));
        assert_eq!(all.uncertainty(), Some(0.0));
        assert_eq!(all.mean_time(), Some(7.0));
    }

    #[test]
    fn neither_deaths_nor_the_order_of_counts_change_the_result() {
        let found = record(&[(9.0, 28), (5.0, 12), (7.0, 30), (7.0, 25)]).unwrap();
        assert_eq!(found, record(&[(5.0, 12), (7.0, 30), (9.0, 30)]).unwrap());
        assert_eq!(found.last_day(), Some(7.0));
    }

    #[test]
    fn invalid_arguments_are_refused_by_name() {
        let field = |counts: &[(f64, u32)]| record(counts).map_err(|error| error.field()).err();
        assert_eq!(field(&[]), Some("counts"));
        assert_eq!(field(&[(3.0, 41)]), Some("count.up"));
        assert_eq!(field(&[(0.0, 1)]), Some("count.up"));
        assert_eq!(field(&[(f64::NAN, 1)]), Some("count.day"));
        assert_eq!(field(&[(-1.0, 1)]), Some("count.day"));
        let other = Count {
            day: 9.0,
            up: 5,
            of: 30,
        };
        let uneven = Record::new(&[
            Count {
                day: 3.0,
                up: 5,
                of: 40,
            },
            other,
        ]);
        assert_eq!(
            uneven.map_err(|error| error.field()).err(),
            Some("count.of")
        );
    }
}
