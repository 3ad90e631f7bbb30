//! Stems expected against stems wanted: target by target, week by week.

use std::collections::BTreeMap;
use std::sync::Arc;

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::{Chance, Spread};
use chrono::NaiveDate;

use crate::almanac::Almanac;
use crate::forecast::{Outlook, Sum, Supply};
use crate::ids::*;
use crate::plan::{answers, in_order};
use crate::state::Target;

/// Stems missing in a week that are let pass: less than this share of what is wanted, as the plan has it.
const SHORT_LET_PASS: f64 = 0.05;

/// One week of a target.
#[derive(Debug, Clone, PartialEq)]
pub struct WeekCover {
    /// Which week.
    pub week: IsoWeek,
    /// Stems wanted.
    pub wanted: u32,
    /// Stems expected that no narrower or earlier target needs.
    pub stems: Spread<f64>,
    /// The chance that it is fewer than wanted.
    pub short_chance: Chance,
}

impl WeekCover {
    /// Stems that are likely to be missing; 0 where the week counts as covered.
    pub fn short(&self) -> u32 {
        let wanted = f64::from(self.wanted);
        let missing = wanted - self.stems.p50;
        if missing > SHORT_LET_PASS * wanted {
            missing.ceil() as u32
        } else {
            0
        }
    }
}

/// A target's weeks from this week on.
#[derive(Debug, Clone, PartialEq)]
pub struct Cover {
    /// Which target.
    pub target: TargetId,
    /// Its weeks that are not past.
    pub weeks: Vec<WeekCover>,
}

impl Cover {
    /// Weeks in which stems are likely to be missing.
    pub fn short_weeks(&self) -> impl Iterator<Item = &WeekCover> {
        self.weeks.iter().filter(|week| week.short() > 0)
    }
}

/// Stems by week of one variety, and how much of them is not given to a target yet.
struct Left {
    stems: Sum,
    share: f64,
}

impl Left {
    fn stems(&self) -> Sum {
        self.stems.times(self.share)
    }

    /// Gives up to so many of the middle stems away; returns how many.
    fn give(&mut self, stems: f64) -> f64 {
        let there = self.stems.middle() * self.share;
        if there <= 0.0 {
            return 0.0;
        }
        let given = stems.min(there);
        self.share *= 1.0 - given / there;
        given
    }
}

/// All targets in the order in which the plan serves them: the narrow ones first. Stems go to the first target that they answer to.
pub fn coverage(outlook: &Outlook<'_>) -> Arc<Vec<Cover>> {
    outlook.keep(covers)
}

fn covers(outlook: &Outlook<'_>) -> Vec<Cover> {
    let almanac = outlook.almanac();
    let mut left = left_by_variety(almanac, outlook.supply());
    in_order(almanac)
        .into_iter()
        .filter_map(|target| {
            let weeks = cover(almanac, target, &mut left, outlook.today());
            (!weeks.is_empty()).then(|| Cover {
                target: target.id.clone(),
                weeks,
            })
        })
        .collect()
}

type LeftByVariety = BTreeMap<VarietyId, BTreeMap<IsoWeek, Left>>;

fn left_by_variety(almanac: &Almanac<'_>, supply: &Supply) -> LeftByVariety {
    let whole = |stems| Left { stems, share: 1.0 };
    almanac
        .season()
        .varieties
        .keys()
        .map(|id| {
            let weeks = supply.sums(|variety| variety == id);
            let weeks = weeks.into_iter().map(|(week, stems)| (week, whole(stems)));
            (id.clone(), weeks.collect())
        })
        .collect()
}

