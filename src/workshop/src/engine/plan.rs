//! `plan`: what to sow for the targets, and what can't be met.

use std::fmt::Write as _;
use std::process::ExitCode;

use agronomy::iso_week::IsoWeek;
use chrono::NaiveDate;
use season::almanac::Almanac;
use season::forecast::Outlook;
use season::plan::{Asker, Plan, Proposal, WAYS_OUT, plan};
use season::state::Target;
use season::words::text;
use serde::Serialize;

use super::written::{WrittenReason, json, manner, reasons, space_name};
use super::{Asked, Trouble, source};

#[derive(Serialize)]
struct Answer {
    today: NaiveDate,
    proposals: Vec<WrittenProposal>,
    shortfalls: Vec<WrittenShortfall>,
    crowding: Vec<WrittenCrowding>,
}

#[derive(Serialize)]
struct WrittenProposal {
    target: Option<String>,
    order: Option<String>,
    wanted: String,
    variety: String,
    sow: NaiveDate,
    plant: NaiveDate,
    space: Option<String>,
    bloom: [NaiveDate; 3],
    plants: u32,
    cells: u32,
    weeks: [String; 2],
    bed_metres: f64,
    why_plants: Vec<WrittenReason>,
    why_cells: Vec<WrittenReason>,
    why_dates: Vec<WrittenReason>,
}

#[derive(Serialize)]
struct WrittenShortfall {
    target: Option<String>,
    order: Option<String>,
    wanted: String,
    weeks: [String; 2],
    stems: u32,
    why: String,
    mends: Vec<String>,
    latest_sowing: Option<NaiveDate>,
    ways_out: Vec<&'static str>,
}

#[derive(Serialize)]
struct WrittenCrowding {
    space: &'static str,
    weeks: [String; 2],
    trays: u32,
    room: u32,
}

/// Reads the file and plans its targets.
pub fn run(asked: &Asked) -> Result<ExitCode, Trouble> {
    let read = source::read(&asked.file)?;
    let reference = source::reference()?;
    let almanac = Almanac::new(&read.season, &reference);
    let today = source::day(asked.today);
    let plan = plan(&Outlook::new(almanac.clone(), today))
        .map_err(|error| Trouble::Inside(error.to_string()))?;
    let answer = written(&almanac, &plan, today);
    source::print(&if asked.json {
        json(&answer)?
    } else {
        told(&answer)
    })?;
    Ok(ExitCode::SUCCESS)
}

/// What a target wants, in words: "40 stems of white spike".
pub fn wanted(almanac: &Almanac<'_>, target: &Target) -> String {
    let wanted = &target.wanted;
    let mut words: Vec<String> = Vec::new();
    words.extend(wanted.colour.clone());
    match (&wanted.variety, &wanted.crop, wanted.role) {
        (Some(variety), _, _) => words.push(almanac.variety_name(variety)),
        (None, Some(crop), _) => words.push(
            almanac
                .reference()
                .crop(crop)
                .map_or_else(|| crop.clone(), |crop| crop.name().to_owned()),
        ),
        (None, None, Some(role)) => words.push(text(&format!("role.{}", role.word())).to_owned()),
        (None, None, None) => {}
    }
    format!("{} stems of {}", target.stems, words.join(" "))
}

fn wanted_of(almanac: &Almanac<'_>, asker: &Asker) -> String {
    let season = almanac.season();
    match asker {
        Asker::Target(id) => season
            .targets
            .get(id)
            .map_or_else(String::new, |target| wanted(almanac, target)),
        Asker::Order(id) => {
            let who = season.orders.get(id).map(|order| order.who.clone());
            format!("an order for {}", who.unwrap_or_default())
        }
    }
}

fn order_of(asker: &Asker) -> Option<String> {
    match asker {
        Asker::Target(_) => None,
        Asker::Order(id) => Some(id.to_string()),
    }
}

fn pair((from, to): (IsoWeek, IsoWeek)) -> [String; 2] {
    [from.to_string(), to.to_string()]
}

