//! The fold: entries in stamp order to the season.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use chrono::NaiveDate;

use super::standing::{Step, StepKind};
use super::*;
use crate::entry::Entry;
use crate::fact::table::Merge;
use crate::fact::*;
use crate::log::Log;

/// Corrections that count, by the entry they correct.
struct Corrections<'a> {
    voided: BTreeSet<&'a EntryId>,
    revised: BTreeMap<&'a EntryId, Vec<&'a RevisedFact>>,
    problems: Vec<Problem>,
}

/// Walks backwards, so that what takes back an entry is known to live or not before the entry is met. A correction counts only
/// if it is later than its target: no circle of corrections can arise.
fn corrections(log: &Log) -> Corrections<'_> {
    let mut found = Corrections {
        voided: BTreeSet::new(),
        revised: BTreeMap::new(),
        problems: Vec::new(),
    };
    for entry in log.iter().rev() {
        let target = match entry.fact() {
            Fact::Voided(f) => &f.entry,
            Fact::Revised(f) => &f.entry,
            _ => continue,
        };
        if found.voided.contains(entry.id()) {
            continue;
        }
        let Some(aim) = log.get(target) else {
            found.problems.push(Problem {
                entry: entry.id().clone(),
                what: ProblemKind::Dangling,
            });
            continue;
        };
        if (aim.at(), aim.device(), aim.id()) >= (entry.at(), entry.device(), entry.id()) {
            found.problems.push(Problem {
                entry: entry.id().clone(),
                what: ProblemKind::BeforeItsTarget,
            });
            continue;
        }
        match entry.fact() {
            Fact::Voided(_) => {
                found.voided.insert(aim.id());
            }
            Fact::Revised(f) => found.revised.entry(aim.id()).or_default().push(f),
            _ => {}
        }
    }
    for sets in found.revised.values_mut() {
        sets.reverse();
    }
    found
}

/// Entries that are taken back as things stand, each with the entries that do so: take those back, and it counts again.
pub fn taken_back(log: &Log) -> BTreeMap<EntryId, Vec<EntryId>> {
    let voided = corrections(log).voided;
    let mut found = BTreeMap::<EntryId, Vec<EntryId>>::new();
    for entry in log.iter() {
        if let Fact::Voided(f) = entry.fact()
            && voided.contains(&f.entry)
            && !voided.contains(entry.id())
            && log.get(&f.entry).is_some_and(|aim| {
                (aim.at(), aim.device(), aim.id()) < (entry.at(), entry.device(), entry.id())
            })
        {
            found
                .entry(f.entry.clone())
                .or_default()
                .push(entry.id().clone());
        }
    }
    found
}

impl Season {
    /// What a log adds up to.
    pub fn of(log: &Log) -> Self {
        let corrections = corrections(log);
        let mut season = Self {
            problems: corrections.problems,
            ..Self::default()
        };
        let mut later: Vec<(&Entry, Arc<Fact>)> = Vec::new();
        for entry in log.iter() {
            if corrections.voided.contains(entry.id()) {
                continue;
            }
            let sets = corrections.revised.get(entry.id());
            let fact = match sets {
                Some(sets) => Arc::new(entry.fact_revised(sets.iter().map(|f| &f.set))),
                None => entry.shared_fact(),
            };
            match fact.as_ref() {
                Fact::Unknown => season.unknown += 1,
                Fact::Unreadable(_) => season.problem(entry, ProblemKind::Unreadable),
                Fact::Revised(_) | Fact::Voided(_) => {}
                _ if fact.date().is_none() => season.define(&fact),
                _ => {
                    season.begin(entry, &fact);
                    season.events.insert(
                        entry.id().clone(),
                        Event {
                            entry: entry.id().clone(),
                            at: entry.at(),
                            device: entry.device().clone(),
                            fact: Arc::clone(&fact),
                            revised: sets.is_some(),
                        },
                    );
                    later.push((entry, fact));
                }
            }
        }
        for (entry, fact) in &later {
            season.plant_out(entry, fact);
        }
        // By day of what happened, then by stamp: a count entered late still stands before a loss that came after it.
        later.sort_by_key(|(_, fact)| fact.date());
        for (entry, fact) in &later {
            season.happen(entry, fact);
        }
        season.settle();
        season
    }

