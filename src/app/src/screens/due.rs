//! Tasks that are due at one place.

use leptos::prelude::*;
use season::ids::{PlantingId, SpaceId};
use season::tasks::{Due, Subject, Task};
use season::words::Say;

use super::task_list::TaskList;
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
    let any = Memo::new(move |_| due.with(|due| !due.is_empty()));
    let head = move || {
        let today = store.today();
        let late = |task: &&Task| task.due(today) == Due::Late;
        let (n, late) = due.with(|due| (due.len(), due.iter().filter(late).count()));
        Say::new("due.here")
            .with("n", n)
            .with_some("late", Some(late).filter(|n| *n > 0))
            .write(store.manner())
    };
    move || {
        any.get().then(|| {
            if here {
                return view! { <TaskList tasks=due recorder here /> }.into_any();
            }
            // Beside the beds themselves: one line that opens.
            view! {
                <details class="why">
                    <summary class="why__ask">
                        <Icon name="today" small=true />
                        {head}
                    </summary>
                    <TaskList tasks=due recorder />
                </details>
            }
            .into_any()
        })
    }
}
