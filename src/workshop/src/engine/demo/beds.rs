//! What becomes of plants in a bed: losses, pinch, netting, buds, colour, cuts, an empty bed.

use agronomy::climate::Cover;
use chrono::{NaiveDate, TimeDelta};
use culture::Crop;
use season::almanac::Almanac;
use season::fact::*;
use season::forecast::{of_planting, stem_figures};
use season::ids::*;
use season::state::Planting;

use super::super::Trouble;
use super::book::{Book, Device};
use super::set_up::Farm;
use super::today;

/// Plants set, or sown, into a bed.
pub struct Set {
    /// The planting.
    pub id: PlantingId,
    /// The sowing that they came from.
    pub sowing: Option<SowingId>,
    /// Variety.
    pub variety: &'static str,
    /// Bed.
    pub bed: BedId,
    /// Under cover.
    pub tunnel: bool,
    /// Set, or sown.
    pub date: NaiveDate,
    /// Plants.
    pub plants: u32,
}

/// Saleable stems cut on a day.
pub struct Cut {
    /// Variety.
    pub variety: &'static str,
    /// Day.
    pub date: NaiveDate,
    /// Stems.
    pub stems: u32,
}

fn after(date: NaiveDate, days: i64) -> NaiveDate {
    date + TimeDelta::days(days)
}

/// Records all that happened to a planting up to the demo's day; gives what was cut.
pub fn grow(
    book: &mut Book,
    farm: &Farm,
    almanac: &Almanac<'_>,
    crop: &Crop,
    set: &Set,
) -> Result<Vec<Cut>, Trouble> {
    let lost = losses(book, set)?;
    let pinched = care(book, crop, set)?;
    let planting = planting(farm, set, pinched, lost)?;
    let Some(bloom) = of_planting(almanac, &planting, set.date).bloom else {
        return Ok(Vec::new());
    };
    // The forecast's middle, a few days to either side as years go.
    let first = after(
        bloom.p50,
        (4.0 * book.chance.scatter()).clamp(-8.0, 8.0) as i64,
    );
    seen(book, set, first)?;
    cuts(book, crop, &planting, set, first)
}

fn losses(book: &mut Book, set: &Set) -> Result<u32, Trouble> {
    let date = after(set.date, 9);
    let number = book.chance.of(set.plants, 0.04);
    if number == 0 || date > today() {
        return Ok(0);
    }
    let cause = match book.chance.whole(0, 3) {
        0 => LossCause::Eaten,
        1 => LossCause::Cold,
        _ => LossCause::Other,
    };
    let fact = LostFact {
        planting: Some(set.id.clone()),
        ..LostFact::new(cause, number, date)
    };
    book.record(date, 13, Device::Phone, fact)?;
    Ok(number)
}

/// Pinch and netting, where the crop wants them. Gives the day of the pinch.
fn care(book: &mut Book, crop: &Crop, set: &Set) -> Result<Option<NaiveDate>, Trouble> {
    let note = |name: &str| crop.text(name).map_or("", |note| note.text.as_str());
    let mut pinched = None;
    let date = after(set.date, book.chance.whole(11, 14));
    if note("pinch").starts_with("yes") && date < today() {
        let planting = set.id.clone();
        book.record(date, 14, Device::Phone, PinchedFact::new(planting, date))?;
        pinched = Some(date);
    }
    let date = after(set.date, book.chance.whole(12, 18));
    if !note("support").starts_with("none") && date < today() {
        let planting = set.id.clone();
        book.record(date, 15, Device::Phone, NettedFact::new(planting, date))?;
    }
    Ok(pinched)
}

/// The planting as the log will have it, for asking the forecast.
fn planting(
    farm: &Farm,
    set: &Set,
    pinched: Option<NaiveDate>,
    lost: u32,
) -> Result<Planting, Trouble> {
    Ok(Planting {
        id: set.id.clone(),
        sowing: set.sowing.clone(),
        variety: farm.variety(set.variety)?.clone(),
        bed: set.bed.clone(),
        date: set.date,
        plants: set.plants,
        spacing_cm: None,
        lost,
        losses: Vec::new(),
        planned: None,
        pinched,
        netted: None,
        visible_bud: None,
        first_colour: None,
        disbudded: None,
        covered: Vec::new(),
        cuts: Vec::new(),
        watered: None,
        fed: None,
        finished: None,
        history: Vec::new(),
    })
}

fn seen(book: &mut Book, set: &Set, first: NaiveDate) -> Result<(), Trouble> {
    for (days, stage) in [
        (book.chance.whole(25, 30), BloomStage::VisibleBud),
        (book.chance.whole(3, 5), BloomStage::FirstColour),
    ] {
        let date = after(first, -days);
        if date > after(set.date, 14) && date < today() {
            let planting = set.id.clone();
            let fact = SeenFact::new(planting, stage, date);
            book.record(date, 13, Device::Phone, fact)?;
        }
    }
    Ok(())
}

/// Three cuts a week by the crop's flush, until the bed is done or today.
fn cuts(
    book: &mut Book,
    crop: &Crop,
    planting: &Planting,
    set: &Set,
    first: NaiveDate,
) -> Result<Vec<Cut>, Trouble> {
    let cover = if set.tunnel {
        Cover::Tunnel
    } else {
        Cover::Open
    };
    let Some(figures) = stem_figures(crop, cover) else {
        return Ok(Vec::new());
    };
    let year = book.chance.between(0.85, 1.15);
    let total = f64::from(planting.standing()) * figures.saleable_per_plant() * year;
    let mut cut = Vec::new();
    for (week, share) in figures.shares.iter().enumerate() {
        for in_week in [0, 2, 4] {
            let date = after(first, 7 * week as i64 + in_week);
            let stems = (total * share / 3.0 * book.chance.between(0.8, 1.2)).round() as u32;
            let cull = (1.0 - figures.marketable) / figures.marketable;
            let culls = (f64::from(stems) * cull * book.chance.between(0.6, 1.4)).round() as u32;
            if date >= today() || stems == 0 {
                continue;
            }
            let fact = CutFact {
                culls,
                grade: Some(if week < figures.shares.len().div_ceil(2) {
                    Grade::First
                } else {
                    Grade::Second
                }),
                ..CutFact::new(set.id.clone(), stems, date)
            };
            book.record(date, 10, Device::Phone, fact.clone())?;
            // Once the button was touched twice, and the second record taken back.
            if cut.is_empty() && set.variety == "Chalk spike" && set.tunnel {
                let twice = book.record(date, 11, Device::Phone, fact)?;
                book.record(date, 12, Device::Phone, VoidedFact::new(twice))?;
            }
            cut.push(Cut {
                variety: set.variety,
                date,
                stems,
            });
        }
    }
    let end = after(first, 7 * figures.shares.len() as i64 + 3);
    if end < today() {
        let fact = FinishedFact {
            planting: Some(set.id.clone()),
            ..FinishedFact::new(end)
        };
        book.record(end, 15, Device::Phone, fact)?;
    }
    Ok(cut)
}
