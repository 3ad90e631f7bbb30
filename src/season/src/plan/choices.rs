//! Sowings that could be made: every variety that answers a wish, in every space, in every week in which it can be sown, stands in
//! its tray no longer than it may, is spared frost and heat where it is planted, and gives stems while they are wanted.

use std::collections::BTreeMap;

use agronomy::bloom::StageKnown;
use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;
use chrono::NaiveDate;
use culture::Crop;
use planner::problem::{Choice, Class};

use super::costs;
use super::rooms::Rooms;
use super::wishes::Wish;
use super::{cells_for, winter_between};
use crate::almanac::Almanac;
use crate::forecast::{
    Outlook, PLANTED_SURVIVAL, StemFigures, bed_ahead, bloom_if_planted, by_week, flushes,
    frost_bound, shifted, spared_by_frost, stem_figures, trays_ahead,
};
use crate::ids::*;
use crate::space::{cells_per_tray, metres_each};
use crate::state::Space;

/// Plants for which the cells a plant takes are reckoned; more takes fewer for each, for chance evens out.
const BATCH_PLANTS: u32 = 30;
/// Stems of a plant in a week that count as none.
const STEMS_LEAST: f64 = 1e-4;
/// Weeks with fewer stems than this share of a sowing's best one are not planned on.
const LEAST_SHARE: f64 = 0.2;
/// Nor are weeks that autumn frost leaves in fewer years than this share.
const SPARED_LEAST: f64 = 0.5;
/// Stems that come anyway count a twentieth more: nobody sows again for a handful.
const LET_PASS: f64 = 1.05;
/// Days after planting in which seedlings are tender to heat.
const TENDER_DAYS: i64 = 14;

/// What a choice of the problem stands for.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Sowing {
    pub variety: VarietyId,
    pub space: SpaceId,
    pub sow: NaiveDate,
    pub plant: NaiveDate,
    pub bloom: Spread<NaiveDate>,
    /// Cells for each plant, as the problem reckons.
    pub cells_each: f64,
}

/// Choices with what they stand for, and the kinds of stems that there are.
pub(super) struct Choices {
    pub choices: Vec<Choice>,
    pub sowings: Vec<Sowing>,
    pub classes: Vec<Class>,
    by_answers: BTreeMap<Vec<usize>, usize>,
}

impl Choices {
    /// All choices for some wishes, over so many weeks from today's on.
    pub fn of(outlook: &Outlook<'_>, wishes: &[Wish], rooms: &Rooms, weeks: usize) -> Self {
        let (almanac, today) = (outlook.almanac(), outlook.today());
        let mut found = Self {
            choices: Vec::new(),
            sowings: Vec::new(),
            classes: Vec::new(),
            by_answers: BTreeMap::new(),
        };
        let first = IsoWeek::of(today);
        for variety in almanac.season().varieties_in_order() {
            for space in almanac.season().spaces_in_order() {
                if !space.holds_beds() {
                    continue;
                }
                let Some(kind) = Kind::of(almanac, wishes, &variety.id, space, today) else {
                    continue;
                };
                let class = found.class(&kind.answers, weeks);
                kind.sow_in_each_week(rooms, first, weeks, &mut |sowing, choice| {
                    found.sowings.push(sowing);
                    found.choices.push(Choice { class, ..choice });
                });
            }
        }
        found.come_anyway(outlook, wishes, weeks);
        found
    }

    fn class(&mut self, answers: &[usize], weeks: usize) -> usize {
        if let Some(class) = self.by_answers.get(answers) {
            return *class;
        }
        self.classes.push(Class {
            answers: answers.to_vec(),
            comes: vec![0.0; weeks],
        });
        let class = self.classes.len() - 1;
        self.by_answers.insert(answers.to_vec(), class);
        class
    }

    /// Stems that stand, are sown or accepted.
    fn come_anyway(&mut self, outlook: &Outlook<'_>, wishes: &[Wish], weeks: usize) {
        let first = IsoWeek::of(outlook.today());
        let courses = outlook.supply().courses.values();
        for course in courses.filter(|course| !course.spare) {
            let answers = answers_of(
                outlook.almanac(),
                wishes,
                &course.variety,
                course.space.as_ref(),
            );
            if answers.is_empty() {
                continue;
            }
            let class = self.class(&answers, weeks);
            for (week, stems) in &course.weeks {
                let place = usize::try_from(first.weeks_until(*week)).ok();
                let comes = self.classes.get_mut(class).map(|class| &mut class.comes);
                if let Some(slot) = comes.and_then(|comes| comes.get_mut(place?)) {
                    *slot += LET_PASS * stems.p50;
                }
            }
        }
    }
}