fn cover(
    almanac: &Almanac<'_>,
    target: &Target,
    left: &mut LeftByVariety,
    today: NaiveDate,
) -> Vec<WeekCover> {
    let (Some(from), Some(to)) = (target.from, target.to) else {
        return Vec::new();
    };
    let from = from.max(IsoWeek::of(today));
    let varieties: Vec<VarietyId> = almanac
        .season()
        .varieties_in_order()
        .iter()
        .filter(|variety| answers(almanac, &variety.id, &target.wanted))
        .map(|variety| variety.id.clone())
        .collect();
    (0..=from.weeks_until(to))
        .map(|n| {
            let week = from.plus(n);
            let mut found: Vec<&mut Left> = left
                .iter_mut()
                .filter(|(variety, _)| varieties.contains(variety))
                .filter_map(|(_, weeks)| weeks.get_mut(&week))
                .collect();
            let stems: Sum = found.iter().map(|left| left.stems()).collect();
            let stems = stems.spread();
            let mut need = f64::from(target.stems);
            for left in &mut found {
                need -= left.give(need);
            }
            WeekCover {
                week,
                wanted: target.stems,
                stems,
                short_chance: stems.chance_below(f64::from(target.stems)),
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fact::{Role, Wanted};
    use crate::forecast::{Course, Source};
    use crate::sample::Sample;

    const WEEK: &str = "2027-W26";

    /// Two varieties of spikes: white gives 30 (20 to 40) in the week, red gives 20 (10 to 30).
    fn season() -> (Sample, Supply) {
        let mut sample = Sample::new();
        let white = sample.variety("a", "antirrhinum", "white");
        let red = sample.variety("b", "antirrhinum", "red");
        let course = |id, variety, p50: f64| {
            let stems = Spread {
                p10: p50 - 10.0,
                p50,
                p90: p50 + 10.0,
            };
            let weeks = vec![(WEEK.parse().expect("week"), stems)];
            let source = Source::Planting(PlantingId::new(id).expect("id"));
            (source, Course::of_stems(variety, weeks))
        };
        let supply = Supply {
            courses: BTreeMap::from([course("p1", white, 30.0), course("p2", red, 20.0)]),
            ..Supply::default()
        };
        (sample, supply)
    }

    fn found(sample: &Sample, supply: &Supply, today: &str) -> Arc<Vec<Cover>> {
        sample.supplied(supply, sample.day(today), coverage)
    }

    fn spikes(colour: Option<&str>) -> Wanted {
        Wanted {
            role: Some(Role::Spike),
            colour: colour.map(str::to_owned),
            ..Wanted::default()
        }
    }

    #[test]
    fn stems_count_once_and_the_narrower_target_has_them_first() {
        let (mut sample, supply) = season();
        let any = sample.target("t1", spikes(None), (WEEK, WEEK), 40);
        let white = Wanted {
            crop: Some("antirrhinum".into()),
            ..spikes(Some("white"))
        };
        let white = sample.target("t2", white, (WEEK, WEEK), 20);
        let found = found(&sample, &supply, "2027-06-14");
        let of = |id: &TargetId| {
            found
                .iter()
                .find(|cover| cover.target == *id)
                .and_then(|cover| cover.weeks.first())
                .cloned()
                .expect("cover")
        };
        assert!((of(&white).stems.p50 - 30.0).abs() < 1e-9);
        assert_eq!(of(&white).short(), 0);
        // 10 of the white and all 20 of the red are left: 10 short of 40.
        let left = of(&any);
        assert!((left.stems.p50 - 30.0).abs() < 1e-9, "{left:?}");
        assert_eq!(left.short(), 10);
        // 10/3 of the white third and 10 of the red, with half of the variance in common: 10.54 apart, 13.33 as one, so 12.02.
        assert!((left.stems.p90 - 42.018_5).abs() < 1e-3, "{left:?}");
        assert!(left.short_chance.get() > 0.8 && left.short_chance.get() < 0.95);
    }

    #[test]
    fn weeks_that_are_past_are_left_out_and_a_hair_short_is_let_pass() {
        let (mut sample, supply) = season();
        sample.target("t1", spikes(None), ("2027-W20", "2027-W27"), 52);
        let found = found(&sample, &supply, "2027-06-30");
        let weeks = &found.first().expect("cover").weeks;
        let said: Vec<(String, u32)> = weeks
            .iter()
            .map(|week| (week.week.to_string(), week.short()))
            .collect();
        assert_eq!(
            said,
            [("2027-W26".to_owned(), 0), ("2027-W27".to_owned(), 52)]
        );
    }
}
