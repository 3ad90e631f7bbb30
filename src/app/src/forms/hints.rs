//! What is good to know beside a field, from the season and from what stands in the other fields.

use season::Fact;
use season::almanac::Almanac;
use season::fact::{SownFact, SpaceKind};
use season::forecast::TrayStage;
use season::ids::{BedId, SowingId, SpaceId, VarietyId};
use season::space::{TrayRoom, bed_on, plants_that_fit, spacing_cm, trays_on};
use season::tasks::{Hazard, hazards};
use season::words::{Arg, Say};

use chrono::NaiveDate;

/// Hints by field.
pub type Hints = Vec<(&'static str, Say)>;

/// What to know while filling in a fact.
pub fn hints(almanac: &Almanac<'_>, fact: &Fact) -> Hints {
    let mut hints = Hints::new();
    match fact {
        Fact::Sown(f) => sown(almanac, f, &mut hints),
        Fact::Counted(f) => {
            if let Some(say) = last_count(almanac, &f.sowing, f.date) {
                hints.push(("up", say));
            }
            hints.push(("of", Say::new("hint.of")));
        }
        Fact::Moved(f) => hints.extend(room(almanac, Some(&f.space), f.date)),
        Fact::MatOff(f) => hints.extend(room(almanac, f.space.as_ref(), f.date)),
        Fact::Hardening(f) => hints.extend(room(almanac, f.space.as_ref(), f.date)),
        Fact::Lost(f) => {
            if let Some(sowing) = f
                .sowing
                .as_ref()
                .and_then(|id| almanac.season().sowings.get(id))
            {
                let now = sowing.standing(f.date);
                let say = Say::new("hint.lost_tray")
                    .with("cells", now.cells)
                    .with_some("up", now.up);
                hints.push(("number", say));
            }
            if let Some(planting) = f
                .planting
                .as_ref()
                .and_then(|id| almanac.season().plantings.get(id))
            {
                hints.push((
                    "number",
                    Say::new("hint.standing").with("n", planting.standing()),
                ));
            }
        }
        Fact::PrickedOut(f) => {
            if let Some(sowing) = almanac.season().sowings.get(&f.sowing) {
                let now = sowing.standing(f.date);
                let empty = now.cells.saturating_sub(now.up.unwrap_or(0));
                hints.push(("cells", Say::new("hint.empty_cells").with("n", empty)));
            }
        }
        Fact::Transplanted(f) => {
            if let Some(sowing) = almanac.season().sowings.get(&f.sowing) {
                let now = sowing.standing(f.date);
                let say = Say::new("hint.in_trays").with("n", now.up.unwrap_or(now.cells));
                hints.push(("plants", say));
                hints.extend(bed_room(
                    almanac,
                    &f.bed,
                    &sowing.variety,
                    f.spacing_cm,
                    f.date,
                ));
                hints.extend(frost(almanac, &f.bed, &sowing.variety, f.date));
            }
        }
        Fact::DirectSown(f) => {
            hints.extend(bed_room(almanac, &f.bed, &f.variety, f.spacing_cm, f.date));
        }
        Fact::Cut(f) => {
            let planting = almanac.season().plantings.get(&f.planting);
            if let Some(last) = planting.and_then(|planting| planting.cuts.last()) {
                let say = Say::new("hint.last_cut")
                    .with("n", last.stems)
                    .with("date", last.date);
                hints.push(("stems", say));
            }
        }
        Fact::Temperature(f) => hints.extend(at_the_seed(almanac, f.space.as_ref(), f.date)),
        Fact::Discarded(f) => hints.push(("stems", in_stock(almanac, &f.variety, f.date))),
        Fact::Sold(f) => hints.push(("stems", in_stock(almanac, &f.variety, f.date))),
        _ => {}
    }
    hints
}

/// On mats and shelves a thermometer belongs at the seed; and what the trays there bear.
fn at_the_seed(
    almanac: &Almanac<'_>,
    space: Option<&SpaceId>,
    date: NaiveDate,
) -> Vec<(&'static str, Say)> {
    let space = space.and_then(|id| almanac.space(id));
    let Some(space) = space.filter(|space| matches!(space.what, SpaceKind::Mat | SpaceKind::Shelf))
    else {
        return Vec::new();
    };
    let rooms = trays_on(almanac.season(), date);
    let standing = rooms
        .get(&space.id)
        .map_or(&[][..], |room| room.sowings.as_slice());
    let most = standing
        .iter()
        .filter_map(|(id, _)| almanac.season().sowings.get(id))
        .filter_map(|sowing| {
            let crop = almanac.crop(&sowing.variety)?;
            let stage = if sowing.standing(date).emerged > 0 {
                TrayStage::Emerging
            } else {
                TrayStage::Sown
            };
            let limits = hazards(crop, stage).into_iter();
            let limit = limits
                .filter(|(hazard, _)| *hazard != Hazard::SeedTooCold)
                .map(|(_, limit)| limit)
                .min_by(f64::total_cmp)?;
            Some((limit, crop.name().to_owned()))
        })
        .min_by(|a, b| a.0.total_cmp(&b.0));
    let mut found = vec![("min_c", Say::new("hint.at_seed"))];
    if let Some((limit, crop)) = most {
        let say = Say::new("hint.warmest")
            .with("at", Arg::Temperature(limit))
            .with("crop", crop);
        found.push(("max_c", say));
    }
    found
}

fn sown(almanac: &Almanac<'_>, f: &SownFact, hints: &mut Hints) {
    if let Some(tray) = f.tray {
        let say = Say::new("hint.trays")
            .with("n", f.cells.div_ceil(tray.cells()).max(1))
            .with("cells", tray.cells());
        hints.push(("cells", say));
    }
    hints.extend(room(almanac, f.space.as_ref(), f.date));
    let range = almanac
        .crop(&f.variety)
        .and_then(|crop| crop.figure("germination_soil_temp_c"));
    let on_mat = f
        .space
        .as_ref()
        .and_then(|id| almanac.space(id))
        .is_some_and(|space| space.what == SpaceKind::Mat);
    if let Some(range) = range.filter(|_| on_mat) {
        let (low, _, high) = range.spread();
        let say = Say::new("hint.seed_temperature")
            .with("low", Arg::Temperature(low))
            .with("high", Arg::Temperature(high));
        hints.push(("tray.what", say));
    }
}

/// How many cells there are, and what the last count said.
fn last_count(almanac: &Almanac<'_>, id: &SowingId, date: NaiveDate) -> Option<Say> {
    let sowing = almanac.season().sowings.get(id)?;
    let last = sowing.counts.iter().rfind(|count| count.date <= date);
    Some(match last {
        Some(last) => Say::new("hint.last_count")
            .with("cells", sowing.standing(date).cells)
            .with("up", last.up)
            .with("date", last.date),
        None => Say::new("hint.cells").with("cells", sowing.standing(date).cells),
    })
}

fn room(
    almanac: &Almanac<'_>,
    space: Option<&SpaceId>,
    date: NaiveDate,
) -> Option<(&'static str, Say)> {
    let id = space?;
    let rooms = trays_on(almanac.season(), date);
    let free = rooms.get(id).and_then(TrayRoom::free)?;
    Some(("space", Say::new("hint.room").with("n", free.max(0))))
}

fn bed_room(
    almanac: &Almanac<'_>,
    bed: &BedId,
    variety: &VarietyId,
    spacing: Option<f64>,
    date: NaiveDate,
) -> Option<(&'static str, Say)> {
    let bed = almanac.bed(bed)?;
    let room = bed_on(almanac, bed, date);
    let spacing = spacing
        .filter(|cm| *cm >= 1.0)
        .unwrap_or_else(|| spacing_cm(almanac, variety));
    let say = Say::new("hint.bed")
        .with("free", Arg::Length(room.free_m()?.max(0.0)))
        .with("n", plants_that_fit(bed, &room, spacing)?)
        .with("spacing", Arg::Spacing(spacing));
    Some(("bed", say))
}

/// A caution when frost may still come after the day.
fn frost(
    almanac: &Almanac<'_>,
    bed: &BedId,
    variety: &VarietyId,
    date: NaiveDate,
) -> Option<(&'static str, Say)> {
    let crop = almanac.crop(variety)?;
    let space = almanac.space_of_bed(bed)?;
    let (earliest, usual) = season::forecast::frost_bound(almanac, crop, Some(space), date)?;
    (date < earliest).then(|| {
        let say = Say::new("hint.frost")
            .with("space", space.name.clone())
            .with("date", usual);
        ("date", say)
    })
}

fn in_stock(almanac: &Almanac<'_>, variety: &VarietyId, date: NaiveDate) -> Say {
    let there: u32 = season::stock::stock(almanac, date)
        .batches
        .iter()
        .filter(|batch| batch.variety == *variety)
        .map(|batch| batch.stems)
        .sum();
    Say::new("hint.stock").with("n", there)
}
