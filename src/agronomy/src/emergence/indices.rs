//! Indices of a germination or emergence test, from its counts.
//!
//! Each is the plain textbook figure, under the name the literature gives it.
//! Definitions are those collected by J. Aravind et al., *The germinationmetrics
//! package: a brief introduction* (version 0.1.10); the original paper named at
//! each is from memory. n is the number newly up at an inspection on day t, N the
//! number up in the end; none of the indices but the final share knows how many
//! were sown. What has no meaning with nothing up is `None`.
//!
//! An inspection stands for all that came since the one before, so indices of
//! time depend on how often one looks. The fitted curve ([`super::fit`]) does
//! not have that fault.

use super::record::{self, Count};
use crate::error::{AgronomyError, within};
use crate::quantity::Chance;

/// Which seedling is taken for the middle one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Middle {
    /// The seedling numbered (N + 1) / 2: Coolbear, Francis & Grierson 1984, J.
    /// Exp. Bot. 35:1609.
    Coolbear,
    /// The seedling numbered N / 2: Farooq, Basra, Ahmad & Hafeez 2005, J.
    /// Integr. Plant Biol. 47:187.
    Farooq,
}

/// The counts of one test, from sowing to the last inspection.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// Day, newly up and up so far at each inspection.
    inspections: Vec<(f64, f64, f64)>,
    sown: f64,
}

impl Record {
    /// From counts of the same seeds or cells, in any order. A count lower than
    /// an earlier one is read as that earlier one.
    ///
    /// # Errors
    /// [`AgronomyError::OutOfRange`] for no counts (`counts`), counts of
    /// different numbers of seeds (`count.of`), more up than covered or seedlings
    /// on the day of sowing (`count.up`), and a day that is no number or outside
    /// 0 to [`super::DAYS_MAX`] (`count.day`).
    pub fn new(counts: &[Count]) -> Result<Self, AgronomyError> {
        within("counts", counts.len() as f64, 1.0, 1e6)?;
        let looks = record::looks(counts)?;
        let sown = looks.first().map_or(0.0, |look| f64::from(look.of));
        let mut inspections = Vec::with_capacity(looks.len());
        let mut before = 0.0;
        for look in &looks {
            within("count.of", f64::from(look.of), sown, sown)?;
            let up = (look.share * sown).round();
            if look.day <= 0.0 {
                within("count.up", up, 0.0, 0.0)?;
            }
            inspections.push((look.day, up - before, up));
            before = up;
        }
        Ok(Self { inspections, sown })
    }

    /// N, the number up in the end.
    fn came(&self) -> f64 {
        self.inspections.last().map_or(0.0, |(_, _, up)| *up)
    }

    /// Inspections at which something was newly up: (t, n).
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

    /// Share of those sown that came up.
    pub fn final_share(&self) -> Chance {
        Chance::clamped(self.came() / self.sown)
    }

    /// Largest share of those sown that was newly up at one inspection.
    pub fn peak_share(&self) -> Chance {
        let most = self.newly().map(|(_, newly)| newly).fold(0.0, f64::max);
        Chance::clamped(most / self.sown)
    }

    /// Day of the first inspection with seedlings.
    pub fn first_day(&self) -> Option<f64> {
        self.newly().next().map(|(day, _)| day)
    }

    /// Day of the last inspection with new seedlings.
    pub fn last_day(&self) -> Option<f64> {
        self.newly().last().map(|(day, _)| day)
    }

    /// Days from first to last new seedling.
    pub fn time_spread(&self) -> Option<f64> {
        Some(self.last_day()? - self.first_day()?)
    }

