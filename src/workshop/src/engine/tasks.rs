//! `tasks`: what is next, where, by when and why.

use std::fmt::Write as _;
use std::process::ExitCode;

use chrono::NaiveDate;
use season::almanac::Almanac;
use season::forecast::Outlook;
use season::tasks::{Due, Task, tasks};
use season::words::text;
use serde::Serialize;

use super::written::{WrittenReason, WrittenWindow, json, manner, reasons, space_name};
use super::written::{subject, subject_id};
use super::{Asked, Trouble, source};

#[derive(Serialize)]
struct Answer {
    today: NaiveDate,
    tasks: Vec<WrittenTask>,
}

#[derive(Serialize)]
struct WrittenTask {
    kind: &'static str,
    what: &'static str,
    due: &'static str,
    about: String,
    subject: &'static str,
    id: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    variety: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    space: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    bed: Option<String>,
    window: WrittenWindow,
    #[serde(skip_serializing_if = "Option::is_none")]
    number: Option<u32>,
    why: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    caution: Option<&'static str>,
    reasons: Vec<WrittenReason>,
}

/// Reads the file and tells its tasks.
pub fn run(asked: &Asked) -> Result<ExitCode, Trouble> {
    let read = source::read(&asked.file)?;
    let reference = source::reference()?;
    let almanac = Almanac::new(&read.season, &reference);
    let today = source::day(asked.today);
    let tasks = tasks(&Outlook::new(almanac.clone(), today));
    let answer = Answer {
        today,
        tasks: tasks.iter().map(|t| written(&almanac, t, today)).collect(),
    };
    source::print(&if asked.json {
        json(&answer)?
    } else {
        told(&answer, &tasks)
    })?;
    Ok(ExitCode::SUCCESS)
}

fn written(almanac: &Almanac<'_>, task: &Task, today: NaiveDate) -> WrittenTask {
    let (kind, id) = subject_id(&task.subject);
    WrittenTask {
        kind: task.kind.key().trim_start_matches("task."),
        what: text(task.kind.key()),
        due: match task.due(today) {
            Due::Late => "late",
            Due::Today => "today",
            Due::ThisWeek => "this_week",
            Due::Later => "later",
        },
        about: subject(almanac, &task.subject),
        subject: kind,
        id: id.to_owned(),
        variety: task.variety.as_ref().map(|v| almanac.variety_name(v)),
        space: space_name(almanac, task.space.as_ref()),
        bed: task
            .bed
            .as_ref()
            .and_then(|id| almanac.bed(id))
            .map(|b| b.name.clone()),
        window: task.window.into(),
        number: task.number,
        why: task.why.write(manner()),
        caution: task.caution.map(text),
        reasons: reasons(&task.reasons),
    }
}

fn told(answer: &Answer, tasks: &[Task]) -> String {
    let mut out = format!("As of {}.\n", manner().full_date(answer.today));
    if answer.tasks.is_empty() {
        out.push_str("\nNothing to do: no tray, bed, plan or order asks for anything.\n");
        return out;
    }
    let mut heading = "";
    for (task, due) in answer.tasks.iter().zip(tasks) {
        if task.due != heading {
            heading = task.due;
            let words = match heading {
                "late" => "Late",
                "today" => "Today",
                "this_week" => "This week",
                _ => "Later",
            };
            let _ = write!(out, "\n{words}\n");
        }
        let place = [task.space.as_deref(), task.bed.as_deref()];
        let place: Vec<&str> = place.into_iter().flatten().collect();
        let at = if place.is_empty() {
            String::new()
        } else {
            format!(" ({})", place.join(", "))
        };
        let day = if heading == "late" {
            format!("was due by {}", manner().date(due.window.latest))
        } else {
            format!(
                "best {}, by {}",
                manner().date(due.window.best),
                manner().date(due.window.latest)
            )
        };
        let _ = writeln!(out, "  {}: {}{at}, {day}.", task.what, task.about);
        let _ = writeln!(out, "    {}", task.why);
    }
    // Each caution once, not beside each of a dozen tasks.
    let mut cautions: Vec<&str> = answer.tasks.iter().filter_map(|t| t.caution).collect();
    cautions.sort_unstable();
    cautions.dedup();
    for caution in cautions {
        let _ = write!(out, "\n{caution}\n");
    }
    out
}