fn answers_of(
    almanac: &Almanac<'_>,
    wishes: &[Wish],
    variety: &VarietyId,
    space: Option<&SpaceId>,
) -> Vec<usize> {
    wishes
        .iter()
        .enumerate()
        .filter(|(_, wish)| wish.is_served_by(almanac, variety, space))
        .map(|(n, _)| n)
        .collect()
}

/// A variety in a space.
struct Kind<'a> {
    almanac: &'a Almanac<'a>,
    variety: &'a VarietyId,
    space: &'a Space,
    crop: &'a Crop,
    group: Option<u8>,
    figures: StemFigures,
    answers: Vec<usize>,
    /// First and last week in which stems of it are wanted.
    wanted: (IsoWeek, IsoWeek),
    /// Days in the tray: the usual and the most.
    tray_days: (i64, i64),
    cells_each: f64,
    today: NaiveDate,
}

impl<'a> Kind<'a> {
    fn of(
        almanac: &'a Almanac<'a>,
        wishes: &[Wish],
        variety: &'a VarietyId,
        space: &'a Space,
        today: NaiveDate,
    ) -> Option<Self> {
        let answers = answers_of(almanac, wishes, variety, Some(&space.id));
        let served = || answers.iter().filter_map(|n| wishes.get(*n));
        let from = served().map(|wish| wish.weeks.0).min()?;
        let to = served().map(|wish| wish.weeks.1).max()?;
        let chance = served().map(|wish| wish.chance).fold(0.5, f64::max);
        let crop = almanac.crop(variety)?;
        let figures = stem_figures(crop, almanac.cover(Some(space)))?;
        let weeks = crop.figure("weeks_sow_to_transplant")?.spread();
        let days = |weeks: f64| (weeks * 7.0).round() as i64;
        // Crops that can't be held in the tray say how long they may stay there.
        let longest = crop.typical("weeks_in_tray_longest").unwrap_or(weeks.2);
        let cells = cells_for(almanac, crop, variety, BATCH_PLANTS, chance, today)?;
        Some(Self {
            almanac,
            variety,
            space,
            crop,
            group: almanac.variety(variety).and_then(|v| v.group),
            figures,
            answers,
            wanted: (from, to),
            tray_days: (days(weeks.1), days(longest)),
            cells_each: f64::from(cells.cells) / f64::from(BATCH_PLANTS),
            today,
        })
    }

    fn sow_in_each_week(
        &self,
        rooms: &Rooms,
        first: IsoWeek,
        weeks: usize,
        add: &mut dyn FnMut(Sowing, Choice),
    ) {
        for n in 0..weeks {
            let sow = first.plus(n as i32).monday().max(self.today);
            if IsoWeek::of(sow) > self.wanted.1 {
                break;
            }
            let Some(plant) = self.planting(sow) else {
                continue;
            };
            if !self.bears_heat(sow, plant) {
                continue;
            }
            let Some(bloom) = bloom_if_planted(
                self.almanac,
                self.crop,
                self.group,
                Some(self.space),
                plant,
                StageKnown::Sown,
            ) else {
                continue;
            };
            if IsoWeek::of(bloom.p10) > self.wanted.1 || self.winters(plant, bloom.p50) {
                continue;
            }
            let sowing = Sowing {
                variety: self.variety.clone(),
                space: self.space.id.clone(),
                sow,
                plant,
                bloom,
                cells_each: self.cells_each,
            };
            if let Some(choice) = self.choice(rooms, first, weeks, &sowing) {
                add(sowing, choice);
            }
        }
    }

    /// The day of planting: after the usual time in the tray, or when frost lets it, if it may wait so long.
    fn planting(&self, sow: NaiveDate) -> Option<NaiveDate> {
        let usual = shifted(sow, self.tray_days.0);
        match frost_bound(self.almanac, self.crop, Some(self.space), usual) {
            Some((_, safe)) if usual < safe => {
                (safe <= shifted(sow, self.tray_days.1)).then_some(safe)
            }
            _ => Some(usual),
        }
    }

