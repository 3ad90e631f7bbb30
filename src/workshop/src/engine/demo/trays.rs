//! What becomes of a sowing in its trays: seedlings come up by the crop's figures, are counted, moved, lost, hardened, planted.

use chrono::{NaiveDate, TimeDelta};
use culture::{Crop, MatUse};
use season::cells::{CellMap, Mark};
use season::fact::*;
use season::ids::*;
use serde_json::json;

use super::super::Trouble;
use super::beds::Set;
use super::book::{Book, Device};
use super::chance::Chance;
use super::schedule::{Odd, Planned, Row};
use super::set_up::Farm;
use super::today;

/// Days between counts.
const COUNT_EVERY: i64 = 2;
/// Under this share of the cells newly up since the last count, no more are waited for.
const FEW: f64 = 0.03;

/// Days for which trays of the demo stand without a number.
const UNLABELLED_DAYS: i64 = 10;
/// From one cell that comes up to the next, if it divides no tray.
const SCATTER: usize = 29;

/// A sowing under way.
struct Life<'a> {
    row: &'a Row,
    sowing: SowingId,
    /// The day after sowing on which each seedling comes up.
    days: Vec<f64>,
    /// Seedlings lost after they were up.
    lost: u32,
    /// Seedlings by the last count, less losses since.
    standing: u32,
}

impl Life<'_> {
    fn date(&self, day: i64) -> NaiveDate {
        after(self.row.sow, day)
    }

    fn up_by(&self, day: i64) -> u32 {
        let up = self.days.iter().filter(|d| **d <= day as f64).count();
        u32::try_from(up)
            .unwrap_or(u32::MAX)
            .saturating_sub(self.lost)
    }
}

fn after(date: NaiveDate, days: i64) -> NaiveDate {
    date + TimeDelta::days(days)
}

/// Records a sowing and all that happened to it up to the demo's day; gives what was planted.
pub fn grow(
    book: &mut Book,
    farm: &Farm,
    planned: &Planned,
    row: &Row,
    crop: &Crop,
) -> Result<Vec<Set>, Trouble> {
    let doubles = matches!(row.odd, Odd::PrickedOut(..));
    let seeds = if doubles { 2 } else { 1 };
    // The newest trays wait for their labels.
    let numbered = row.sow < after(today(), -UNLABELLED_DAYS);
    let sown = SownFact {
        space: Some(farm.space(row.from)?),
        tray: Some(row.tray),
        seeds_per_cell: seeds,
        dome: crop.typical("dome_off_share").is_some(),
        lot: farm.lots.get(row.variety).cloned(),
        planned: planned.get(&row.plan).cloned(),
        for_space: Some(farm.space(row.space())?),
        number: numbered.then(|| book.next_tray()),
        ..SownFact::new(farm.variety(row.variety)?.clone(), row.cells(), row.sow)
    };
    let sowing = SowingId::from(book.record(row.sow, 15, Device::Phone, sown)?);
    let mut life = Life {
        row,
        sowing,
        days: emergence(&mut book.chance, crop, row, seeds),
        lost: 0,
        standing: 0,
    };
    let called = come_up(book, farm, crop, &mut life)?;
    let Some(called) = called else {
        return Ok(Vec::new());
    };
    grow_on(book, crop, &mut life, called)?;
    plant(book, farm, crop, &mut life)
}

/// The day on which each cell that comes up does so: log-logistic through the crop's first, typical and most day.
fn emergence(chance: &mut Chance, crop: &Crop, row: &Row, seeds: u32) -> Vec<f64> {
    let Some(usual) = crop.emergence_usual() else {
        return Vec::new();
    };
    let slow = match row.odd {
        Odd::Slow(times) => times,
        _ => 1.0,
    } * chance.between(0.95, 1.05);
    // From 1 in 20 up on the first day to 19 in 20 on the most day.
    let shape = 2.0 * 19.0_f64.ln() / (usual.most_day / usual.first_day).ln();
    // A lot lies somewhere between the poor and the good one, mostly near the usual.
    let rate = (usual.germination + 0.03 * chance.scatter())
        .clamp(usual.germination_low, usual.germination_high);
    let cell = 1.0 - (1.0 - rate).powi(seeds as i32);
    (0..row.cells())
        .filter_map(|_| {
            let up = chance.share() < cell;
            let u = chance.between(0.002, 0.985);
            up.then(|| usual.half_day * slow * (u / (1.0 - u)).powf(1.0 / shape))
        })
        .collect()
}

