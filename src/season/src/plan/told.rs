//! The planner's answer as a plan: proposals with their reasons, and what can't be met.

use agronomy::quantity::Metres;
use agronomy::spacing::bed_metres_for;
use planner::Answer;
use planner::shortages::Shortage;

use super::brief::Brief;
use super::cells::{CellsFor, cells_at_most, cells_for};
use super::choices::Sowing;
use super::crowding::crowding;
use super::miss;
use super::reasons;
use super::{Assurance, Plan, Proposal, Shortfall};
use crate::almanac::Almanac;
use crate::forecast::Outlook;
use crate::space::spacing_cm;
use crate::state::CHANCE_USUAL;

/// Stems short in a week that are let pass: less than this share of what is wanted.
const SHORT_LET_PASS: f64 = 0.05;
/// Width of the bed that a proposal's metres are told for, m.
pub const BED_WIDTH_M: f64 = 1.2;
/// Stems of a sowing's best week from which on a week counts as one that it is meant for.
const MEANT_SHARE: f64 = 0.5;

impl Brief {
    /// Reads an answer to this very problem.
    pub fn read(&self, outlook: &Outlook<'_>, answer: &Answer) -> Plan {
        let almanac = outlook.almanac();
        let mut chosen: Vec<Chosen<'_>> = answer
            .found
            .plants
            .iter()
            .filter_map(|(choice, plants)| {
                let sowing = self.sowings.get(*choice)?;
                Some(Chosen {
                    choice: *choice,
                    sowing,
                    plants: *plants,
                    cells: None,
                })
            })
            .collect();
        for one in &mut chosen {
            one.cells = self.cells(almanac, one);
        }
        self.fit(outlook, &mut chosen);
        let mut proposals: Vec<Proposal> = chosen
            .iter()
            .filter_map(|one| self.proposal(almanac, one, &chosen))
            .collect();
        proposals.sort_by(|a, b| {
            (a.sow, &a.target, &a.variety, &a.space).cmp(&(b.sow, &b.target, &b.variety, &b.space))
        });
        let crowding = crowding(outlook, &proposals);
        let shortages = answer.shortages.iter();
        let shortfalls = shortages
            .filter_map(|shortage| self.shortfall(almanac, shortage))
            .collect();
        Plan {
            proposals,
            shortfalls,
            crowding,
            assurance: Some(Assurance {
                cost: answer.found.cost,
                gap: answer.found.gap(),
                ended: answer.found.ended,
            }),
        }
    }

    /// The chance of enough plants that is asked of a choice: the highest of those that it serves.
    fn chance(&self, choice: usize) -> f64 {
        let class = self.problem.choices.get(choice).map(|c| c.class);
        let answers = class
            .and_then(|class| self.problem.classes.get(class))
            .map(|class| &class.answers);
        let chances = answers
            .into_iter()
            .flatten()
            .filter_map(|wish| self.wishes.get(*wish))
            .map(|wish| wish.chance);
        chances.reduce(f64::max).unwrap_or(CHANCE_USUAL)
    }

    fn cells(&self, almanac: &Almanac<'_>, one: &Chosen<'_>) -> Option<CellsFor> {
        let crop = almanac.crop(&one.sowing.variety)?;
        let chance = self.chance(one.choice);
        let (variety, on) = (&one.sowing.variety, one.sowing.sow);
        cells_for(almanac, crop, variety, one.plants, chance, on)
    }