    fn problem(&mut self, entry: &Entry, what: ProblemKind) {
        self.problems.push(Problem {
            entry: entry.id().clone(),
            what,
        });
    }

    fn define(&mut self, fact: &Fact) {
        macro_rules! take {
            ($map:ident, $type:ident, $f:expr) => {
                self.$map
                    .entry($f.of.clone())
                    .or_insert_with(|| $type::new($f.of.clone()))
                    .take($f)
            };
        }
        match fact {
            Fact::Device(f) => {
                self.devices.insert(f.of.clone(), f.name.clone());
            }
            Fact::Place(f) => take!(places, Place, f),
            Fact::Space(f) => take!(spaces, Space, f),
            Fact::Bed(f) => take!(beds, Bed, f),
            Fact::Crop(f) => {
                f.figures.merge(self.crops.entry(f.of.clone()).or_default());
            }
            Fact::Variety(f) => take!(varieties, Variety, f),
            Fact::SeedLot(f) => take!(lots, SeedLot, f),
            Fact::Target(f) => take!(targets, Target, f),
            Fact::Order(f) => take!(orders, Order, f),
            Fact::Recipe(f) => take!(recipes, Recipe, f),
            Fact::Season(f) => take!(seasons, CropYear, f),
            Fact::Planned(f) => take!(planned, PlannedSowing, f),
            _ => {}
        }
    }

    /// Sowings and direct-sown plantings come first: other events name them.
    fn begin(&mut self, entry: &Entry, fact: &Fact) {
        match fact {
            Fact::Sown(f) => {
                let id = SowingId::from(entry.id().clone());
                self.sowings.insert(
                    id.clone(),
                    Sowing {
                        id,
                        variety: f.variety.clone(),
                        lot: f.lot.clone(),
                        date: f.date,
                        cells: f.cells,
                        seeds_per_cell: f.seeds_per_cell,
                        tray: f.tray,
                        dome: f.dome,
                        label: f.label.clone(),
                        number: f.number,
                        planned: f.planned.clone(),
                        again_for: f.again_for.clone(),
                        for_space: f.for_space.clone(),
                        stood: f
                            .space
                            .iter()
                            .map(|space| (f.date, space.clone()))
                            .collect(),
                        counts: Vec::new(),
                        losses: Vec::new(),
                        dome_lifted: None,
                        mat_off: None,
                        potted_on: None,
                        hardening: None,
                        hardened: Vec::new(),
                        covered: Vec::new(),
                        regime: None,
                        watered: None,
                        fed: None,
                        finished: None,
                        plantings: Vec::new(),
                        history: vec![entry.id().clone()],
                        steps: Vec::new(),
                        sown_in: None,
                    },
                );
            }
            Fact::DirectSown(f) => {
                let id = PlantingId::from(entry.id().clone());
                let planting = Planting {
                    planned: f.planned.clone(),
                    spacing_cm: f.spacing_cm,
                    ..new_planting(entry, None, &f.variety, &f.bed, f.date, f.plants)
                };
                self.plantings.insert(id, planting);
            }
            _ => {}
        }
    }

    /// Transplanted plantings follow once all sowings are there: two devices' clocks may have stamped them the other way round.
    fn plant_out(&mut self, entry: &Entry, fact: &Fact) {
        let Fact::Transplanted(f) = fact else { return };
        let Some(sowing) = self.sowings.get_mut(&f.sowing) else {
            return;
        };
        let id = PlantingId::from(entry.id().clone());
        sowing.plantings.push(id.clone());
        let planting = Planting {
            spacing_cm: f.spacing_cm,
            ..new_planting(
                entry,
                Some(f.sowing.clone()),
                &sowing.variety,
                &f.bed,
                f.date,
                f.plants,
            )
        };
        self.plantings.insert(id, planting);
    }

