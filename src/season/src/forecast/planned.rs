//! A planned sowing's course, and how it moves when it is sown in another week, without the rest of the season.

use agronomy::bloom::StageKnown;
use chrono::NaiveDate;

use super::timeline::{Course, Intent, intended};
use super::timing::{bloom_if_planted, planting_window};
use crate::almanac::Almanac;
use crate::ids::*;
use crate::state::PlannedSowing;

/// What is to be otherwise with a planned sowing; what is `None` stays as it is.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Change {
    /// Another day of sowing.
    pub sow: Option<NaiveDate>,
    /// Another space to plant into.
    pub space: Option<SpaceId>,
    /// Another number of cells. The plants follow in proportion unless they are given too.
    pub cells: Option<u32>,
    /// Another number of plants to be set.
    pub plants: Option<u32>,
}

impl Change {
    /// Only the day of sowing moves.
    pub fn sown_on(sow: NaiveDate) -> Self {
        Self {
            sow: Some(sow),
            ..Self::default()
        }
    }

    /// The planned sowing with the change made.
    pub fn of(&self, planned: &PlannedSowing) -> PlannedSowing {
        let cells = self.cells.unwrap_or(planned.cells);
        let plants = self.plants.unwrap_or_else(|| {
            if planned.cells == 0 {
                return planned.plants;
            }
            let share = f64::from(cells) / f64::from(planned.cells);
            (f64::from(planned.plants) * share).round() as u32
        });
        PlannedSowing {
            sow: self.sow.or(planned.sow),
            space: self.space.clone().or_else(|| planned.space.clone()),
            cells,
            plants,
            ..planned.clone()
        }
    }
}

/// The course of a planned sowing if it were changed. `None` as for [`of_planned`].
///
/// Nothing else is worked out again: put it into [`super::Supply::courses`] to see the weeks' sums, rooms and beds with it.
pub fn reforecast(
    almanac: &Almanac<'_>,
    planned: &PlannedSowing,
    change: &Change,
    today: NaiveDate,
) -> Option<Course> {
    of_planned(almanac, &change.of(planned), today)
}

/// The course of a planned sowing as of a day; one that is overdue is sown today. `None` once it is sown or dropped, and without a
/// variety, a date or the crop's figures.
pub fn of_planned(
    almanac: &Almanac<'_>,
    planned: &PlannedSowing,
    today: NaiveDate,
) -> Option<Course> {
    let live = !planned.retired && planned.sown_as.is_none();
    let sow = planned.sow.filter(|_| live)?.max(today);
    let variety = planned.variety.as_ref()?;
    let crop = almanac.crop(variety)?;
    let space = almanac.space_or_usual(planned.space.as_ref());
    let (window, _) = planting_window(almanac, crop, space, sow, 0)?;
    let group = almanac.variety(variety).and_then(|v| v.group);
    let plant = window.best;
    let intent = Intent {
        variety: variety.clone(),
        space: space.map(|space| space.id.clone()),
        sow,
        plant,
        bloom: bloom_if_planted(almanac, crop, group, space, plant, StageKnown::Sown),
        cells: planned.cells,
        plants: planned.plants,
    };
    Some(Course {
        bed: planned.bed.clone(),
        plant: Some(window),
        ..intended(almanac, &intent, today)?
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fact::PlannedFact;
    use crate::forecast::{Source, supply};
    use crate::sample::Sample;

    const TODAY: &str = "2027-01-15";

    fn planned(sample: &mut Sample, id: &str, sow: &str, plants: u32) -> PlannedId {
        let of = PlannedId::new(id).expect("id");
        let variety = sample.variety(&format!("v{id}"), "antirrhinum", "white");
        let sow = Some(sample.day(sow));
        sample.add(PlannedFact {
            variety: Some(variety),
            sow,
            cells: Some(plants * 2),
            plants: Some(plants),
            ..PlannedFact::new(of.clone())
        });
        of
    }

    /// The season with the change really recorded is the check of the one line that was worked out alone.
    #[test]
    fn one_line_alone_is_what_the_whole_season_would_say_of_it() {
        let mut sample = Sample::new();
        sample.bed("b1", 10.0);
        let moved = planned(&mut sample, "a", "2027-02-01", 100);
        planned(&mut sample, "b", "2027-02-15", 60);
        let (today, later) = (sample.day(TODAY), sample.day("2027-03-29"));
        let alone = sample.with(|almanac| {
            let mut all = supply(almanac, today);
            let of = almanac.season().planned.get(&moved).expect("planned");
            let found = reforecast(almanac, of, &Change::sown_on(later), today).expect("outcome");
            assert_eq!(found.sown, later);
            let [mat, _, hardening, _] = found.phases.as_slice() else {
                panic!("{:?}", found.phases)
            };
            let plant = found.plant.expect("window").best;
            assert!(mat.to > later && hardening.from < plant);
            all.courses.insert(Source::Planned(moved.clone()), found);
            assert_eq!(all.courses.len(), 2);
            all.weeks(|_| true)
        });
        sample.add(PlannedFact {
            sow: Some(later),
            pinned: Some(true),
            ..PlannedFact::new(moved.clone())
        });
        let whole = sample.with(|almanac| supply(almanac, today).weeks(|_| true));
        assert!(!whole.is_empty());
        assert_eq!(alone, whole);
    }

    /// Successions bunch up in spring: the later sowing grows in more warmth (said of snapdragons by every grower's guide: sown two
    /// weeks apart in April they bloom a week or less apart; common practice).
    #[test]
    fn a_week_later_in_the_tray_is_less_than_a_week_later_in_bloom() {
        let mut sample = Sample::new();
        sample.bed("b1", 10.0);
        let id = planned(&mut sample, "a", "2027-04-05", 100);
        let today = sample.day(TODAY);
        let first_stems = |sow: &str| {
            let sow = sample.day(sow);
            sample.with(|almanac| {
                let of = almanac.season().planned.get(&id).expect("planned");
                let found = reforecast(almanac, of, &Change::sown_on(sow), today).expect("outcome");
                found.bloom.expect("bloom").p50
            })
        };
        let apart = (first_stems("2027-04-19") - first_stems("2027-04-05")).num_days();
        assert!((1..14).contains(&apart), "{apart} days");
    }

    #[test]
    fn plants_follow_the_cells_unless_they_are_given() {
        let mut sample = Sample::new();
        let id = planned(&mut sample, "a", "2027-02-01", 90);
        let plants = |change: Change| {
            sample.with(|almanac| change.of(&almanac.season().planned[&id]).plants)
        };
        let cells = Some(60);
        assert_eq!(
            plants(Change {
                cells,
                ..Change::default()
            }),
            30
        );
        let given = Some(50);
        assert_eq!(
            plants(Change {
                cells,
                plants: given,
                ..Change::default()
            }),
            50
        );
        assert_eq!(plants(Change::default()), 90);
    }

    #[test]
    fn an_overdue_sowing_is_reckoned_from_today_and_one_without_figures_not_at_all() {
        let mut sample = Sample::new();
        let id = planned(&mut sample, "a", "2027-01-04", 90);
        let today = sample.day(TODAY);
        sample.with(|almanac| {
            let of = &almanac.season().planned[&id];
            let found = of_planned(almanac, of, today).expect("outcome");
            assert_eq!(found.sown, today);
            let gone = PlannedSowing {
                retired: true,
                ..of.clone()
            };
            assert!(of_planned(almanac, &gone, today).is_none());
        });
    }
}
