//! What follows from the season as of today: tasks and forecasts, worked out once for all screens that show them.

use std::sync::Arc;

use culture::Reference;
use leptos::prelude::*;
use season::Season;
use season::almanac::{Almanac, Groundwork};
use season::forecast::Supply;
use season::tasks::{Due, Task, tasks};

use super::Today;

/// Tasks and forecasts of one season on one day. Clones share it.
#[derive(Debug, Clone)]
pub struct Outlook(Arc<Parts>);

#[derive(Debug)]
struct Parts {
    tasks: Vec<Task>,
    supply: Supply,
    late: usize,
}

impl Outlook {
    /// Tasks, due first and in the order of the daily walk.
    pub fn tasks(&self) -> &[Task] {
        &self.0.tasks
    }

    /// Forecasts of trays, beds and weeks.
    pub fn supply(&self) -> &Supply {
        &self.0.supply
    }

    /// How many tasks are late.
    pub fn late(&self) -> usize {
        self.0.late
    }
}

/// Another one only when it was worked out anew: comparing the forecasts would take longer than showing them.
impl PartialEq for Outlook {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
    }
}

/// A season with the groundwork laid for it.
#[derive(Debug, Clone)]
pub(super) struct Grounded {
    season: Arc<Season>,
    ground: Arc<Groundwork>,
    reference: &'static Reference,
}

impl Grounded {
    /// Ready for looking up.
    pub(super) fn almanac(&self) -> Almanac<'_> {
        Almanac::on(&self.season, self.reference, self.ground.clone())
    }
}

/// Another one only when the season is.
impl PartialEq for Grounded {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.season, &other.season)
    }
}

/// Lays the groundwork when somebody looks: screens look many times.
pub(super) fn grounded(
    season: RwSignal<Arc<Season>>,
    reference: &'static Reference,
) -> Memo<Grounded> {
    Memo::new(move |_| {
        let season = season.get();
        Grounded {
            ground: Arc::new(Groundwork::of(&season, reference)),
            season,
            reference,
        }
    })
}

/// Works it out when somebody looks.
pub(super) fn memo(grounded: Memo<Grounded>, today: RwSignal<Today>) -> Memo<Outlook> {
    Memo::new(move |_| {
        let grounded = grounded.get();
        let today = today.get().date;
        let almanac = grounded.almanac();
        let (tasks, supply) = tasks(&almanac, today);
        let late = tasks
            .iter()
            .filter(|task| task.due(today) == Due::Late)
            .count();
        Outlook(Arc::new(Parts {
            tasks,
            supply,
            late,
        }))
    })
}
