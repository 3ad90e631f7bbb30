//! Objections to what happened.

use chrono::NaiveDate;

use super::{Objections, cooler};
use crate::almanac::Almanac;
use crate::fact::*;
use crate::forecast::stem_figures;
use crate::ids::*;
use crate::limits::*;
use crate::space::{TrayRoom, bed_on, plants_that_fit, spacing_cm, trays_on};
use crate::state::{Planting, Sowing};
use crate::tray_number::standing_with;
use crate::words::{Arg, Say};

pub(super) fn check(almanac: &Almanac<'_>, fact: &Fact, found: &mut Objections) {
    let season = almanac.season();
    match fact {
        Fact::Sown(f) => {
            if !season.varieties.contains_key(&f.variety) {
                found.refuse("variety", Say::new("check.variety_missing"));
            }
            let trays = f
                .tray
                .map_or(1, |tray| f.cells.div_ceil(tray.cells()).max(1));
            room(almanac, f.space.as_ref(), trays, f.date, found);
            number(almanac, f.number, found);
        }
        Fact::DirectSown(f) => {
            bed(
                almanac,
                &f.bed,
                &f.variety,
                f.plants,
                f.spacing_cm,
                f.date,
                found,
            );
        }
        Fact::Counted(f) => {
            let Some(sowing) = sowing(almanac, &f.sowing, f.date, found) else {
                return;
            };
            let there = sowing.standing(f.date).cells;
            let of = f.of.unwrap_or(there);
            if f.up > of || f.up > there {
                let say = Say::new("check.more_up")
                    .with("up", f.up)
                    .with("of", of.min(there));
                found.refuse("up", say);
            }
            if let Some(doubles) = f.doubles.filter(|doubles| *doubles > f.up) {
                let say = Say::new("check.more_doubles")
                    .with("n", doubles)
                    .with("up", f.up);
                found.refuse("doubles", say);
            }
            let before = sowing.standing(f.date).surely_up();
            if f.of.is_none() && !f.about && f.up < before {
                found.ask(
                    "up",
                    Say::new("check.fewer_up")
                        .with("up", f.up)
                        .with("before", before),
                );
            }
        }
        Fact::Moved(f) => {
            let Some(sowing) = sowing(almanac, &f.sowing, f.date, found) else {
                return;
            };
            room(almanac, Some(&f.space), sowing.trays(), f.date, found);
        }
        Fact::MatOff(f) => {
            let Some(sowing) = sowing(almanac, &f.sowing, f.date, found) else {
                return;
            };
            room(almanac, f.space.as_ref(), sowing.trays(), f.date, found);
        }
        Fact::DomeLifted(f) => {
            sowing(almanac, &f.sowing, f.date, found);
        }
        Fact::Lost(f) => match (&f.sowing, &f.planting) {
            (Some(id), None) => {
                let Some(sowing) = sowing(almanac, id, f.date, found) else {
                    return;
                };
                let now = sowing.standing(f.date);
                let there = now.up.unwrap_or(now.cells);
                let gone = f
                    .tray
                    .filter(|tray| sowing.trays_lost(f.date).any(|lost| lost == *tray));
                if let Some(tray) = gone {
                    found.refuse("tray", Say::new("check.tray_lost").with("n", tray));
                } else if f.number > now.cells {
                    found.refuse(
                        "number",
                        Say::new("check.more_lost")
                            .with("n", f.number)
                            .with("there", now.cells),
                    );
                } else if f.up.is_none() && f.number > there {
                    found.ask(
                        "number",
                        Say::new("check.lost_unseen")
                            .with("n", f.number)
                            .with("there", there),
                    );
                }
            }
            (None, Some(id)) => {
                let Some(planting) = planting(almanac, id, f.date, found) else {
                    return;
                };
                if f.number > planting.standing() {
                    found.refuse(
                        "number",
                        Say::new("check.more_lost")
                            .with("n", f.number)
                            .with("there", planting.standing()),
                    );
                }
            }
            _ => found.refuse("number", Say::new("check.nothing_named")),
        },
        Fact::PrickedOut(f) => {
            let Some(sowing) = sowing(almanac, &f.sowing, f.date, found) else {
                return;
            };
            let now = sowing.standing(f.date);
            let empty = now.cells.saturating_sub(now.up.unwrap_or(0));
            if f.cells > empty {
                found.refuse("cells", Say::new("check.no_empty_cells").with("n", empty));
            }
        }
        Fact::PottedOn(f) => {
            sowing(almanac, &f.sowing, f.date, found);
        }
        Fact::Hardening(f) => {
            let Some(sowing) = sowing(almanac, &f.sowing, f.date, found) else {
                return;
            };
            room(almanac, f.space.as_ref(), sowing.trays(), f.date, found);
        }
        Fact::Transplanted(f) => {
            let Some(sowing) = sowing(almanac, &f.sowing, f.date, found) else {
                return;
            };
            let now = sowing.standing(f.date);
            let there = now.up.unwrap_or(now.cells);
            if f.plants > now.cells {
                found.refuse(
                    "plants",
                    Say::new("check.more_planted")
                        .with("n", f.plants)
                        .with("there", now.cells),
                );
            } else if f.plants > there {
                found.ask(
                    "plants",
                    Say::new("check.more_planted")
                        .with("n", f.plants)
                        .with("there", there),
                );
            }
            bed(
                almanac,
                &f.bed,
                &sowing.variety,
                f.plants,
                f.spacing_cm,
                f.date,
                found,
            );
        }
        Fact::Pinched(f) => {
            planting(almanac, &f.planting, f.date, found);
        }
        Fact::Netted(f) => {
            planting(almanac, &f.planting, f.date, found);
        }
        Fact::Seen(f) => {
            planting(almanac, &f.planting, f.date, found);
        }
        Fact::Cut(f) => cut(almanac, f, found),
        Fact::Temperature(f) => {
            if f.min_c > f.max_c {
                found.refuse("min_c", Say::new("check.temperature_upside_down"));
            }
        }
        Fact::Covered(f) => {
            if let Some(id) = &f.sowing {
                sowing(almanac, id, f.date, found);
            }
            if let Some(id) = &f.planting {
                planting(almanac, id, f.date, found);
            }
        }
        Fact::Disbudded(f) => {
            planting(almanac, &f.planting, f.date, found);
        }
        Fact::Note(f) => {
            if f.text.trim().is_empty() {
                found.refuse("text", Say::new("check.note_empty"));
            } else if f.text.chars().count() > NOTE_LENGTH_MAX {
                found.refuse(
                    "text",
                    Say::new("check.note_long").with("most", NOTE_LENGTH_MAX),
                );
            }
        }
        _ => cooler::check(almanac, fact, found),
    }
}