/// Counts until no more come, lifts the dome, takes the mat away. Gives the day on which the count was called, if it was by now.
fn come_up(
    book: &mut Book,
    farm: &Farm,
    crop: &Crop,
    life: &mut Life<'_>,
) -> Result<Option<i64>, Trouble> {
    let Some(usual) = crop.emergence_usual() else {
        return Ok(None);
    };
    let cells = f64::from(life.row.cells());
    let mut dome = crop.typical("dome_off_share");
    let mut mat =
        Some(crop.typical("mat_off_share").unwrap_or(0.5)).filter(|_| life.row.from == "Heat mat");
    let patient = usual.most_day >= 12.0 && crop.mat_use() != MatUse::Never;
    let mut day = usual.first_day.ceil() as i64;
    let mut before = 0;
    let mut counts = 0;
    loop {
        let date = life.date(day);
        if date > today() {
            return Ok(None);
        }
        mishap(book, life, after(date, -COUNT_EVERY), date)?;
        let up = life.up_by(day);
        count(book, life, date, up, counts)?;
        counts += 1;
        life.standing = up;
        let share = f64::from(up + life.lost) / cells;
        let few = f64::from(up.saturating_sub(before)) < FEW * cells && up > 0;
        let over = few && day as f64 > usual.half_day || day as f64 > usual.most_day * 1.3;
        if dome.is_some_and(|cue| share >= cue || over) {
            dome = None;
            let fact = DomeLiftedFact::new(life.sowing.clone(), date);
            book.record(date, 13, Device::Phone, fact)?;
        }
        let late = day as f64 > usual.most_day;
        if mat.is_some_and(|cue| share >= cue && (!patient || few) || over || late) {
            mat = None;
            let fact = MatOffFact {
                space: Some(farm.space(life.row.shelf)?),
                ..MatOffFact::new(life.sowing.clone(), date)
            };
            book.record(date, 13, Device::Phone, fact)?;
        }
        if over && dome.is_none() && mat.is_none() {
            return Ok(Some(day));
        }
        before = up;
        day += COUNT_EVERY;
    }
}

fn count(
    book: &mut Book,
    life: &Life<'_>,
    date: NaiveDate,
    up: u32,
    counts: u32,
) -> Result<(), Trouble> {
    let slip = life.row.odd == Odd::Miscounted && counts == 2;
    let written = if slip { up / 10 + up % 10 * 10 } else { up };
    // Marked cell by cell until something is lost; a slip of the pen happens to numbers only.
    let marked = (!slip && life.lost == 0).then(|| marked(life.row, up));
    let fact = CountedFact {
        doubles: marked.as_ref().map(|map| map.tally().doubles),
        map: marked.map(|map| map.write()),
        ..CountedFact::new(life.sowing.clone(), written.min(life.row.cells()), date)
    };
    let entry = book.record(date, 12, Device::Phone, fact)?;
    if slip {
        let set = [("up".to_owned(), json!(up))].into_iter().collect();
        book.record(date, 17, Device::Laptop, RevisedFact::new(entry, set))?;
    }
    Ok(())
}

/// So many cells up, here and there and the same ones from count to count; of two seeds to a cell both come up in every third.
fn marked(row: &Row, up: u32) -> CellMap {
    let cells = row.cells() as usize;
    let mut map = CellMap::new(row.tray, row.cells());
    let step = (SCATTER..)
        .find(|step| gcd(*step, cells.max(1)) == 1)
        .unwrap_or(1);
    for n in 0..up as usize {
        let twice = matches!(row.odd, Odd::PrickedOut(..)) && n % 3 == 0;
        map.set(
            [n * step % cells.max(1)],
            if twice { Mark::Two } else { Mark::Up },
        );
    }
    for tray in 0..map.trays() {
        map.look_at(tray);
    }
    map
}

fn gcd(a: usize, b: usize) -> usize {
    if b == 0 { a } else { gcd(b, a % b) }
}

/// What was lost at once from one day on and before another; what is lost on a day of counting is lost after the count.
fn mishap(
    book: &mut Book,
    life: &mut Life<'_>,
    from: NaiveDate,
    to: NaiveDate,
) -> Result<(), Trouble> {
    if let Odd::Lost(date, number, cause) = life.row.odd
        && from <= date
        && date < to
        && date < today()
    {
        lose(book, life, date, number, cause)?;
    }
    Ok(())
}

