//! What it takes to see a planned sowing in another week, beside what the whole season's forecast takes: 700 sowings over a year.

use std::error::Error;

use agronomy::iso_week::IsoWeek;
use chrono::{Days, NaiveDate};
use culture::Reference;
use divan::{Bencher, black_box};
use season::almanac::Almanac;
use season::coverage::coverage;
use season::fact::*;
use season::forecast::{Change, Outlook, Source, reforecast, supply};
use season::ids::*;
use season::month_day::MonthDay;
use season::occupancy::occupancy;
use season::{Log, Season};

/// Sowings in the plan.
const SOWINGS: u32 = 700;
/// Varieties that they are of.
const VARIETIES: u32 = 60;
/// Targets that ask for them.
const TARGETS: u32 = 40;

fn main() -> Result<(), Box<dyn Error>> {
    let year = Year::new()?;
    let almanac = year.almanac();
    let all = supply(&almanac, year.today);
    // Figures of a season without stems would be worth nothing.
    let live = all
        .courses
        .values()
        .filter(|course| !course.weeks.is_empty());
    if live.count() < SOWINGS as usize * 9 / 10 {
        return Err("few of the sowings give stems".into());
    }
    divan::main();
    Ok(())
}

struct Year {
    season: Season,
    reference: Reference,
    today: NaiveDate,
}

impl Year {
    fn new() -> Result<Self, Box<dyn Error>> {
        let reference = Reference::builtin()?;
        let today: NaiveDate = "2027-01-04".parse()?;
        let mut facts: Vec<Fact> = vec![place(), space("tunnel", SpaceKind::Tunnel)?];
        for (name, what) in [
            ("field", SpaceKind::Outdoors),
            ("mat", SpaceKind::Mat),
            ("shelf", SpaceKind::Shelf),
            ("step", SpaceKind::Hardening),
        ] {
            facts.push(space(name, what)?);
        }
        let crops: Vec<&str> = reference
            .crops()
            .iter()
            .filter(|crop| crop.bloom_figures(None).is_some() && crop.emergence_usual().is_some())
            .map(|crop| crop.id().as_str())
            .collect();
        for n in 0..VARIETIES {
            let crop = crops[n as usize % crops.len()];
            facts.push(variety(n, crop)?);
        }
        for n in 0..TARGETS {
            facts.push(target(n)?);
        }
        for n in 0..SOWINGS {
            facts.push(planned(n, today)?);
        }
        let (device, mut log) = (DeviceId::new("d")?, Log::new());
        for (n, fact) in facts.into_iter().enumerate() {
            let entry = log.draft(&device, 1_800_000_000_000, n as u128, fact)?;
            log.insert(entry);
        }
        Ok(Self {
            season: Season::of(&log),
            reference,
            today,
        })
    }

    fn almanac(&self) -> Almanac<'_> {
        Almanac::new(&self.season, &self.reference)
    }
}

fn place() -> Fact {
    PlaceFact {
        latitude: Some(44.0),
        last_frost: MonthDay::new(5, 15),
        first_frost: MonthDay::new(10, 1),
        ..PlaceFact::new(PlaceId::mint(0, 0))
    }
    .into()
}

fn space(name: &str, what: SpaceKind) -> Result<Fact, Box<dyn Error>> {
    let fact = SpaceFact {
        what: Some(what),
        name: Some(name.into()),
        room: Some(200),
        ..SpaceFact::new(SpaceId::new(name)?)
    };
    Ok(fact.into())
}

fn variety_id(n: u32) -> Result<VarietyId, Box<dyn Error>> {
    Ok(VarietyId::new(format!("v{n:03}"))?)
}

fn variety(n: u32, crop: &str) -> Result<Fact, Box<dyn Error>> {
    let fact = VarietyFact {
        crop: Some(crop.into()),
        name: Some(format!("Variety {n}")),
        ..VarietyFact::new(variety_id(n)?)
    };
    Ok(fact.into())
}

fn target(n: u32) -> Result<Fact, Box<dyn Error>> {
    let from = IsoWeek::new(2027, 20 + n % 10)?;
    let fact = TargetFact {
        wanted: Some(Wanted {
            variety: Some(variety_id(n)?),
            ..Wanted::default()
        }),
        from: Some(from),
        to: Some(from.plus(11)),
        stems: Some(40),
        ..TargetFact::new(TargetId::new(format!("t{n:03}"))?)
    };
    Ok(fact.into())
}

fn planned(n: u32, today: NaiveDate) -> Result<Fact, Box<dyn Error>> {
    let fact = PlannedFact {
        variety: Some(variety_id(n % VARIETIES)?),
        sow: today.checked_add_days(Days::new(u64::from(n % 160))),
        space: Some(SpaceId::new(if n.is_multiple_of(2) {
            "tunnel"
        } else {
            "field"
        })?),
        cells: Some(120),
        plants: Some(80),
        ..PlannedFact::new(PlannedId::new(format!("p{n:03}"))?)
    };
    Ok(fact.into())
}

/// One sowing a week later, its stems put among all others: what a hand that drags it waits for.
fn edit(outlook: Outlook<'_>, n: usize) -> Outlook<'_> {
    let planned = outlook.almanac().season().planned.values().nth(n);
    let found = planned.and_then(|planned| {
        let later = planned.sow?.checked_add_days(Days::new(7))?;
        let change = Change::sown_on(later);
        let course = reforecast(outlook.almanac(), planned, &change, outlook.today())?;
        Some((Source::Planned(planned.id.clone()), course))
    });
    match found {
        Some((source, course)) => outlook.with_course(source, course),
        None => outlook,
    }
}

/// Edits one sowing after the other, and looks at what follows.
fn edit_each<R>(bencher: Bencher, look: impl Fn(&Outlook<'_>) -> R) {
    let Ok(year) = Year::new() else { return };
    let outlook = Outlook::new(year.almanac(), year.today);
    outlook.supply();
    let (mut held, mut n) = (Some(outlook), 0);
    bencher.bench_local(|| {
        n = (n + 1) % SOWINGS as usize;
        held = held.take().map(|outlook| edit(black_box(outlook), n));
        held.as_ref().map(&look)
    });
}

#[divan::bench]
fn whole_forecast_of_700_planned_sowings(bencher: Bencher) {
    let Ok(year) = Year::new() else { return };
    let almanac = year.almanac();
    bencher.bench_local(|| supply(black_box(&almanac), year.today));
}

#[divan::bench]
fn one_of_700_moved_and_all_weeks_summed(bencher: Bencher) {
    edit_each(bencher, |outlook| outlook.supply().weeks(|_| true).len());
}

#[divan::bench]
fn one_of_700_moved_with_40_targets_covered(bencher: Bencher) {
    edit_each(bencher, coverage);
}

#[divan::bench]
fn room_in_all_spaces_by_week(bencher: Bencher) {
    let Ok(year) = Year::new() else { return };
    let outlook = Outlook::new(year.almanac(), year.today);
    outlook.supply();
    bencher.bench_local(|| occupancy(black_box(&outlook), &[]));
}