    fn happen(&mut self, entry: &Entry, fact: &Fact) {
        let id = entry.id();
        match fact {
            Fact::Counted(f) => self.on_sowing(entry, &f.sowing, f.date, |s| {
                s.counts.push(Count {
                    entry: id.clone(),
                    date: f.date,
                    up: f.up,
                    of: f.of,
                    doubles: f.doubles,
                    about: f.about,
                    map: f.map.clone(),
                });
                s.steps.push(Step {
                    date: f.date,
                    entry: id.clone(),
                    kind: StepKind::Counted {
                        up: f.up,
                        of: f.of,
                        doubles: f.doubles,
                        about: f.about,
                    },
                });
            }),
            Fact::Moved(f) => {
                self.on_sowing(entry, &f.sowing, f.date, |s| {
                    s.stood.push((f.date, f.space.clone()))
                });
            }
            Fact::DomeLifted(f) => {
                self.on_sowing(entry, &f.sowing, f.date, |s| {
                    s.dome_lifted = s.dome_lifted.or(Some(f.date))
                });
            }
            Fact::MatOff(f) => self.on_sowing(entry, &f.sowing, f.date, |s| {
                s.mat_off = s.mat_off.or(Some(f.date));
                s.stood
                    .extend(f.space.iter().map(|space| (f.date, space.clone())));
            }),
            Fact::Lost(f) => {
                if let Some(sowing) = &f.sowing {
                    self.on_sowing(entry, sowing, f.date, |s| {
                        s.losses.push(Loss {
                            date: f.date,
                            number: f.number,
                            tray: f.tray,
                            cause: f.cause,
                        });
                        s.steps.push(Step {
                            date: f.date,
                            entry: id.clone(),
                            kind: StepKind::Lost(f.number, f.up),
                        });
                    });
                }
                if let Some(planting) = &f.planting {
                    self.on_planting(entry, planting, f.date, |p| {
                        let possible = f.number <= p.standing();
                        p.lost = p.lost.saturating_add(f.number);
                        p.losses.push(Loss {
                            date: f.date,
                            number: f.number,
                            tray: None,
                            cause: f.cause,
                        });
                        possible
                    });
                }
            }
            Fact::PrickedOut(f) => self.on_sowing(entry, &f.sowing, f.date, |s| {
                s.steps.push(Step {
                    date: f.date,
                    entry: id.clone(),
                    kind: StepKind::PrickedOut(f.cells),
                });
            }),
            Fact::PottedOn(f) => self.on_sowing(entry, &f.sowing, f.date, |s| {
                s.potted_on = Some(f.date);
                s.sown_in = s.sown_in.or(s.tray);
                s.tray = f.tray.or(s.tray);
            }),
            Fact::Hardening(f) => self.on_sowing(entry, &f.sowing, f.date, |s| {
                s.hardening = s.hardening.or(Some(f.date));
                if s.hardened.last() != Some(&f.date) {
                    s.hardened.push(f.date);
                }
                s.stood
                    .extend(f.space.iter().map(|space| (f.date, space.clone())));
            }),
            Fact::Transplanted(f) => self.on_sowing(entry, &f.sowing, f.date, |s| {
                s.steps.push(Step {
                    date: f.date,
                    entry: id.clone(),
                    kind: StepKind::Transplanted(f.plants),
                });
            }),
            Fact::Pinched(f) => {
                self.on_planting(entry, &f.planting, f.date, |p| {
                    p.pinched = p.pinched.or(Some(f.date));
                    true
                });
            }
            Fact::Netted(f) => {
                self.on_planting(entry, &f.planting, f.date, |p| {
                    p.netted = p.netted.or(Some(f.date));
                    true
                });
            }
            Fact::Watered(f) => {
                if let Some(sowing) = &f.sowing {
                    self.on_sowing(entry, sowing, f.date, |s| {
                        s.watered = Some(f.date);
                        s.regime = f.regime.map(|regime| (f.date, regime)).or(s.regime);
                    });
                }
                if let Some(planting) = &f.planting {
                    self.on_planting(entry, planting, f.date, |p| {
                        p.watered = Some(f.date);
                        true
                    });
                }
            }
            Fact::Fed(f) => {
                if let Some(sowing) = &f.sowing {
                    self.on_sowing(entry, sowing, f.date, |s| s.fed = Some(f.date));
                }
                if let Some(planting) = &f.planting {
                    self.on_planting(entry, planting, f.date, |p| {
                        p.fed = Some(f.date);
                        true
                    });
                }
            }
            Fact::Seen(f) => self.on_planting(entry, &f.planting, f.date, |p| {
                let slot = match f.stage {
                    BloomStage::VisibleBud => &mut p.visible_bud,
                    BloomStage::FirstColour => &mut p.first_colour,
                };
                *slot = slot.or(Some(f.date));
                true
            }),
            Fact::Cut(f) => self.on_planting(entry, &f.planting, f.date, |p| {
                p.cuts.push(CutRecord {
                    entry: id.clone(),
                    date: f.date,
                    stems: f.stems,
                    culls: f.culls,
                    grade: f.grade,
                });
                true
            }),
            Fact::Finished(f) => {
                if let Some(sowing) = &f.sowing {
                    self.on_sowing(entry, sowing, f.date, |s| {
                        s.finished = s.finished.or(Some(f.date))
                    });
                }
                if let Some(planting) = &f.planting {
                    self.on_planting(entry, planting, f.date, |p| {
                        p.finished = p.finished.or(Some(f.date));
                        true
                    });
                }
            }
            Fact::Temperature(f) => {
                let measured = Measured {
                    space: f.space.clone(),
                    min_c: f.min_c,
                    max_c: f.max_c,
                    mean_c: f.mean_c,
                };
                self.temperatures.entry(f.date).or_default().push(measured);
            }
            Fact::Frost(f) => self.frosts.push(Frost {
                entry: id.clone(),
                date: f.date,
                space: f.space.clone(),
                min_c: f.min_c,
            }),
            Fact::Bunched(f) => self.bunched.push(StemsMoved {
                entry: id.clone(),
                date: f.date,
                variety: f.variety.clone(),
                stems: f.bunches.saturating_mul(f.stems_each),
                order: None,
                due: None,
                money: None,
            }),
            Fact::Discarded(f) => self.discarded.push(StemsMoved {
                entry: id.clone(),
                date: f.date,
                variety: f.variety.clone(),
                stems: f.stems,
                order: None,
                due: None,
                money: None,
            }),
            Fact::Sold(f) => self.sold.push(StemsMoved {
                entry: id.clone(),
                date: f.date,
                variety: f.variety.clone(),
                stems: f.stems,
                order: f.order.clone(),
                due: f.due,
                money: f.income,
            }),
            Fact::BoughtIn(f) => self.bought.push(StemsMoved {
                entry: id.clone(),
                date: f.date,
                variety: f.variety.clone(),
                stems: f.stems,
                order: None,
                due: None,
                money: f.cost,
            }),
            Fact::Allocated(f) => self.allocated.push(StemsMoved {
                entry: id.clone(),
                date: f.date,
                variety: f.variety.clone(),
                stems: f.stems,
                order: Some(f.order.clone()),
                due: f.due,
                money: None,
            }),
            Fact::HandedOver(f) => match self.orders.get_mut(&f.order) {
                Some(order) => {
                    let how = if f.skipped {
                        Closed::Skipped
                    } else {
                        Closed::HandedOver
                    };
                    order.closed.insert(f.due, how);
                }
                None => self.problem(entry, ProblemKind::Dangling),
            },
            Fact::Warmed(f) => self.warmed.push(Warmed {
                entry: id.clone(),
                variety: f.variety.clone(),
                cut: f.cut,
                date: f.date,
                hours: f.hours,
                temp_c: f.temp_c,
            }),
            Fact::Conditioned(f) => self
                .conditioned
                .entry(f.variety.clone())
                .or_default()
                .push(f.date),
            Fact::LowExpected(f) => self.lows.push(LowExpected {
                entry: id.clone(),
                date: f.date,
                space: f.space.clone(),
                min_c: f.min_c,
            }),
            Fact::Covered(f) => {
                if let Some(sowing) = &f.sowing {
                    self.on_sowing(entry, sowing, f.date, |s| s.covered.push(f.date));
                }
                if let Some(planting) = &f.planting {
                    self.on_planting(entry, planting, f.date, |p| {
                        p.covered.push(f.date);
                        true
                    });
                }
            }
            Fact::Disbudded(f) => {
                self.on_planting(entry, &f.planting, f.date, |p| {
                    p.disbudded = Some(f.date);
                    true
                });
            }
            Fact::Note(f) => self.notes.push(Noted {
                entry: id.clone(),
                date: f.date,
                about: f.about.clone(),
                text: f.text.clone(),
            }),
            _ => {}
        }
    }

