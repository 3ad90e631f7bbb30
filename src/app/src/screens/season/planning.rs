//! The plan, worked out after the screen is shown, so that a tap is never waited for.

use std::sync::Arc;
use std::time::Duration;

use leptos::prelude::*;
use season::plan::{Plan, plan};

use crate::store::Store;

/// Time for the browser to show that planning has begun.
const PAUSE: Duration = Duration::from_millis(30);

/// The plan of the season as it is.
#[derive(Clone, Copy)]
pub struct Planning {
    plan: RwSignal<Option<Arc<Plan>>>,
    busy: RwSignal<bool>,
}

impl Planning {
    /// Plans now and whenever the season changes, for as long as the component that asks lives.
    pub fn new() -> Self {
        let store = Store::here();
        let planning = Self {
            plan: RwSignal::new(None),
            busy: RwSignal::new(true),
        };
        Effect::new(move |_| {
            let (season, today) = (store.season(), store.today());
            planning.busy.set(true);
            set_timeout(
                move || {
                    // What was recorded meanwhile has started another round.
                    if !Arc::ptr_eq(&season, &store.season_now()) {
                        return;
                    }
                    let found = store.with_almanac_now(|almanac| plan(almanac, today));
                    planning.plan.try_set(Some(Arc::new(found)));
                    planning.busy.try_set(false);
                },
                PAUSE,
            );
        });
        planning
    }

    /// The last plan; none before the first is ready. Follows changes.
    pub fn plan(self) -> Option<Arc<Plan>> {
        self.plan.get()
    }

    /// Whether a new one is on its way. Follows changes.
    pub fn is_busy(self) -> bool {
        self.busy.get()
    }
}
