//! `review`: what was forecast beside what came, and what that suggests.

use std::process::ExitCode;

use agronomy::quantity::Spread;
use chrono::{Datelike, NaiveDate};
use season::almanac::Almanac;
use season::ids::VarietyId;
use season::returns::returns;
use season::review::{self, LossRow, LotRow, PlantingRow, Suggestion, WeekRow};
use season::words::text;
use serde::Serialize;

use super::table::Table;
use super::written::{WrittenReason, json, manner, reasons};
use super::{Asked, Trouble, source};

#[derive(Serialize)]
struct Answer {
    from: NaiveDate,
    today: NaiveDate,
    plantings: Vec<WrittenPlanting>,
    weeks: Vec<WrittenWeek>,
    lots: Vec<WrittenLot>,
    losses: Vec<WrittenLoss>,
    suggestions: Vec<WrittenSuggestion>,
}

#[derive(Serialize)]
struct WrittenPlanting {
    planting: String,
    variety: String,
    planted: NaiveDate,
    plants: u32,
    over: bool,
    bloom: Option<[NaiveDate; 3]>,
    first: Option<NaiveDate>,
    forecast: Option<[f64; 3]>,
    cut: u32,
    culls: u32,
    returns_per_bed_week: Option<f64>,
}

#[derive(Serialize)]
struct WrittenWeek {
    week: String,
    forecast: Option<[f64; 3]>,
    cut: u32,
    known: bool,
}

#[derive(Serialize)]
struct WrittenLot {
    variety: String,
    lot: Option<String>,
    seeds: u32,
    up: u32,
    packet: Option<f64>,
    expected: Option<f64>,
    half_day: Option<f64>,
}

#[derive(Serialize)]
struct WrittenLoss {
    cause: &'static str,
    cells: u32,
    plants: u32,
}

#[derive(Serialize)]
struct WrittenSuggestion {
    variety: String,
    figure: &'static str,
    before: f64,
    after: f64,
    low: f64,
    high: f64,
    say: String,
    reasons: Vec<WrittenReason>,
}

/// Reads the file and looks back on its season.
pub fn run(asked: &Asked) -> Result<ExitCode, Trouble> {
    let read = source::read(&asked.file)?;
    let reference = source::reference()?;
    let almanac = Almanac::new(&read.season, &reference);
    let today = source::day(asked.today);
    let answer = answer(&almanac, today);
    source::print(&if asked.json {
        json(&answer)?
    } else {
        told(&answer)
    })?;
    Ok(ExitCode::SUCCESS)
}

/// The first day of the season that is under way; of the calendar's year where none is recorded.
fn begun(almanac: &Almanac<'_>, today: NaiveDate) -> NaiveDate {
    let seasons = almanac.season().seasons.values();
    seasons
        .filter(|season| !season.retired)
        .filter_map(|season| season.from)
        .filter(|from| *from <= today)
        .max()
        .or_else(|| NaiveDate::from_ymd_opt(today.year(), 1, 1))
        .unwrap_or(today)
}

fn answer(almanac: &Almanac<'_>, today: NaiveDate) -> Answer {
    let from = begun(almanac, today);
    let brought = returns(almanac, from, today);
    let price = |variety: &VarietyId| brought.get(variety).and_then(|returns| returns.per_stem());
    let found = review::review(almanac, from, today, today, &price);
    let suggestions = review::suggest(almanac, from, today, today);
    let name = |id: &_| almanac.variety_name(id);
    let lot_name = |row: &LotRow| {
        let lot = almanac.season().lots.get(row.lot.as_ref()?)?;
        Some(lot.name.clone())
    };
    Answer {
        from,
        today,
        plantings: found
            .plantings
            .iter()
            .map(|row: &PlantingRow| WrittenPlanting {
                planting: row.planting.to_string(),
                variety: name(&row.variety),
                planted: row.date,
                plants: row.plants,
                over: row.over,
                bloom: row.bloom.map(three),
                first: row.first,
                forecast: row.forecast.map(three),
                cut: row.cut,
                culls: row.culls,
                returns_per_bed_week: row.returns_per_bed_week(),
            })
            .collect(),
        weeks: found
            .weeks
            .iter()
            .map(|row: &WeekRow| WrittenWeek {
                week: row.week.to_string(),
                forecast: row.forecast.map(three),
                cut: row.cut,
                known: row.known,
            })
            .collect(),
        lots: found
            .lots
            .iter()
            .map(|row| WrittenLot {
                variety: name(&row.variety),
                lot: lot_name(row),
                seeds: row.seeds,
                up: row.up,
                packet: row.packet,
                expected: row.expected,
                half_day: row.half_day,
            })
            .collect(),
        losses: found
            .losses
            .iter()
            .map(|row: &LossRow| WrittenLoss {
                cause: row.cause.word(),
                cells: row.cells,
                plants: row.plants,
            })
            .collect(),
        suggestions: suggestions
            .iter()
            .map(|row: &Suggestion| WrittenSuggestion {
                variety: name(&row.variety),
                figure: row.figure,
                before: row.before,
                after: row.after,
                low: row.low,
                high: row.high,
                say: row.say.write(manner()),
                reasons: reasons(&row.reasons),
            })
            .collect(),
    }
}

