//! Tasks as they are walked: by when they are due, and within that by space.

use chrono::{Datelike, NaiveDate};
use season::ids::SpaceId;
use season::tasks::{Due, Task};
use season::words::{Arg, Say};

use crate::store::Outlook;

/// Tasks of one space that are due together, by their places in the list they came from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stop {
    /// Where; `None` for what is not tied to a space.
    pub space: Option<SpaceId>,
    /// Which tasks.
    pub tasks: Vec<usize>,
}

/// Tasks of one due time, in walking order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Group {
    /// When they are due.
    pub due: Due,
    /// Where, in walking order.
    pub stops: Vec<Stop>,
}

/// The tasks of a day in walking order. Another one only when they were worked out anew.
#[derive(Debug, Clone, PartialEq)]
pub struct Walk {
    outlook: Outlook,
    groups: Vec<Group>,
}

impl Walk {
    /// As of a day.
    pub fn of(outlook: Outlook, today: NaiveDate) -> Self {
        let groups = groups(outlook.tasks(), today);
        Self { outlook, groups }
    }

    /// The due times that have tasks.
    pub fn dues(&self) -> Vec<Due> {
        self.groups.iter().map(|group| group.due).collect()
    }

    fn stops(&self, due: Due) -> impl Iterator<Item = &Stop> {
        let groups = self.groups.iter().filter(move |group| group.due == due);
        groups.flat_map(|group| &group.stops)
    }

    /// How many tasks are due then.
    pub fn len(&self, due: Due) -> usize {
        self.stops(due).map(|stop| stop.tasks.len()).sum()
    }

    /// Where they are, stop by stop.
    pub fn spaces(&self, due: Due) -> Vec<Option<SpaceId>> {
        self.stops(due).map(|stop| stop.space.clone()).collect()
    }

    /// The tasks of the `nth` stop at a space, counted from 0.
    pub fn tasks(&self, due: Due, space: Option<&SpaceId>, nth: usize) -> Vec<Task> {
        let mut stops = self.stops(due).filter(|stop| stop.space.as_ref() == space);
        let tasks = stops.nth(nth).map_or(&[][..], |stop| &stop.tasks);
        let all = self.outlook.tasks();
        tasks.iter().filter_map(|n| all.get(*n).cloned()).collect()
    }
}

/// Groups tasks that come sorted by due time and walk.
pub fn groups(tasks: &[Task], today: NaiveDate) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for (n, task) in tasks.iter().enumerate() {
        let due = task.due(today);
        if groups.last().is_none_or(|group| group.due != due) {
            groups.push(Group {
                due,
                stops: Vec::new(),
            });
        }
        let Some(group) = groups.last_mut() else {
            continue;
        };
        match group.stops.last_mut() {
            Some(stop) if stop.space == task.space => stop.tasks.push(n),
            _ => group.stops.push(Stop {
                space: task.space.clone(),
                tasks: vec![n],
            }),
        }
    }
    groups
}

/// What stands in a task's margin: a large number and its unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Margin {
    /// Days late, or the day of the month.
    pub number: i64,
    /// What the number is.
    pub unit: Say,
}

/// A task's margin.
pub fn margin(task: &Task, today: NaiveDate) -> Margin {
    match task.due(today) {
        Due::Late => {
            let days = (today - task.window.latest).num_days();
            Margin {
                number: days,
                unit: Say::new("today.days_late").with("n", days),
            }
        }
        Due::Today => Margin {
            number: i64::from(today.day()),
            unit: Say::new("today.today"),
        },
        Due::ThisWeek | Due::Later => Margin {
            number: i64::from(task.window.best.day()),
            unit: Say::new("today.day_of").with("date", Arg::Text(of_day(task.window.best))),
        },
    }
}

/// "Thu May" of a date whose day stands above it.
fn of_day(date: NaiveDate) -> String {
    let written = season::words::Manner::default().date(date);
    let mut words = written.split(' ');
    match (words.next(), words.nth(1)) {
        (Some(weekday), Some(month)) => format!("{weekday} {month}"),
        _ => written,
    }
}

/// Where the best day and today stand in a task's window, in 100 of its width; `None` for a window of one day.
pub fn window(task: &Task, today: NaiveDate) -> Option<(f64, f64)> {
    let (first, last) = (task.window.earliest, task.window.latest);
    let days = (last - first).num_days();
    // Today may lie outside: then it stands at the edge.
    let place = |date: NaiveDate| {
        let share = (date - first).num_days() as f64 / days as f64;
        2.0 + 96.0 * share.clamp(0.0, 1.0)
    };
    (days > 0).then(|| (place(task.window.best), place(today)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use season::forecast::Window;
    use season::ids::SowingId;
    use season::tasks::{Subject, TaskKind};

    fn day(d: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(2027, 5, d).unwrap()
    }

    fn task(space: Option<&str>, earliest: u32, best: u32, latest: u32) -> Task {
        Task {
            kind: TaskKind::Count,
            subject: Subject::Sowing(SowingId::new("s").unwrap()),
            variety: None,
            space: space.map(|id| SpaceId::new(id).unwrap()),
            bed: None,
            window: Window {
                earliest: day(earliest),
                best: day(best),
                latest: day(latest),
            },
            why: Say::new("task.count.why_first"),
            reasons: Vec::new(),
            number: None,
            caution: None,
        }
    }

    #[test]
    fn tasks_fall_into_due_times_and_stops_in_the_order_they_come() {
        let tasks = [
            task(Some("mat"), 1, 1, 1),
            task(Some("mat"), 1, 2, 2),
            task(Some("shelf"), 1, 1, 2),
            task(Some("mat"), 1, 3, 9),
            task(None, 1, 3, 9),
            task(Some("mat"), 1, 8, 9),
        ];
        let found = groups(&tasks, day(3));
        let shape: Vec<_> = found
            .iter()
            .map(|group| {
                let stops = group.stops.iter();
                let stops = stops.map(|s| (s.space.as_ref().map(SpaceId::as_str), s.tasks.clone()));
                (group.due, stops.collect::<Vec<_>>())
            })
            .collect();
        assert_eq!(
            shape,
            [
                (
                    Due::Late,
                    vec![(Some("mat"), vec![0, 1]), (Some("shelf"), vec![2])]
                ),
                (Due::Today, vec![(Some("mat"), vec![3]), (None, vec![4])]),
                (Due::ThisWeek, vec![(Some("mat"), vec![5])]),
            ]
        );
        assert!(groups(&[], day(3)).is_empty());
    }

    #[test]
    fn the_margin_says_how_late_or_which_day() {
        let write = |m: Margin| (m.number, m.unit.write(Default::default()));
        let late = margin(&task(None, 1, 1, 1), day(3));
        assert_eq!(late.number, 2);
        assert_eq!(late.unit.key(), "today.days_late");
        assert_eq!(margin(&task(None, 1, 3, 9), day(3)).number, 3);
        // 6 May 2027 is a Thursday: 2027-05-06 is day 4 of ISO week 18.
        assert_eq!(
            write(margin(&task(None, 1, 6, 9), day(3))),
            (6, "Thu May".into())
        );
    }

    #[test]
    fn the_window_is_drawn_only_where_there_is_one() {
        assert_eq!(window(&task(None, 3, 3, 3), day(3)), None);
        let (best, today) = window(&task(None, 1, 3, 5), day(5)).unwrap();
        assert!((best - 50.0).abs() < 1e-9 && (today - 98.0).abs() < 1e-9);
        let (_, late) = window(&task(None, 1, 3, 5), day(9)).unwrap();
        assert!((late - 98.0).abs() < 1e-9);
    }
}