/// A number that a tray on the bench goes by is more likely a slip than wanted.
fn number(almanac: &Almanac<'_>, number: Option<u32>, found: &mut Objections) {
    let Some(number) = number else { return };

    if let Some(other) = standing_with(almanac.season(), number) {
        found.ask(
            "number",
            Say::new("check.number_taken")
                .with("number", number.to_string())
                .with("name", almanac.variety_name(&other.variety))
                .with("date", other.date),
        );
    }
}

fn sowing<'a>(
    almanac: &Almanac<'a>,
    id: &SowingId,
    date: NaiveDate,
    found: &mut Objections,
) -> Option<&'a Sowing> {
    let sowing = almanac.season().sowings.get(id);
    match sowing {
        None => found.refuse("sowing", Say::new("check.sowing_missing")),
        Some(sowing) if date < sowing.date => {
            found.refuse(
                "date",
                Say::new("check.before_sowing")
                    .with("date", date)
                    .with("sown", sowing.date),
            );
        }
        Some(_) => {}
    }
    sowing
}

fn planting<'a>(
    almanac: &Almanac<'a>,
    id: &PlantingId,
    date: NaiveDate,
    found: &mut Objections,
) -> Option<&'a Planting> {
    let planting = almanac.season().plantings.get(id);
    match planting {
        None => found.refuse("planting", Say::new("check.planting_missing")),
        Some(planting) if date < planting.date => {
            found.refuse(
                "date",
                Say::new("check.before_planting")
                    .with("date", date)
                    .with("planted", planting.date),
            );
        }
        Some(_) => {}
    }
    planting
}

fn room(
    almanac: &Almanac<'_>,
    space: Option<&SpaceId>,
    trays: u32,
    date: NaiveDate,
    found: &mut Objections,
) {
    let Some(space) = space.and_then(|id| almanac.space(id)) else {
        return;
    };
    let rooms = trays_on(almanac.season(), date);
    let free = rooms.get(&space.id).and_then(TrayRoom::free);
    if let Some(free) = free.filter(|free| *free < i64::from(trays)) {
        found.ask(
            "space",
            Say::new("check.space_full")
                .with("space", space.name.clone())
                .with("n", free.max(0))
                .with("trays", trays),
        );
    }
}

fn bed(
    almanac: &Almanac<'_>,
    id: &BedId,
    variety: &VarietyId,
    plants: u32,
    spacing: Option<f64>,
    date: NaiveDate,
    found: &mut Objections,
) {
    let Some(bed) = almanac.bed(id) else {
        return found.refuse("bed", Say::new("check.bed_missing"));
    };
    if let Some((from, to)) = bed.use_span().filter(|_| !bed.in_use(date)) {
        found.ask(
            "date",
            Say::new("check.bed_not_in_use")
                .with("bed", bed.name.clone())
                .with("from", from)
                .with("to", to)
                .with("date", date),
        );
    }
    let spacing = spacing
        .filter(|cm| SPACINGS_CM.range().contains(cm))
        .unwrap_or_else(|| spacing_cm(almanac, variety));
    let fit = plants_that_fit(bed, &bed_on(almanac, bed, date), spacing);
    if let Some(fit) = fit.filter(|fit| *fit < plants) {
        found.ask(
            "plants",
            Say::new("check.bed_full")
                .with("bed", bed.name.clone())
                .with("n", fit)
                .with("spacing", Arg::Spacing(spacing)),
        );
    }
}

fn cut(almanac: &Almanac<'_>, f: &CutFact, found: &mut Objections) {
    if f.stems == 0 && f.culls == 0 {
        found.refuse("stems", Say::new("check.cut_nothing"));
    }
    let Some(planting) = planting(almanac, &f.planting, f.date, found) else {
        return;
    };
    if planting.finished.is_some_and(|end| f.date > end) {
        found.ask("date", Say::new("check.cut_after_end"));
    }
    // More than twice the season's stems of the best plants is more likely a slip of the finger than a harvest.
    let per_plant = almanac
        .crop(&planting.variety)
        .and_then(|crop| crop.figure("stems_per_plant_season"));
    let cover = almanac.cover(almanac.space_of_bed(&planting.bed));
    let known = almanac
        .crop(&planting.variety)
        .and_then(|crop| stem_figures(crop, cover))
        .is_some();
    if let Some(high) = per_plant.filter(|_| known).map(|range| range.spread().2) {
        let most = f64::from(planting.plants) * high * 2.0;
        let all = f64::from(planting.stems_cut()) + f64::from(f.stems) + f64::from(f.culls);
        if all > most {
            found.ask(
                "stems",
                Say::new("check.cut_much")
                    .with("n", Arg::Number(all as i64))
                    .with("plants", planting.plants)
                    .with("most", Arg::Number(most.round() as i64)),
            );
        }
    }
}