fn three<T: Copy>(spread: Spread<T>) -> [T; 3] {
    [spread.p10, spread.p50, spread.p90]
}

/// "120 (80 to 170)", or nothing.
fn band(stems: Option<[f64; 3]>) -> String {
    stems.map_or_else(String::new, |stems| {
        let [low, middle, high] = stems.map(f64::round);
        format!("{middle} ({low} to {high})")
    })
}

fn percent(share: Option<f64>) -> String {
    share.map_or_else(String::new, |share| format!("{:.0}", 100.0 * share))
}

fn day(date: Option<NaiveDate>) -> String {
    date.map_or_else(String::new, |date| manner().day_month(date))
}

fn told(answer: &Answer) -> String {
    let mut out = format!(
        "From {} to {}.\n",
        manner().full_date(answer.from),
        manner().full_date(answer.today)
    );
    if answer.plantings.is_empty() && answer.lots.is_empty() && answer.losses.is_empty() {
        out.push_str("\nNothing to look back on yet.\n");
    }
    let mut table = Table::new(
        "Plantings",
        &[
            "Variety",
            "Planted",
            "Plants",
            "Bloom forecast",
            "Seen",
            "Stems forecast",
            "Cut",
            "Culls",
            "Money a metre and week",
        ],
    );
    for row in &answer.plantings {
        table.row([
            row.variety.clone(),
            day(Some(row.planted)),
            row.plants.to_string(),
            day(row.bloom.map(|bloom| bloom[1])),
            day(row.first),
            band(row.forecast),
            row.cut.to_string(),
            row.culls.to_string(),
            row.returns_per_bed_week
                .map_or_else(String::new, |money| format!("{money:.2}")),
        ]);
    }
    table.write(&mut out);
    let mut table = Table::new("Weeks", &["Week", "Stems forecast", "Cut", "Known"]);
    for row in &answer.weeks {
        let known = if row.known { "whole" } else { "in part" };
        table.row([
            row.week.clone(),
            band(row.forecast),
            row.cut.to_string(),
            known.to_owned(),
        ]);
    }
    table.write(&mut out);
    let mut table = Table::new(
        "Seed lots, %",
        &[
            "Variety", "Lot", "Seeds", "Up", "Packet", "Expected", "Came",
        ],
    );
    for row in &answer.lots {
        let came = (row.seeds > 0).then(|| f64::from(row.up) / f64::from(row.seeds));
        table.row([
            row.variety.clone(),
            row.lot.clone().unwrap_or_default(),
            row.seeds.to_string(),
            row.up.to_string(),
            percent(row.packet),
            percent(row.expected),
            percent(came),
        ]);
    }
    table.write(&mut out);
    let mut table = Table::new("Losses", &["Cause", "Cells", "Plants"]);
    for row in &answer.losses {
        table.row([
            text(&format!("cause.{}", row.cause)).to_owned(),
            row.cells.to_string(),
            row.plants.to_string(),
        ]);
    }
    table.write(&mut out);
    let mut table = Table::new("Suggestions for the next season", &[]);
    for row in &answer.suggestions {
        table.row([row.say.clone()]);
    }
    table.write(&mut out);
    out
}
