//! `available`: what can be promised, by week.

use std::process::ExitCode;

use chrono::NaiveDate;
use season::almanac::Almanac;
use season::availability::{By, Line, What, availability};
use season::fact::Role;
use season::forecast::Outlook;
use season::promise::promise_share;
use season::words::text;
use serde::Serialize;

use super::table::Table;
use super::written::{json, manner};
use super::{Asked, Trouble, source};

/// Weeks that are told, this one included: as many as a forecast of stems says more than the plan does.
const WEEKS: usize = 10;

#[derive(Serialize)]
struct Answer {
    today: NaiveDate,
    /// Share of the forecast that may be promised.
    share: f64,
    lines: Vec<WrittenLine>,
}

#[derive(Serialize)]
struct WrittenLine {
    what: String,
    weeks: Vec<WrittenWeek>,
}

#[derive(Serialize)]
struct WrittenWeek {
    week: String,
    free: u32,
    in_stock: u32,
    promised: f64,
    stems: [f64; 3],
    sources: u32,
}

/// Reads the file and tells what can be promised, by role and colour.
pub fn run(asked: &Asked) -> Result<ExitCode, Trouble> {
    let read = source::read(&asked.file)?;
    let reference = source::reference()?;
    let almanac = Almanac::new(&read.season, &reference);
    let today = source::day(asked.today);
    let outlook = Outlook::new(almanac.clone(), today);
    let by = By::RoleAndColour;
    let lines = availability(&outlook, by, WEEKS);
    let answer = Answer {
        today,
        share: promise_share(&almanac),
        lines: lines.iter().map(written).collect(),
    };
    source::print(&if asked.json {
        json(&answer)?
    } else {
        told(&answer)
    })?;
    Ok(ExitCode::SUCCESS)
}

/// "spike, white".
fn named(what: &What) -> String {
    let role = |role: Role| text(&format!("role.{}", role.word())).to_owned();
    let colour = what.colour.clone().filter(|colour| !colour.is_empty());
    let words: Vec<String> = what.role.map(role).into_iter().chain(colour).collect();
    words.join(", ")
}

fn written(line: &Line) -> WrittenLine {
    WrittenLine {
        what: named(&line.what),
        weeks: line
            .weeks
            .iter()
            .map(|week| WrittenWeek {
                week: week.week.to_string(),
                free: week.free,
                in_stock: week.in_stock,
                promised: week.promised,
                stems: [week.stems.p10, week.stems.p50, week.stems.p90],
                sources: week.sources,
            })
            .collect(),
    }
}

fn told(answer: &Answer) -> String {
    let mut out = format!("As of {}.\n", manner().full_date(answer.today));
    let open = |line: &&WrittenLine| line.weeks.iter().any(|week| week.free > 0);
    let lines: Vec<&WrittenLine> = answer.lines.iter().filter(open).collect();
    let Some(first) = lines.first() else {
        out.push_str(&format!("\n{}\n", text("avail.list.none")));
        return out;
    };
    let heads = first.weeks.iter().map(|week| week.week.as_str());
    let heads: Vec<&str> = [""].into_iter().chain(heads).collect();
    let mut table = Table::new("Stems that can be promised", &heads);
    for line in &lines {
        let weeks = line.weeks.iter().map(|week| match week.free {
            0 => String::new(),
            free => free.to_string(),
        });
        table.row([line.what.clone()].into_iter().chain(weeks));
    }
    table.write(&mut out);
    out.push_str(&format!(
        "\nOf the forecast {:.0}% is offered, less what orders take; what stands in the cooler counts whole.\n",
        100.0 * answer.share
    ));
    out
}
