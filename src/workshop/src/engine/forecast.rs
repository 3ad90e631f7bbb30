//! `forecast`: what trays and beds will give, set against the targets.

use std::fmt::Write as _;
use std::process::ExitCode;

use agronomy::quantity::Spread;
use chrono::NaiveDate;
use season::almanac::Almanac;
use season::coverage::coverage;
use season::forecast::{BedForecast, Outlook, Supply, TrayForecast, TrayStage};
use season::state::{Planting, Sowing};
use season::tasks::{Task, tasks};
use season::verdict::verdict;
use serde::Serialize;

use super::plan::wanted;
use super::written::{WrittenReason, WrittenWindow, json, manner, reasons, space_name};
use super::{Asked, Trouble, source};

#[derive(Serialize)]
struct Answer {
    today: NaiveDate,
    trays: Vec<WrittenTray>,
    beds: Vec<WrittenBed>,
    targets: Vec<WrittenTarget>,
}

#[derive(Serialize)]
struct WrittenTray {
    sowing: String,
    variety: String,
    sown: NaiveDate,
    day: i64,
    stage: &'static str,
    cells: u32,
    up: Option<u32>,
    final_up: Option<[f64; 3]>,
    half_up: Option<NaiveDate>,
    late_days: i64,
    wait_until: Option<NaiveDate>,
    to_come: f64,
    plants: [f64; 3],
    space: Option<String>,
    planting: Option<WrittenWindow>,
    bloom: Option<[NaiveDate; 3]>,
    verdict: String,
    reasons: Vec<WrittenReason>,
}

#[derive(Serialize)]
struct WrittenBed {
    planting: String,
    variety: String,
    planted: NaiveDate,
    bed: String,
    plants: u32,
    bloom: Option<[NaiveDate; 3]>,
    cut: u32,
    total: [f64; 3],
    weeks: Vec<WrittenWeek>,
    reasons: Vec<WrittenReason>,
}

#[derive(Serialize)]
struct WrittenWeek {
    week: String,
    stems: [f64; 3],
}

#[derive(Serialize)]
struct WrittenTarget {
    target: String,
    wanted: String,
    weeks: Vec<TargetWeek>,
}

#[derive(Serialize)]
struct TargetWeek {
    week: String,
    wanted: u32,
    stems: [f64; 3],
    short: u32,
    short_chance: f64,
}

/// Reads the file and forecasts from it.
pub fn run(asked: &Asked) -> Result<ExitCode, Trouble> {
    let read = source::read(&asked.file)?;
    let reference = source::reference()?;
    let almanac = Almanac::new(&read.season, &reference);
    let today = source::day(asked.today);
    let outlook = Outlook::new(almanac.clone(), today);
    let (tasks, supply) = (tasks(&outlook), outlook.supply());
    let answer = Answer {
        today,
        trays: trays(&almanac, supply, &tasks, today),
        beds: beds(&almanac, supply, today),
        targets: targets(&outlook),
    };
    source::print(&if asked.json {
        json(&answer)?
    } else {
        told(&answer)
    })?;
    Ok(ExitCode::SUCCESS)
}

fn three<T: Copy>(spread: Spread<T>) -> [T; 3] {
    [spread.p10, spread.p50, spread.p90]
}

fn trays(
    almanac: &Almanac<'_>,
    supply: &Supply,
    tasks: &[Task],
    today: NaiveDate,
) -> Vec<WrittenTray> {
    let written = |sowing: &Sowing, f: &TrayForecast| {
        let verdict = verdict(sowing, f, tasks, today);
        let says = [
            Some(&verdict.seen),
            verdict.expect.as_ref(),
            Some(&verdict.advice),
        ];
        let says: Vec<String> = says
            .into_iter()
            .flatten()
            .map(|say| say.write(manner()))
            .collect();
        WrittenTray {
            sowing: sowing.id.to_string(),
            variety: almanac.variety_name(&sowing.variety),
            sown: sowing.date,
            day: f.day,
            stage: f.stage.key().trim_start_matches("stage."),
            cells: f.standing.cells,
            up: f.standing.up,
            final_up: f.final_up.map(three),
            half_up: f.half_up,
            late_days: f.late_days,
            wait_until: f.quiet,
            to_come: f.to_come,
            plants: three(f.plants),
            space: space_name(almanac, f.space.as_ref()),
            planting: f.plant.map(WrittenWindow::from),
            bloom: f.bloom.map(three),
            verdict: says.join(" "),
            reasons: reasons(&verdict.why),
        }
    };
    let mut trays: Vec<WrittenTray> = supply
        .trays
        .values()
        .filter(|f| f.stage != TrayStage::Ended && f.day >= 0)
        .filter_map(|f| Some(written(almanac.season().sowings.get(&f.sowing)?, f)))
        .collect();
    trays.sort_by(|a, b| (a.sown, &a.variety, &a.sowing).cmp(&(b.sown, &b.variety, &b.sowing)));
    trays
}

