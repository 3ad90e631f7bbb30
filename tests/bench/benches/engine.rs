//! What the engine takes for what a phone waits for. Each figure stands beside what plain parsing of the same entries' JSON into
//! values takes in the same run, as a multiple of it.

use std::error::Error;
use std::hint::black_box;

use bench::mix;
use bench::watch::{Figure, beside};
use chrono::NaiveDate;
use culture::Reference;
use season::almanac::Almanac;
use season::file::{self, Origin};
use season::forecast::Outlook;
use season::ids::DeviceId;
use season::{Entry, Log, Season, plan, tasks};
use serde_json::Value;

fn main() -> Result<(), Box<dyn Error>> {
    println!(
        "{:<44} {:>10} {:>10} {:>9}",
        "", "median ms", "least ms", "x parsing"
    );
    for count in [10_000, 100_000] {
        whole_log(count)?;
    }
    demo()
}

fn line(what: &str, figure: Figure) {
    println!(
        "{what:<44} {:>10.2} {:>10.2} {:>9.2}",
        figure.median.as_secs_f64() * 1e3,
        figure.least.as_secs_f64() * 1e3,
        figure.ratio
    );
}

/// How many of the texts are JSON: the work that others are set beside.
fn parse(texts: &[String]) -> usize {
    texts
        .iter()
        .filter(|text| black_box(serde_json::from_str::<Value>(text)).is_ok())
        .count()
}

fn stored(texts: Vec<String>) -> Result<Vec<Entry>, season::EntryError> {
    texts.into_iter().map(Entry::read_stored).collect()
}

fn whole_log(count: usize) -> Result<(), Box<dyn Error>> {
    let texts = mix::texts(count)?;
    let entries = stored(texts.clone())?;
    let log: Log = entries.iter().cloned().collect();
    let season = Season::of(&log);
    // Figures of something else than a season would be worth nothing.
    if log.len() != count || !season.problems.is_empty() || season.events.len() < count * 8 / 10 {
        return Err(format!(
            "{} entries, {} events, {} problems",
            log.len(),
            season.events.len(),
            season.problems.len()
        )
        .into());
    }
    drop(season);
    println!("\n{count} entries");
    let parsing = || parse(&texts);
    line("parse as JSON", beside(parsing, || (), |()| parse(&texts)));
    let reading = beside(parsing, || texts.clone(), stored);
    line("read from storage", reading);
    let logging = beside(parsing, || entries.clone(), Log::from_iter);
    line("put into a log", logging);
    let folding = beside(parsing, || (), |()| Season::of(&log));
    line("fold into a season", folding);
    let origin = Origin {
        id: DeviceId::new("laptop")?,
        name: "Laptop".into(),
    };
    let at = "2027-07-19T20:00:00.000Z";
    let text = file::write(&log, &origin, at)?;
    let writing = beside(parsing, || (), |()| file::write(&log, &origin, at));
    line("write a file", writing);
    if file::read(text.as_bytes())?.entries.len() != count {
        return Err("the file holds other entries".into());
    }
    let reading = beside(parsing, || (), |()| file::read(text.as_bytes()));
    line("read a file", reading);
    Ok(())
}

fn demo() -> Result<(), Box<dyn Error>> {
    let read = file::read(mix::DEMO.as_bytes())?;
    let texts: Vec<String> = read.entries.iter().map(|e| e.json().to_owned()).collect();
    let log: Log = read.entries.into_iter().collect();
    let season = Season::of(&log);
    let reference = Reference::builtin()?;
    let almanac = Almanac::new(&season, &reference);
    println!("\ndemo season, {} entries", texts.len());
    let parsing = || parse(&texts);
    for (day, when) in [("2027-02-15", "winter"), ("2027-07-19", "its own day")] {
        let today: NaiveDate = day.parse()?;
        let found = tasks::tasks(&Outlook::new(almanac.clone(), today));
        let planned = plan::plan(&Outlook::new(almanac.clone(), today))?;
        if found.is_empty() || (planned.proposals.is_empty() && planned.shortfalls.is_empty()) {
            return Err(format!("nothing to do on {day}").into());
        }
        let asking = beside(
            parsing,
            || (),
            |()| tasks::tasks(&Outlook::new(almanac.clone(), today)),
        );
        line(&format!("tasks as of {when} ({})", found.len()), asking);
        let planning = beside(
            parsing,
            || (),
            |()| plan::plan(&Outlook::new(almanac.clone(), today)),
        );
        let what = format!("plan as of {when} ({})", planned.proposals.len());
        line(&what, planning);
    }
    let opening = beside(
        parsing,
        || texts.clone(),
        |texts| {
            let log: Log = stored(texts)?.into_iter().collect();
            let season = Season::of(&log);
            let today: NaiveDate = NaiveDate::from_ymd_opt(2027, 7, 19).unwrap_or_default();
            let found = tasks::tasks(&Outlook::new(Almanac::new(&season, &reference), today));
            Ok::<_, season::EntryError>(found.len())
        },
    );
    line("from storage to its tasks", opening);
    Ok(())
}