fn lose(
    book: &mut Book,
    life: &mut Life<'_>,
    date: NaiveDate,
    number: u32,
    cause: LossCause,
) -> Result<(), Trouble> {
    // Only what stands can be lost here: an empty cell is no plant.
    let number = number.min(life.standing);
    if number == 0 {
        return Ok(());
    }
    life.lost += number;
    life.standing -= number;
    let fact = LostFact {
        sowing: Some(life.sowing.clone()),
        ..LostFact::new(cause, number, date)
    };
    book.record(date, 14, Device::Phone, fact)?;
    Ok(())
}

/// From the call of the count to hardening off: water, feed, small losses, bigger cells.
fn grow_on(book: &mut Book, crop: &Crop, life: &mut Life<'_>, called: i64) -> Result<(), Trouble> {
    mishap(book, life, life.date(called), life.row.plant)?;
    let half = crop.emergence_usual().map_or(7.0, |usual| usual.half_day) as i64;
    let drier = life.date((half + 13).max(called + 1));
    if drier <= today() && drier < life.row.plant {
        let fact = WateredFact {
            sowing: Some(life.sowing.clone()),
            regime: Some(WaterRegime::DryBetween),
            ..WateredFact::new(drier)
        };
        book.record(drier, 12, Device::Phone, fact)?;
    }
    let feed = life.date((half + 18).max(called + 4));
    if feed <= today() && feed < life.row.plant {
        let fact = FedFact {
            sowing: Some(life.sowing.clone()),
            ..FedFact::new(feed)
        };
        book.record(feed, 12, Device::Phone, fact)?;
    }
    let few = life.date(called + book.chance.whole(3, 9));
    let draw = book.chance.share();
    if few <= today() && few < life.row.plant && draw < 0.45 && life.row.odd == Odd::Usual {
        let cause = match (draw * 100.0) as u32 {
            0..15 => LossCause::DampingOff,
            15..25 => LossCause::Algae,
            25..35 => LossCause::DriedOut,
            _ => LossCause::Other,
        };
        let number = book.chance.whole(1, 4) as u32;
        lose(book, life, few, number, cause)?;
    }
    match life.row.odd {
        Odd::PottedOn(date) if date <= today() => {
            let fact = PottedOnFact {
                tray: Some(Tray {
                    what: CellKind::Pot,
                    rows: 5,
                    columns: 6,
                }),
                ..PottedOnFact::new(life.sowing.clone(), date)
            };
            book.record(date, 14, Device::Phone, fact)?;
        }
        Odd::PrickedOut(date, cells) if date <= today() => {
            let cells = cells.min(life.row.cells() - life.lost - life.standing);
            life.standing += cells;
            let fact = PrickedOutFact::new(life.sowing.clone(), cells, date);
            book.record(date, 14, Device::Phone, fact)?;
        }
        _ => {}
    }
    Ok(())
}

/// Hardening off, the last cull, planting, and the empty trays washed.
fn plant(
    book: &mut Book,
    farm: &Farm,
    crop: &Crop,
    life: &mut Life<'_>,
) -> Result<Vec<Set>, Trouble> {
    let row = life.row;
    let days = crop.typical("hardening_off_days").unwrap_or(7.0) as i64;
    let harden = after(row.plant, -days);
    if harden > today() {
        return Ok(Vec::new());
    }
    let fact = HardeningFact {
        space: Some(farm.space("Cold frame")?),
        ..HardeningFact::new(life.sowing.clone(), harden)
    };
    book.record(harden, 13, Device::Phone, fact)?;
    // What is due on the demo's own day is still to be done.
    if row.plant >= today() {
        return Ok(Vec::new());
    }
    let weak = book.chance.of(life.standing, 0.05);
    lose(book, life, after(row.plant, -1), weak, LossCause::Culled)?;
    let fact = TransplantedFact {
        spacing_cm: crop.typical("spacing_cm"),
        ..TransplantedFact::new(
            life.sowing.clone(),
            farm.bed(row.bed)?,
            life.standing,
            row.plant,
        )
    };
    let entry = book.record(row.plant, 15, Device::Phone, fact)?;
    let fact = FinishedFact {
        sowing: Some(life.sowing.clone()),
        ..FinishedFact::new(row.plant)
    };
    book.record(row.plant, 16, Device::Phone, fact)?;
    Ok(vec![Set {
        id: PlantingId::from(entry),
        sowing: Some(life.sowing.clone()),
        variety: row.variety,
        bed: farm.bed(row.bed)?,
        tunnel: row.space() == "Tunnel",
        date: row.plant,
        plants: life.standing,
    }])
}
