//! Tasks as a list whose rows stay the elements they are for as long as their tasks are in it.

use std::collections::HashMap;
use std::hash::Hash;

use leptos::prelude::*;
use season::tasks::{Subject, Task, TaskKind};

use super::today::row::TaskRow;
use crate::forms::Recorder;

/// What a task is known by, and which of those it is where several are alike.
type Key = ((TaskKind, Subject), usize);

/// Rows of tasks. One that is recorded goes, and the others keep their place on the page and the focus.
#[component]
pub fn TaskList(
    /// The tasks, in their order.
    #[prop(into)]
    tasks: Signal<Vec<Task>>,
    /// The screen's.
    recorder: Recorder,
    /// Where the screen itself is about their subject.
    #[prop(optional)]
    here: bool,
    /// Under a heading of the third level: a stop of the walk.
    #[prop(optional)]
    at_stop: bool,
) -> impl IntoView {
    let keyed = Memo::new(move |_| tasks.with(|tasks| keyed(tasks)));
    let row = move |(key, task): (Key, Task)| {
        // A task that is gone is shown as it was until its row goes too.
        let task = Memo::new(move |last: Option<&Task>| {
            let now = keyed.with(|rows| find(rows, &key).cloned());
            now.unwrap_or_else(|| last.unwrap_or(&task).clone())
        });
        view! { <TaskRow task recorder here at_stop /> }
    };
    view! {
        <ul>
            <For each=move || keyed.get() key=|(key, _)| key.clone() children=row />
        </ul>
    }
}

fn keyed(tasks: &[Task]) -> Vec<(Key, Task)> {
    let keys = numbered(tasks.iter().map(|task| (task.kind, task.subject.clone())));
    keys.into_iter().zip(tasks.iter().cloned()).collect()
}

fn find<'a>(rows: &'a [(Key, Task)], key: &Key) -> Option<&'a Task> {
    rows.iter()
        .find(|(other, _)| other == key)
        .map(|(_, task)| task)
}

/// Items as keys of a list: the first of its kind is number 0, the next one 1.
pub fn numbered<T: Clone + Eq + Hash>(items: impl IntoIterator<Item = T>) -> Vec<(T, usize)> {
    let mut seen = HashMap::<T, usize>::new();
    items
        .into_iter()
        .map(|item| {
            let n = seen.entry(item.clone()).or_insert(0);
            *n += 1;
            (item, *n - 1)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_item_twice_makes_two_keys() {
        let keys = numbered(["mat", "shelf", "mat"]);
        assert_eq!(keys, [("mat", 0), ("shelf", 0), ("mat", 1)]);
    }
}
