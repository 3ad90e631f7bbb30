//! A planned sowing's dates and stems, and how they move when it is sown in another week: one line, without the rest of the season.

use agronomy::bloom::StageKnown;
use agronomy::quantity::Spread;
use chrono::NaiveDate;
use culture::{Crop, MatUse};

use super::supply::{Line, Source, stems_of};
use super::timing::{bloom_if_planted, planting_window};
use super::{Window, shifted};
use crate::almanac::Almanac;
use crate::ids::*;
use crate::state::{PlannedSowing, Space};
use crate::why::Reason;

/// Days that stems are cut for where the crop says nothing (from memory of practice).
const CUT_DAYS_USUAL: i64 = 14;
/// Days of hardening off where the crop says nothing: a week to ten days, common practice.
const HARDENING_DAYS_USUAL: f64 = 7.0;

/// The days on which something happens to a sowing that is still to be sown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Milestones {
    /// Sown; today if it is overdue.
    pub sow: NaiveDate,
    /// Off the mat; the day of sowing for a crop that needs none.
    pub off_mat: NaiveDate,
    /// Out to harden off.
    pub harden: NaiveDate,
    /// Planted.
    pub plant: Window,
    /// First stems.
    pub bloom: Option<Spread<NaiveDate>>,
    /// Last stems, if first stems come as likely as not.
    pub last: Option<NaiveDate>,
}

/// What follows from a planned sowing.
#[derive(Debug, Clone)]
pub struct PlannedOutcome {
    /// Its stems by week.
    pub line: Line,
    /// Its days.
    pub days: Milestones,
    /// The chain behind the day of planting.
    pub why_plant: Vec<Reason>,
}

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

/// What would follow if a planned sowing were changed. `None` as for [`of_planned`].
///
/// Nothing else is worked out again: hand the line to [`super::Supply::replace`] to see the weeks' sums with it.
pub fn reforecast(
    almanac: &Almanac<'_>,
    planned: &PlannedSowing,
    change: &Change,
    today: NaiveDate,
) -> Option<PlannedOutcome> {
    of_planned(almanac, &change.of(planned), today)
}

/// What follows from a planned sowing as of a day. `None` once it is sown or dropped, and without a variety, a date or the crop's
/// figures.
pub fn of_planned(
    almanac: &Almanac<'_>,
    planned: &PlannedSowing,
    today: NaiveDate,
) -> Option<PlannedOutcome> {
    let timed = timed(almanac, planned, today)?;
    let Timed {
        crop, space, plant, ..
    } = &timed;
    let variety = planned.variety.as_ref()?;
    let group = almanac.variety(variety).and_then(|v| v.group);
    let bloom = bloom_if_planted(almanac, crop, group, *space, plant.best, StageKnown::Sown);
    let space = space.map(|s| &s.id);
    Some(PlannedOutcome {
        line: Line {
            source: Source::Planned(planned.id.clone()),
            variety: variety.clone(),
            space: space.cloned(),
            bloom,
            weeks: stems_of(
                almanac,
                variety,
                space,
                bloom,
                f64::from(planned.plants),
                today,
            ),
        },
        days: timed.days(bloom),
        why_plant: timed.why,
    })
}

/// The days of a planned sowing whose line is forecast already. `None` as for [`of_planned`].
pub fn days_of(
    almanac: &Almanac<'_>,
    planned: &PlannedSowing,
    line: &Line,
    today: NaiveDate,
) -> Option<Milestones> {
    Some(timed(almanac, planned, today)?.days(line.bloom))
}

/// A sowing up to its planting.
struct Timed<'a> {
    crop: &'a Crop,
    space: Option<&'a Space>,
    sow: NaiveDate,
    plant: Window,
    why: Vec<Reason>,
}

fn timed<'a>(
    almanac: &'a Almanac<'_>,
    planned: &PlannedSowing,
    today: NaiveDate,
) -> Option<Timed<'a>> {
    let live = !planned.retired && planned.sown_as.is_none();
    let sow = planned.sow.filter(|_| live)?.max(today);
    let crop = almanac.crop(planned.variety.as_ref()?)?;
    let space = almanac.space_or_usual(planned.space.as_ref());
    let (plant, why) = planting_window(almanac, crop, space, sow, 0)?;
    Some(Timed {
        crop,
        space,
        sow,
        plant,
        why,
    })
}

impl Timed<'_> {
    fn days(&self, bloom: Option<Spread<NaiveDate>>) -> Milestones {
        let off_mat = shifted(self.sow, mat_days(self.crop));
        Milestones {
            sow: self.sow,
            off_mat,
            harden: shifted(self.plant.best, -hardening_days(self.crop)).max(off_mat),
            plant: self.plant,
            bloom,
            last: bloom.map(|bloom| shifted(bloom.p50, cut_days(self.crop))),
        }
    }
}

/// Days on the heat mat: until most seedlings are up, for crops that are usually set on one.
pub(crate) fn mat_days(crop: &Crop) -> i64 {
    match crop.mat_use() {
        MatUse::Usual => crop
            .emergence_usual()
            .map_or(0, |usual| usual.most_day.ceil() as i64),
        MatUse::OnlyIfCold | MatUse::Never => 0,
    }
}

/// Days of hardening off before planting.
pub(crate) fn hardening_days(crop: &Crop) -> i64 {
    crop.typical("hardening_off_days")
        .unwrap_or(HARDENING_DAYS_USUAL)
        .round() as i64
}

/// Days from first to last stems, all flushes together.
pub(crate) fn cut_days(crop: &Crop) -> i64 {
    let Some(window) = crop.typical("harvest_window_days") else {
        return CUT_DAYS_USUAL;
    };
    let more = crop.typical("flushes").unwrap_or(1.0).max(1.0) - 1.0;
    let interval = crop.typical("flush_interval_days").unwrap_or(window);
    ((window + more * interval).round() as i64).max(1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fact::PlannedFact;
    use crate::forecast::supply;
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
            assert_eq!(found.days.sow, later);
            assert!(found.days.off_mat > later && found.days.harden < found.days.plant.best);
            all.replace(found.line);
            assert_eq!(all.lines.len(), 2);
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
                found.days.bloom.expect("bloom").p50
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
            assert_eq!(found.days.sow, today);
            let gone = PlannedSowing {
                retired: true,
                ..of.clone()
            };
            assert!(of_planned(almanac, &gone, today).is_none());
        });
    }
}