    /// Whether it would have to stand a whole winter: overwintering is not planned here.
    fn winters(&self, plant: NaiveDate, bloom: NaiveDate) -> bool {
        let spring = self.almanac.last_frost_near(bloom);
        spring.is_some_and(|last| plant < last && winter_between(self.almanac, plant, last))
    }

    /// Whether seed comes up in the warmth of its sowing day and the young plants stand that of their first fortnight in the bed.
    /// Limits are those of the crop reference; a crop without them bears what comes.
    fn bears_heat(&self, sow: NaiveDate, plant: NaiveDate) -> bool {
        let Ok(climate) = self.almanac.climate() else {
            return false;
        };
        let mean = |(low, high): (agronomy::quantity::Celsius, agronomy::quantity::Celsius)| {
            (low.0 + high.0) / 2.0
        };
        let sprouts = self
            .crop
            .typical("germination_max_c")
            .is_none_or(|most| mean(climate.day(sow)) <= most);
        let cover = self.almanac.cover(Some(self.space));
        let stands = self.crop.typical("heat_injury_above_c").is_none_or(|most| {
            [0, TENDER_DAYS / 2, TENDER_DAYS]
                .iter()
                .all(|n| climate.day_under(shifted(plant, *n), cover).1.0 <= most)
        });
        sprouts && stands
    }

    /// The numbers of a sowing; none if it gives no stems while they are wanted.
    fn choice(
        &self,
        rooms: &Rooms,
        first: IsoWeek,
        weeks: usize,
        sowing: &Sowing,
    ) -> Option<Choice> {
        let spared = spared_by_frost(self.almanac, self.crop, Some(self.space), sowing.bloom.p50);
        let saleable = self.figures.saleable_per_plant() * PLANTED_SURVIVAL;
        let unharmed = by_week(saleable, &self.figures.shares, sowing.bloom);
        let best = unharmed.iter().map(|(_, stems)| *stems).fold(0.0, f64::max);
        // Nobody plans on the last stems of a tail, nor on stems that frost takes in most years.
        let counts =
            |week: IsoWeek, stems: f64| stems >= LEAST_SHARE * best && spared(week) >= SPARED_LEAST;
        let stems: Vec<(IsoWeek, f64)> = unharmed
            .into_iter()
            .map(|(week, stems)| {
                let planned = if counts(week, stems) {
                    stems * spared(week)
                } else {
                    0.0
                };
                (week, planned)
            })
            .collect();
        let within = |week: IsoWeek| usize::try_from(first.weeks_until(week)).ok();
        let begin = within(stems.first()?.0).unwrap_or(0);
        let mut gives = Vec::with_capacity(stems.len());
        for (week, stems) in &stems {
            if within(*week).is_some_and(|week| week < weeks) {
                gives.push(if *stems < STEMS_LEAST { 0.0 } else { *stems });
            }
        }
        let useful = stems.iter().any(|(week, stems)| {
            self.wanted.0 <= *week && *week <= self.wanted.1 && *stems >= STEMS_LEAST
        });
        if !useful || gives.is_empty() {
            return None;
        }
        let trays = self.cells_each / f64::from(cells_per_tray(self.almanac, self.variety));
        let metres = metres_each(self.almanac, self.variety, &self.space.id);
        let flushes = flushes(self.crop, sowing.bloom, &spared);
        let in_bed = bed_ahead(Some(&self.space.id), sowing.plant, &flushes, metres);
        let bed_weeks = (in_bed.to - in_bed.from).num_days() as f64 / 7.0;
        let takes = trays_ahead(self.crop, sowing.sow, sowing.plant, trays)
            .iter()
            .chain(core::iter::once(&in_bed))
            .filter_map(|phase| rooms.take(phase))
            .collect();
        Some(Choice {
            class: 0,
            first: begin,
            gives,
            takes,
            cost: self.cells_each * costs::seed(self.almanac, self.variety)
                + costs::PLANT
                + costs::metre_week(self.almanac.cover(Some(self.space))) * metres * bed_weeks,
            start: costs::SOWING,
        })
    }
}
