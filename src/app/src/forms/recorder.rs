//! What a screen asks to be recorded: one sheet at a time.

use leptos::prelude::*;
use season::Fact;
use season::fact::TransplantedFact;
use season::ids::{EntryId, PlantingId, SowingId, VarietyId};
use season::planting_out::BedRoom;
use season::tasks::{Subject, Task, TaskKind, draft};
use season::words::Say;

use super::focus::Place;
use super::fresh::{self, OfPlanting, OfTray};
use super::quick::Quick;
use super::step::Step;
use crate::browser::page;
use crate::route::{Route, ShedPart};
use crate::store::Store;

/// What the sheet shows.
#[derive(Debug, Clone, PartialEq)]
pub enum Asked {
    /// A form that begins with a fact.
    Form {
        /// The likely fact.
        fact: Box<Fact>,
        /// The earlier record that it corrects.
        corrects: Option<EntryId>,
        /// The key of the usual caution that goes with it.
        caution: Option<&'static str>,
    },
    /// What must be set up first, and where.
    Missing(Say, Route),
    /// What to record, and of what.
    Quick(Quick),
    /// Whether to take records back that belong together.
    TakeBack(Vec<EntryId>),
}

/// A screen's way to its record sheet. Make it with [`Recorder::new`] in the screen and put one
/// [`RecordSheet`](super::RecordSheet) into the screen's view.
#[derive(Clone, Copy)]
pub struct Recorder {
    store: Store,
    asked: RwSignal<Option<Asked>>,
    /// Where the focus was, and goes back to.
    from: StoredValue<Option<Place>, LocalStorage>,
    step: Step,
}

impl Default for Recorder {
    fn default() -> Self {
        Self::new()
    }
}

impl Recorder {
    /// Of one screen; lives as long as the component that makes it.
    pub fn new() -> Self {
        Self {
            store: Store::here(),
            asked: RwSignal::new(None),
            from: StoredValue::new_local(None),
            step: Step::new(),
        }
    }

    /// What the sheet shows. Follows changes.
    pub fn asked(self) -> Option<Asked> {
        self.asked.get()
    }

    /// Shows something in the sheet.
    pub fn ask(self, asked: Asked) {
        if self.asked.with_untracked(Option::is_none) {
            self.from.set_value(Place::now());
        }
        self.asked.set(Some(asked));
    }

    /// Closes the sheet, once the browser is out of its step, and gives the focus back.
    pub fn close(self) {
        if self.asked.try_get_untracked().flatten().is_none() {
            return;
        }
        if self.step.leave(self) {
            page::make_inert("dialog[open]");
        } else {
            self.closed();
        }
    }

    /// The sheet's step is left.
    pub(super) fn closed(self) {
        if self.asked.try_set(None).is_some() {
            return;
        }
        let from = self.from.try_get_value().flatten();
        // Once the page is drawn without the sheet.
        request_animation_frame(move || {
            if let Some(from) = from {
                from.restore();
            }
        });
    }

    /// The sheet's step in the browser's history.
    pub(super) fn step(self) -> Step {
        self.step
    }

    /// Asks to record a fact that begins as given.
    pub fn record(self, fact: impl Into<Fact>) {
        self.ask(Asked::Form {
            fact: Box::new(fact.into()),
            corrects: None,
            caution: None,
        });
    }

    /// Asks to record what settles a task.
    pub fn task(self, task: &Task) {
        // An order is made up where its stems are seen.
        let order = match &task.subject {
            Subject::Order(id) => Some(Route::Pick(id.clone(), None)),
            Subject::Delivery(id, due) => Some(Route::Pick(id.clone(), Some(*due))),
            _ => None,
        };
        if let Some(route) = order {
            return page::go(&route.href());
        }
        let today = self.store.today_now();
        let drafted = self
            .store
            .with_almanac_now(|almanac| draft(almanac, task, today));
        self.ask(match drafted {
            Some(fact) => Asked::Form {
                fact: Box::new(fact),
                corrects: None,
                caution: task.caution,
            },
            None => missing(
                matches!(task.subject, Subject::Sowing(_)) && task.kind == TaskKind::Transplant,
            ),
        });
    }

    /// Asks to record something of a tray.
    pub fn of_tray(self, what: OfTray, id: &SowingId) {
        let today = self.store.today_now();
        let fact = self
            .store
            .with_almanac_now(|almanac| fresh::of_tray(almanac, what, id, today));
        match fact {
            Some(fact) => self.record(fact),
            None => self.ask(missing(what == OfTray::Transplant)),
        }
    }

    /// Asks to record that plants of a tray go into a bed that was proposed for them.
    pub fn plant_out(self, id: &SowingId, room: &BedRoom) {
        self.record(TransplantedFact {
            spacing_cm: Some(room.spacing_cm),
            ..TransplantedFact::new(
                id.clone(),
                room.bed.clone(),
                room.plants,
                self.store.today_now(),
            )
        });
    }

    /// Asks to record something of a planting.
    pub fn of_planting(self, what: OfPlanting, id: &PlantingId) {
        let today = self.store.today_now();
        let fact = self
            .store
            .with_almanac_now(|almanac| fresh::of_planting(almanac, what, id, today));
        if let Some(fact) = fact {
            self.record(fact);
        }
    }

    /// Asks to record a sowing into trays.
    pub fn sow(self, variety: &VarietyId) {
        let today = self.store.today_now();
        let fact = self
            .store
            .with_almanac_now(|almanac| fresh::sow(almanac, variety, today));
        self.record(fact);
    }

    /// Asks to record a sowing into a bed.
    pub fn sow_direct(self, variety: &VarietyId) {
        let today = self.store.today_now();
        let fact = self
            .store
            .with_almanac_now(|almanac| fresh::sow_direct(almanac, variety, today));
        match fact {
            Some(fact) => self.record(fact),
            None => self.ask(missing(true)),
        }
    }

    /// Asks to correct an earlier record of an event.
    pub fn correct(self, entry: &EntryId) {
        let season = self.store.season_now();
        if let Some(event) = season.events.get(entry) {
            self.ask(Asked::Form {
                fact: Box::new(event.fact.as_ref().clone()),
                corrects: Some(entry.clone()),
                caution: None,
            });
        }
    }
}

/// What is not set up yet.
fn missing(a_bed: bool) -> Asked {
    let key = if a_bed {
        "form.no_bed"
    } else {
        "form.no_space"
    };
    Asked::Missing(Say::new(key), Route::Shed(ShedPart::Spaces))
}