    /// Cells as the chance wanted asks for, or fewer where small sowings would together overflow a mat or shelf that the plan fills:
    /// chance evens out in large sowings, and the problem reckons with middling ones.
    fn fit(&self, outlook: &Outlook<'_>, chosen: &mut [Chosen<'_>]) {
        let almanac = outlook.almanac();
        let proposals: Vec<Proposal> = chosen
            .iter()
            .filter_map(|one| self.proposal(almanac, one, &[]))
            .collect();
        if crowding(outlook, &proposals).is_empty() {
            return;
        }
        for one in chosen {
            let most = (f64::from(one.plants) * one.sowing.cells_each).floor() as u32;
            let Some(cells) = &mut one.cells else {
                continue;
            };
            if cells.cells > most {
                let variety = &one.sowing.variety;
                if let Some(fewer) =
                    cells_at_most(almanac, variety, one.plants, most, one.sowing.sow)
                {
                    *cells = fewer;
                }
            }
        }
    }

    fn proposal(
        &self,
        almanac: &Almanac<'_>,
        one: &Chosen<'_>,
        all: &[Chosen<'_>],
    ) -> Option<Proposal> {
        let Sowing {
            variety,
            space,
            sow,
            plant,
            bloom,
            ..
        } = one.sowing;
        let cells = one.cells.as_ref()?;
        let choice = self.problem.choices.get(one.choice)?;
        let served = self.served(one)?;
        let best = choice.gives.iter().copied().fold(0.0, f64::max);
        let wish = self.wishes.get(served)?;
        let meant: Vec<usize> = choice
            .gives
            .iter()
            .enumerate()
            .filter(|(_, stems)| **stems >= MEANT_SHARE * best)
            .map(|(n, _)| choice.first + n)
            .filter(|week| (wish.weeks.0..=wish.weeks.1).contains(&self.week(*week)))
            .collect();
        let weeks = (
            self.week(*meant.first().unwrap_or(&choice.first)),
            self.week(*meant.last().unwrap_or(&choice.first)),
        );
        let spacing = Metres(spacing_cm(almanac, variety) / 100.0);
        let others = |week: usize| -> f64 {
            all.iter()
                .filter(|other| other.choice != one.choice)
                .filter_map(|other| Some((self.problem.choices.get(other.choice)?, other.plants)))
                .filter(|(other, _)| {
                    let class = self.problem.classes.get(other.class);
                    class.is_some_and(|class| class.answers.contains(&served))
                })
                .map(|(other, plants)| stems_in(other, week) * f64::from(plants))
                .sum()
        };
        let (why_plants, why_dates) = reasons::of(almanac, self, one, served, &others)?;
        Some(Proposal {
            target: wish.target().cloned(),
            serves: wish.asker.clone(),
            variety: variety.clone(),
            sow: *sow,
            plant: *plant,
            space: space.clone(),
            bloom: *bloom,
            plants: one.plants,
            cells: cells.cells,
            weeks,
            bed_metres: bed_metres_for(one.plants, Metres(BED_WIDTH_M), spacing).0,
            why_plants,
            why_cells: cells.why.clone(),
            why_dates,
        })
    }

    /// The wish that a sowing gives most stems for: of several, the one served first.
    fn served(&self, one: &Chosen<'_>) -> Option<usize> {
        let choice = self.problem.choices.get(one.choice)?;
        let answers = &self.problem.classes.get(choice.class)?.answers;
        let gives = |wish: usize| -> f64 {
            let demand = self.problem.demands.get(wish);
            let weeks = demand.map_or(&[][..], |demand| &demand.wanted);
            let stems = weeks.iter().map(|(week, wanted)| {
                (stems_in(choice, *week) * f64::from(one.plants)).min(*wanted)
            });
            stems.sum()
        };
        let mut best: Option<(usize, f64)> = None;
        for wish in answers {
            let stems = gives(*wish);
            if best.is_none_or(|(_, most)| stems > most * 1.2) {
                best = Some((*wish, stems));
            }
        }
        best.map(|(wish, _)| wish)
    }

    fn shortfall(&self, almanac: &Almanac<'_>, shortage: &Shortage) -> Option<Shortfall> {
        let wish = self.wishes.get(shortage.demand)?;
        // As many as would be missing of those wanted, at the chance wanted.
        let stems = shortage.stems * wish.dependable();
        let weeks = shortage.weeks.1 - shortage.weeks.0 + 1;
        if stems < SHORT_LET_PASS * f64::from(wish.stems) * weeks as f64 {
            return None;
        }
        Some(miss::shortfall(almanac, self, wish, shortage, stems))
    }
}

/// Stems of one plant in a week.
pub(super) fn stems_in(choice: &planner::problem::Choice, week: usize) -> f64 {
    let place = week.checked_sub(choice.first);
    place
        .and_then(|place| choice.gives.get(place))
        .copied()
        .unwrap_or(0.0)
}

/// A sowing of the plan.
pub(super) struct Chosen<'a> {
    pub choice: usize,
    pub sowing: &'a Sowing,
    pub plants: u32,
    pub cells: Option<CellsFor>,
}