fn written(almanac: &Almanac<'_>, plan: &Plan, today: NaiveDate) -> Answer {
    let proposal = |p: &Proposal| WrittenProposal {
        target: p.target.as_ref().map(ToString::to_string),
        order: order_of(&p.serves),
        wanted: wanted_of(almanac, &p.serves),
        variety: almanac.variety_name(&p.variety),
        sow: p.sow,
        plant: p.plant,
        space: space_name(almanac, Some(&p.space)),
        bloom: [p.bloom.p10, p.bloom.p50, p.bloom.p90],
        plants: p.plants,
        cells: p.cells,
        weeks: pair(p.weeks),
        bed_metres: p.bed_metres,
        why_plants: reasons(&p.why_plants),
        why_cells: reasons(&p.why_cells),
        why_dates: reasons(&p.why_dates),
    };
    Answer {
        today,
        proposals: plan.proposals.iter().map(proposal).collect(),
        shortfalls: plan
            .shortfalls
            .iter()
            .map(|s| WrittenShortfall {
                target: s.target.as_ref().map(ToString::to_string),
                order: order_of(&s.asker),
                wanted: wanted_of(almanac, &s.asker),
                weeks: pair(s.weeks),
                stems: s.stems,
                why: s.why.write(manner()),
                mends: s.mends.iter().map(|mend| mend.write(manner())).collect(),
                latest_sowing: s.latest_sowing,
                ways_out: match s.latest_sowing {
                    Some(_) => WAYS_OUT.iter().map(|key| text(key)).collect(),
                    None => Vec::new(),
                },
            })
            .collect(),
        crowding: plan
            .crowding
            .iter()
            .map(|c| WrittenCrowding {
                space: text(match c.what {
                    season::fact::SpaceKind::Mat => "space.mat",
                    season::fact::SpaceKind::Hardening => "space.hardening",
                    _ => "space.shelf",
                }),
                weeks: pair(c.weeks),
                trays: c.trays,
                room: c.room,
            })
            .collect(),
    }
}

fn span([from, to]: &[String; 2]) -> String {
    if from == to {
        from.clone()
    } else {
        format!("{from} to {to}")
    }
}

fn told(answer: &Answer) -> String {
    let mut out = format!("As of {}.\n", manner().full_date(answer.today));
    if answer.proposals.is_empty() && answer.shortfalls.is_empty() {
        out.push_str(
            "\nNothing to sow: the targets are covered by what stands, is sown or accepted.\n",
        );
    }
    if !answer.proposals.is_empty() {
        out.push_str("\nTo sow\n");
    }
    for p in &answer.proposals {
        let _ = writeln!(
            out,
            "  {}: {}, {} cells for {} plants; plant {}{}, {:.1} m of bed.",
            manner().full_date(p.sow),
            p.variety,
            p.cells,
            p.plants,
            manner().date(p.plant),
            p.space
                .as_ref()
                .map_or_else(String::new, |s| format!(" into {s}")),
            p.bed_metres,
        );
        let [first, middle, last] = p.bloom;
        let _ = writeln!(
            out,
            "    Blooms about {} ({} to {}), for {} in {}.",
            manner().date(middle),
            manner().day_month(first),
            manner().day_month(last),
            p.wanted,
            span(&p.weeks),
        );
    }
    if !answer.shortfalls.is_empty() {
        out.push_str("\nShort\n");
    }
    for s in &answer.shortfalls {
        let _ = writeln!(
            out,
            "  {} in {}: {} short. {}",
            s.wanted,
            span(&s.weeks),
            s.stems,
            s.why
        );
        for mend in &s.mends {
            let _ = writeln!(out, "    {mend}");
        }
        if !s.ways_out.is_empty() {
            let _ = writeln!(
                out,
                "    Ways out: {}.",
                s.ways_out.join("; ").to_lowercase()
            );
        }
    }
    if !answer.crowding.is_empty() {
        out.push_str("\nCrowded\n");
    }
    for c in &answer.crowding {
        let _ = writeln!(
            out,
            "  {}: up to {} trays in {}, room for {}.",
            c.space,
            c.trays,
            span(&c.weeks),
            c.room
        );
    }
    out
}