    fn on_sowing(
        &mut self,
        entry: &Entry,
        id: &SowingId,
        date: NaiveDate,
        change: impl FnOnce(&mut Sowing),
    ) {
        let Some(sowing) = self.sowings.get_mut(id) else {
            return self.problem(entry, ProblemKind::Dangling);
        };
        sowing.history.push(entry.id().clone());
        let early = date < sowing.date;
        change(sowing);
        if early {
            self.problem(entry, ProblemKind::BeforeItsStart);
        }
    }

    fn on_planting(
        &mut self,
        entry: &Entry,
        id: &PlantingId,
        date: NaiveDate,
        change: impl FnOnce(&mut Planting) -> bool,
    ) {
        let Some(planting) = self.plantings.get_mut(id) else {
            return self.problem(entry, ProblemKind::Dangling);
        };
        planting.history.push(entry.id().clone());
        let early = date < planting.date;
        let possible = change(planting);
        if early {
            self.problem(entry, ProblemKind::BeforeItsStart);
        }
        if !possible {
            self.problem(entry, ProblemKind::MoreThanThere);
        }
    }

    /// What needs all events to be in.
    fn settle(&mut self) {
        let mut carried_out: Vec<(PlannedId, EntryId)> = Vec::new();
        for sowing in self.sowings.values() {
            let mut standing = Standing::sown(sowing.cells);
            for step in &sowing.steps {
                if !standing.step(step.kind) {
                    self.problems.push(Problem {
                        entry: step.entry.clone(),
                        what: ProblemKind::MoreThanThere,
                    });
                }
            }
            carried_out.extend(
                sowing
                    .planned
                    .iter()
                    .map(|p| (p.clone(), sowing.id.clone().into())),
            );
        }
        for planting in self.plantings.values() {
            carried_out.extend(
                planting
                    .planned
                    .iter()
                    .map(|p| (p.clone(), planting.id.clone().into())),
            );
        }
        carried_out.sort();
        for (planned, entry) in carried_out {
            if let Some(planned) = self.planned.get_mut(&planned) {
                planned.sown_as.get_or_insert(entry);
            }
        }
        self.problems.sort();
        self.problems.dedup();
    }
}

fn new_planting(
    entry: &Entry,
    sowing: Option<SowingId>,
    variety: &VarietyId,
    bed: &BedId,
    date: NaiveDate,
    plants: u32,
) -> Planting {
    Planting {
        id: entry.id().clone().into(),
        sowing,
        variety: variety.clone(),
        bed: bed.clone(),
        date,
        plants,
        spacing_cm: None,
        lost: 0,
        losses: Vec::new(),
        planned: None,
        pinched: None,
        netted: None,
        visible_bud: None,
        first_colour: None,
        disbudded: None,
        covered: Vec::new(),
        cuts: Vec::new(),
        watered: None,
        fed: None,
        finished: None,
        history: vec![entry.id().clone()],
    }
}
