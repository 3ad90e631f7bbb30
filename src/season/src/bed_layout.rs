//! Where plantings lie along a bed.
//!
//! Growers fill a bed from its beginning; nobody records metres. So each planting, in the order of planting, takes the first gap
//! along the bed that holds it, and keeps its place until it is cleared.

use chrono::NaiveDate;

use crate::almanac::Almanac;
use crate::ids::*;
use crate::space::planting_metres;
use crate::state::{Bed, Planting};

/// Metres that are no gap: rounding.
const HAIR_M: f64 = 1e-6;

/// A part of a bed with one planting.
#[derive(Debug, Clone, PartialEq)]
pub struct Stretch {
    /// Which planting.
    pub planting: PlantingId,
    /// From the beginning of the bed, m.
    pub from_m: f64,
    /// To, m; beyond the bed's end for what does not fit.
    pub to_m: f64,
}

/// A bed along its length on a day.
#[derive(Debug, Clone, PartialEq)]
pub struct BedLayout {
    /// The bed's length, m.
    pub length_m: f64,
    /// What stands there, from the bed's beginning. A planting that had to be split has several.
    pub stretches: Vec<Stretch>,
}

impl BedLayout {
    /// Metres of the bed that nothing stands on; 0 in an overfull one.
    pub fn free_m(&self) -> f64 {
        let taken: f64 = self.stretches.iter().map(|s| s.to_m - s.from_m).sum();
        (self.length_m - taken).max(0.0)
    }

    /// Metres planted beyond the bed's end.
    pub fn over_m(&self) -> f64 {
        let end = self.stretches.iter().map(|s| s.to_m).fold(0.0, f64::max);
        (end - self.length_m).max(0.0)
    }
}

fn stands(planting: &Planting, date: NaiveDate) -> bool {
    planting.date <= date && planting.finished.is_none_or(|end| end > date)
}

/// The layout of a bed on a day; `None` when the bed's length is not said.
pub fn layout(almanac: &Almanac<'_>, bed: &Bed, date: NaiveDate) -> Option<BedLayout> {
    let length_m = bed.length_m.filter(|length| *length > 0.0)?;
    let mut plantings: Vec<&Planting> = almanac
        .season()
        .plantings
        .values()
        .filter(|planting| planting.bed == bed.id && planting.date <= date)
        .collect();
    plantings.sort_by(|a, b| (a.date, &a.id).cmp(&(b.date, &b.id)));
    let mut placed: Vec<(&Planting, Stretch)> = Vec::new();
    for planting in plantings {
        let metres = planting_metres(almanac, bed, planting);
        let taken = placed
            .iter()
            .filter(|(other, _)| stands(other, planting.date))
            .map(|(_, stretch)| (stretch.from_m, stretch.to_m))
            .collect();
        for (from_m, to_m) in places(taken, length_m, metres) {
            let stretch = Stretch {
                planting: planting.id.clone(),
                from_m,
                to_m,
            };
            placed.push((planting, stretch));
        }
    }
    let mut stretches: Vec<Stretch> = placed
        .into_iter()
        .filter(|(planting, _)| stands(planting, date))
        .map(|(_, stretch)| stretch)
        .collect();
    stretches.sort_by(|a, b| a.from_m.total_cmp(&b.from_m));
    Some(BedLayout {
        length_m,
        stretches,
    })
}

/// Where so many metres go: into the first gap that holds them, else into all gaps in turn and what is left behind the end.
fn places(mut taken: Vec<(f64, f64)>, length: f64, metres: f64) -> Vec<(f64, f64)> {
    taken.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut gaps = Vec::new();
    let mut at = 0.0f64;
    for (from, to) in taken {
        if from - at > HAIR_M {
            gaps.push((at, from));
        }
        at = at.max(to);
    }
    let end = at.max(length);
    if length - at > HAIR_M {
        gaps.push((at, length));
    }
    if let Some((from, _)) = gaps.iter().find(|(from, to)| to - from + HAIR_M >= metres) {
        return vec![(*from, from + metres)];
    }
    let mut left = metres;
    let mut found = Vec::new();
    for (from, to) in gaps {
        let part = left.min(to - from);
        found.push((from, from + part));
        left -= part;
    }
    if left > HAIR_M {
        found.push((end, end + left));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fact::FinishedFact;
    use crate::sample::Sample;

    fn lies(sample: &Sample, date: &str) -> (Vec<(String, f64, f64)>, f64, f64) {
        sample.with(|almanac| {
            let bed = almanac.bed(&BedId::new("b").expect("id")).expect("bed");
            let layout = layout(almanac, bed, sample.day(date)).expect("layout");
            let lies = layout
                .stretches
                .iter()
                .map(|s| {
                    let planting = &almanac.season().plantings[&s.planting];
                    let tenth = |m: f64| (m * 10.0).round() / 10.0;
                    (planting.variety.to_string(), tenth(s.from_m), tenth(s.to_m))
                })
                .collect();
            (lies, layout.free_m(), layout.over_m())
        })
    }

    #[test]
    fn plantings_keep_their_place_and_a_cleared_gap_is_used_again() {
        let mut sample = Sample::new();
        let bed = sample.bed("b", 5.0);
        let [a, b, c] = ["a", "b", "c"].map(|id| sample.variety(id, "antirrhinum", ""));
        let first = sample.sown_in_bed(&a, &bed, "2027-03-01", 60);
        sample.sown_in_bed(&b, &bed, "2027-03-02", 60);
        let said = |name: &str, from, to| (name.to_owned(), from, to);
        let (lies_now, free, over) = lies(&sample, "2027-03-02");
        assert_eq!(lies_now, [said("a", 0.0, 2.0), said("b", 2.0, 4.0)]);
        assert!((free - 1.0).abs() < 1e-9 && over == 0.0);
        sample.add(FinishedFact {
            planting: Some(first),
            ..FinishedFact::new(sample.day("2027-06-01"))
        });
        assert_eq!(lies(&sample, "2027-06-01").0, [said("b", 2.0, 4.0)]);
        sample.sown_in_bed(&c, &bed, "2027-06-02", 30);
        assert_eq!(
            lies(&sample, "2027-06-02").0,
            [said("c", 0.0, 1.0), said("b", 2.0, 4.0)]
        );
        // The past stays as it was.
        assert_eq!(lies(&sample, "2027-03-02").0.len(), 2);
    }

    #[test]
    fn what_fits_no_gap_is_split_and_the_rest_told_as_too_much() {
        let mut sample = Sample::new();
        let bed = sample.bed("b", 3.0);
        let [a, b] = ["a", "b"].map(|id| sample.variety(id, "antirrhinum", ""));
        sample.sown_in_bed(&a, &bed, "2027-03-01", 60);
        sample.sown_in_bed(&b, &bed, "2027-03-02", 60);
        let (lies, free, over) = lies(&sample, "2027-03-02");
        assert_eq!(
            lies,
            [
                ("a".to_owned(), 0.0, 2.0),
                ("b".to_owned(), 2.0, 3.0),
                ("b".to_owned(), 3.0, 4.0)
            ]
        );
        assert!(free.abs() < 1e-9 && (over - 1.0).abs() < 1e-9);
    }
}
