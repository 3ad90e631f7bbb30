//! Tasks that are due at one place.

use leptos::prelude::*;
use season::ids::{PlantingId, SpaceId};
use season::tasks::{Due, Subject, Task};
use season::words::Say;

use super::today::row::TaskRow;
use crate::forms::Recorder;
use crate::parts::Icon;
use crate::store::Store;

/// Which tasks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum TasksOf {
    /// Those at a space.
    Space(SpaceId),
    /// Those of a planting.
    Planting(PlantingId),
}

impl From<SpaceId> for TasksOf {
    fn from(id: SpaceId) -> Self {
        Self::Space(id)
    }
}

impl From<PlantingId> for TasksOf {
    fn from(id: PlantingId) -> Self {
        Self::Planting(id)
    }
}

impl TasksOf {
    fn holds(&self, task: &Task) -> bool {
        match self {
            Self::Space(id) => task.space.as_ref() == Some(id),
            Self::Planting(id) => task.subject == Subject::Planting(id.clone()),
        }
    }
}

/// Tasks due up to this week at one place; nothing where there is none.
#[component]
pub fn DueTasks(
    /// Which.
    #[prop(into)]
    of: TasksOf,
    /// The screen's.
    recorder: Recorder,
) -> impl IntoView {
    let store = Store::here();
    let here = matches!(of, TasksOf::Planting(_));
    let due = Memo::new(move |_| {
        let (today, outlook) = (store.today(), store.outlook());
        outlook
            .tasks()
            .iter()
            .filter(|task| of.holds(task) && task.due(today) <= Due::ThisWeek)
            .cloned()
            .collect::<Vec<Task>>()
    });
    move || {
        // Sentences follow the reader's units.
        store.manner();
        let due = due.get();
        (!due.is_empty()).then(|| {
            let (today, manner) = (store.today_now(), store.manner_now());
            let late = due
                .iter()
                .filter(|task| task.due(today) == Due::Late)
                .count();
            let head = Say::new("due.here")
                .with("n", due.len())
                .with_some("late", Some(late).filter(|n| *n > 0))
                .write(manner);
            let rows = due
                .into_iter()
                .map(|task| view! { <TaskRow task recorder here /> })
                .collect_view();
            if here {
                view! { <ul>{rows}</ul> }.into_any()
            } else {
                // Beside the beds themselves: one line that opens.
                view! {
                    <details class="why">
                        <summary class="why__ask">
                            <Icon name="today" small=true />
                            {head}
                        </summary>
                        <ul>{rows}</ul>
                    </details>
                }
                .into_any()
            }
        })
    }
}