    /// T50: the day on which the middle seedling came up, in a straight line
    /// between the inspections around it. Where an inspection meets the middle
    /// number exactly, it is that inspection's day (some programs draw the line
    /// across it instead and come out a third of a day off).
    pub fn half_day(&self, middle: Middle) -> Option<f64> {
        let came = self.came();
        if came < 1.0 {
            return None;
        }
        let wanted = match middle {
            Middle::Coolbear => f64::midpoint(came, 1.0),
            Middle::Farooq => came / 2.0,
        };
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

    /// Variance of the time, days squared: squares about the mean over N - 1.
    /// `None` with fewer than two up.
    pub fn variance(&self) -> Option<f64> {
        let came = self.came();
        (came > 1.0).then_some(self.squares()? / (came - 1.0))
    }

    fn squares(&self) -> Option<f64> {
        let mean = self.mean_time()?;
        let square = |(day, newly): (f64, f64)| newly * (day - mean) * (day - mean);
        Some(self.newly().map(square).sum())
    }

    /// Standard error of the mean time, days.
    pub fn mean_time_error(&self) -> Option<f64> {
        Some((self.variance()? / self.came()).sqrt())
    }

    /// Coefficient of variation of the time, as a fraction.
    pub fn variation(&self) -> Option<f64> {
        Some(self.variance()?.sqrt() / self.mean_time()?)
    }

    /// Mean rate, per day: one over the mean time (Labouriau 1983). Times 100 it
    /// is the coefficient of velocity.
    pub fn mean_rate(&self) -> Option<f64> {
        self.mean_time().map(f64::recip)
    }

    /// Speed, seedlings a day: sum of n / t (Association of Official Seed
    /// Analysts 1983, Seed vigor testing handbook; also called germination
    /// index, as other figures are). `None` with nothing up.
    pub fn speed(&self) -> Option<f64> {
        self.any(|_| self.newly().map(|(day, newly)| newly / day).sum())
    }

    /// Speed over the number that came up, per day.
    pub fn corrected_speed(&self) -> Option<f64> {
        Some(self.speed()? / self.came())
    }

    /// Coefficient of uniformity, per day squared: N over the squares about the
    /// mean time (Heydecker 1972; not a percentage). `None` where all came at
    /// one inspection, which has no spread to divide by.
    pub fn uniformity(&self) -> Option<f64> {
        let squares = self.squares()?;
        (squares > 0.0).then(|| self.came() / squares)
    }

    /// Synchrony Z, from 0 (no two at one inspection) to 1 (all at one): pairs
    /// that came together over all pairs (Primack 1980; Ranal & Santana 2006,
    /// Revta. Brasil. Bot. 29:1). `None` with fewer than two up.
    pub fn synchrony(&self) -> Option<f64> {
        let pairs = |count: f64| count * (count - 1.0) / 2.0;
        let all = pairs(self.came());
        (all > 0.0).then(|| self.newly().map(|(_, newly)| pairs(newly)).sum::<f64>() / all)
    }

    /// Uncertainty U in bits, 0 where all came at one inspection: the entropy of
    /// the shares of N by inspection (Labouriau & Valadares 1976; Ranal &
    /// Santana 2006).
    pub fn uncertainty(&self) -> Option<f64> {
        self.any(|came| {
            let bits = |(_, newly): (f64, f64)| {
                let share = newly / came;
                -share * share.log2()
            };
            // No entropy is -0.
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
    fn nothing_up_has_no_times_but_a_share() {
        let none = record(&[(3.0, 0), (9.0, 0)]).unwrap();
        assert_eq!(none.final_share(), Chance::NEVER);
        assert_eq!(none.half_day(Middle::Coolbear), None);
        assert_eq!(none.mean_time(), None);
        assert_eq!(none.speed(), None);
        assert_eq!(none.uncertainty(), None);
        assert_eq!(none.synchrony(), None);
    }

    #[test]
    fn one_inspection_for_all_is_wholly_synchronous() {
        let all = record(&[(7.0, 40)]).unwrap();
        assert_eq!(all.synchrony(), Some(1.0));
        assert_eq!(all.uncertainty(), Some(0.0));
        assert_eq!(all.uniformity(), None);
        assert_eq!(all.mean_time(), Some(7.0));
    }

    #[test]
    fn deaths_and_disorder_do_not_take_back_what_came_up() {
        let told = record(&[(9.0, 28), (5.0, 12), (7.0, 30), (7.0, 25)]).unwrap();
        assert_eq!(told.final_share(), Chance::clamped(0.75));
        assert_eq!(told.last_day(), Some(7.0));
    }

    #[test]
    fn what_cannot_be_is_named() {
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