fn beds(almanac: &Almanac<'_>, supply: &Supply, today: NaiveDate) -> Vec<WrittenBed> {
    let written = |planting: &Planting, f: &BedForecast| WrittenBed {
        planting: planting.id.to_string(),
        variety: almanac.variety_name(&planting.variety),
        planted: planting.date,
        bed: almanac
            .bed(&planting.bed)
            .map_or_else(String::new, |bed| bed.name.clone()),
        plants: planting.standing(),
        bloom: f.bloom.map(three),
        cut: f.cut,
        total: three(f.total),
        weeks: f
            .weeks
            .iter()
            .map(|(week, stems)| WrittenWeek {
                week: week.to_string(),
                stems: three(*stems),
            })
            .collect(),
        reasons: reasons(&f.why),
    };
    let standing = |p: &Planting| p.date <= today && p.finished.is_none_or(|end| end > today);
    let mut beds: Vec<WrittenBed> = supply
        .beds
        .values()
        .filter_map(|f| {
            let planting = almanac.season().plantings.get(&f.planting)?;
            standing(planting).then(|| written(planting, f))
        })
        .collect();
    beds.sort_by(|a, b| {
        (a.planted, &a.variety, &a.planting).cmp(&(b.planted, &b.variety, &b.planting))
    });
    beds
}

/// Stems count once: a narrow target has them before a broad one.
fn targets(outlook: &Outlook<'_>) -> Vec<WrittenTarget> {
    let almanac = outlook.almanac();
    coverage(outlook)
        .iter()
        .filter_map(|cover| {
            let target = almanac.season().targets.get(&cover.target)?;
            let weeks = cover.weeks.iter().map(|week| TargetWeek {
                week: week.week.to_string(),
                wanted: week.wanted,
                stems: three(week.stems),
                short: week.short(),
                short_chance: week.short_chance.get(),
            });
            Some(WrittenTarget {
                target: target.id.to_string(),
                wanted: wanted(almanac, target),
                weeks: weeks.collect(),
            })
        })
        .collect()
}

fn band(dates: &[NaiveDate; 3]) -> String {
    let [first, middle, last] = dates;
    format!(
        "about {} ({} to {})",
        manner().date(*middle),
        manner().day_month(*first),
        manner().day_month(*last)
    )
}

fn told(answer: &Answer) -> String {
    let mut out = format!("As of {}.\n", manner().full_date(answer.today));
    if answer.trays.is_empty() && answer.beds.is_empty() && answer.targets.is_empty() {
        out.push_str("\nNothing is sown, planted or wanted yet.\n");
    }
    if !answer.trays.is_empty() {
        out.push_str("\nTrays\n");
    }
    for tray in &answer.trays {
        tell_tray(&mut out, tray);
    }
    if !answer.beds.is_empty() {
        out.push_str("\nBeds\n");
    }
    for bed in &answer.beds {
        tell_bed(&mut out, bed);
    }
    for target in &answer.targets {
        let _ = writeln!(out, "\n{} a week", target.wanted);
        for week in &target.weeks {
            let [low, middle, high] = week.stems.map(f64::round);
            let says = if week.short > 0 {
                format!("{} short", week.short)
            } else {
                "covered".into()
            };
            let _ = writeln!(
                out,
                "  {}: {middle} expected ({low} to {high}), {says}.",
                week.week
            );
        }
    }
    out
}

fn tell_tray(out: &mut String, tray: &WrittenTray) {
    let _ = writeln!(
        out,
        "  {}, sown {}: {}",
        tray.variety,
        manner().date(tray.sown),
        tray.verdict
    );
    if let (Some(window), Some(bloom)) = (&tray.planting, &tray.bloom) {
        let _ = writeln!(
            out,
            "    {} plants to set{}, {}; bloom {}.",
            tray.plants[1].round(),
            tray.space
                .as_ref()
                .map_or_else(String::new, |s| format!(" into {s}")),
            window.told(),
            band(bloom)
        );
    }
}

fn tell_bed(out: &mut String, bed: &WrittenBed) {
    let _ = writeln!(
        out,
        "  {}, {} plants in {} since {}.",
        bed.variety,
        bed.plants,
        bed.bed,
        manner().date(bed.planted)
    );
    let [low, middle, high] = bed.total.map(f64::round);
    match (&bed.bloom, bed.cut) {
        (_, cut) if cut > 0 => {
            let _ = writeln!(
                out,
                "    {cut} stems cut, {middle} in all expected ({low} to {high})."
            );
        }
        (Some(bloom), _) => {
            let _ = writeln!(
                out,
                "    Bloom {}; {middle} stems ({low} to {high}).",
                band(bloom)
            );
        }
        (None, _) => {}
    }
    let weeks: Vec<String> = bed
        .weeks
        .iter()
        .filter(|week| week.stems[1] >= 0.5)
        .map(|week| format!("{} {}", week.week, week.stems[1].round()))
        .collect();
    if !weeks.is_empty() {
        let _ = writeln!(out, "    {}.", weeks.join(", "));
    }
}
