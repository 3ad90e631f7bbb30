//! What follows from the season as of today, worked out once for all screens that show it.

use std::sync::{Arc, OnceLock};

use culture::Reference;
use leptos::prelude::*;
use season::Season;
use season::almanac::{Almanac, Groundwork};
use season::forecast::{self, Kept, Supply};
use season::tasks::{Due, Task, tasks};

use super::Today;

/// What follows from one season on one day. Each part is worked out when a screen first asks. Clones share it.
#[derive(Debug, Clone)]
pub struct Outlook(Arc<Parts>);

#[derive(Debug)]
struct Parts {
    grounded: Grounded,
    today: chrono::NaiveDate,
    kept: Arc<Kept>,
    tasks: OnceLock<Arc<Vec<Task>>>,
}

impl Outlook {
    /// Looks at it, with all that was worked out of it before.
    pub fn with<R>(&self, look: impl FnOnce(&forecast::Outlook<'_>) -> R) -> R {
        let parts = &self.0;
        let almanac = parts.grounded.almanac();
        let kept = parts.kept.clone();
        look(&forecast::Outlook::on(almanac, parts.today, kept))
    }

    /// Tasks, due first and in the order of the daily walk.
    pub fn tasks(&self) -> &[Task] {
        self.0.tasks.get_or_init(|| self.with(tasks))
    }

    /// All that grows and is planned.
    pub fn supply(&self) -> &Supply {
        let parts = &self.0;
        parts.kept.supply(&parts.grounded.almanac(), parts.today)
    }

    /// How many tasks are late.
    pub fn late(&self) -> usize {
        let late = |task: &&Task| task.due(self.0.today) == Due::Late;
        self.tasks().iter().filter(late).count()
    }
}

/// Another one only when the season or the day is: comparing what follows would take longer than showing it.
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

/// Nothing is worked out before a screen asks; then only what has changed since the one before.
pub(super) fn memo(grounded: Memo<Grounded>, today: RwSignal<Today>) -> Memo<Outlook> {
    Memo::new(move |before: Option<&Outlook>| {
        let kept = before.map(|Outlook(before)| {
            let (season, ground) = (&before.grounded.season, &before.grounded.ground);
            let kept = before.kept.clone();
            Kept::after(season.clone(), ground.clone(), before.today, kept)
        });
        Outlook(Arc::new(Parts {
            grounded: grounded.get(),
            today: today.get().date,
            kept: Arc::new(kept.unwrap_or_default()),
            tasks: OnceLock::new(),
        }))
    })
}
