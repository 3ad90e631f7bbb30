//! What the fields of an entry may hold. Beyond it an entry is kept and told as a problem, and has no effect: a slip of the
//! keyboard on another device must not sow four thousand million cells here. The published schema says the same ranges.

use core::fmt::Display;
use core::ops::RangeInclusive;
use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};

use super::{Fact, Figures, Learned, OrderLine, OrderPieces, Tray, Wanted};
use crate::limits::*;

/// A field beyond its range.
#[derive(Debug, PartialEq)]
pub(crate) struct OutOfRange {
    /// The field, as written in files.
    pub field: &'static str,
    /// What is wrong with it, for developers.
    pub why: String,
}

type Checked = Result<(), OutOfRange>;

fn fault(field: &'static str, why: String) -> Checked {
    Err(OutOfRange { field, why })
}

fn within<T: PartialOrd + Display>(
    field: &'static str,
    value: impl Into<Option<T>>,
    range: RangeInclusive<T>,
) -> Checked {
    match value.into() {
        Some(value) if !range.contains(&value) => fault(
            field,
            format!("{value} is not from {} to {}", range.start(), range.end()),
        ),
        _ => Ok(()),
    }
}

fn day(field: &'static str, date: impl Into<Option<NaiveDate>>) -> Checked {
    within(field, date.into().map(|date| date.year()), YEARS)
}

fn short(field: &'static str, text: Option<&str>, length_max: usize) -> Checked {
    match text {
        Some(text) if text.chars().count() > length_max => {
            fault(field, format!("longer than {length_max} characters"))
        }
        _ => Ok(()),
    }
}

fn one_named(sowing: bool, planting: bool) -> Checked {
    if sowing == planting {
        fault("sowing", "not exactly one of sowing and planting".into())
    } else {
        Ok(())
    }
}

fn year_of_degrees(field: &'static str, months: Option<&[f64; 12]>) -> Checked {
    months
        .into_iter()
        .flatten()
        .try_for_each(|t| within(field, *t, DEGREES_C))
}

fn grid(tray: Option<Tray>) -> Checked {
    within("rows", tray.map(|t| t.rows), 1..=TRAY_SIDE_MAX)?;
    within("columns", tray.map(|t| t.columns), 1..=TRAY_SIDE_MAX)
}

fn figures(figures: &Figures) -> Checked {
    figures.iter().try_for_each(|(name, value)| {
        short("figures", Some(name), NAME_LENGTH_MAX)?;
        within("figures", *value, -FIGURE_MAX..=FIGURE_MAX)
    })
}

fn learned(figures: &BTreeMap<String, Option<Learned>>) -> Checked {
    figures.iter().try_for_each(|(name, learned)| {
        short("learned", Some(name), NAME_LENGTH_MAX)?;
        let Some(learned) = learned else {
            return Ok(());
        };
        for value in [learned.value, learned.low, learned.high] {
            within("learned", value, -FIGURE_MAX..=FIGURE_MAX)?;
        }
        within("plantings", learned.plantings, 0..=PLANTS_MAX)?;
        within("seasons", learned.seasons, 0..=SEASONS_MAX)?;
        day("until", learned.until)
    })
}

fn stems_wanted(wanted: Option<&Wanted>) -> Checked {
    short(
        "crop",
        wanted.and_then(|w| w.crop.as_deref()),
        ID_LENGTH_MAX,
    )?;
    short(
        "colour",
        wanted.and_then(|w| w.colour.as_deref()),
        NAME_LENGTH_MAX,
    )
}

fn lines(lines: Option<&[OrderLine]>) -> Checked {
    lines.into_iter().flatten().try_for_each(|line| {
        stems_wanted(Some(&line.wanted))?;
        within("stems", line.stems, 0..=STEMS_MAX)?;
        within("per", line.per, 1..=STEMS_MAX)
    })
}

fn pieces(pieces: Option<&[OrderPieces]>) -> Checked {
    pieces
        .into_iter()
        .flatten()
        .try_for_each(|p| within("pieces", p.pieces, 0..=STEMS_MAX))
}

impl Fact {
    /// What is wrong with the first field that is beyond its range.
    pub(crate) fn check(&self) -> Checked {
        self.check_definition()?;
        self.check_event()?;
        day("date", self.date())
    }

    /// The fact if its fields are within their ranges.
    pub(super) fn or_unreadable(self) -> Self {
        match self.check() {
            Ok(()) => self,
            Err(OutOfRange { field, why }) => Self::Unreadable(format!("{field}: {why}")),
        }
    }

    fn check_definition(&self) -> Checked {
        let name = |text: &Option<String>| short("name", text.as_deref(), NAME_LENGTH_MAX);
        match self {
            Self::Device(f) => short("name", Some(&f.name), NAME_LENGTH_MAX),
            Self::Place(f) => {
                name(&f.name)?;
                within("latitude", f.latitude, -90.0..=90.0)?;
                year_of_degrees("tmin", f.tmin.as_ref())?;
                year_of_degrees("tmax", f.tmax.as_ref())?;
                short("currency", f.currency.as_deref(), CURRENCY_LENGTH_MAX)?;
                within("buy_in_days", f.buy_in_days, BUY_IN_DAYS)?;
                within("promise_share", f.promise_share, PROMISE_SHARES)
            }
            Self::Space(f) => {
                name(&f.name)?;
                within("room", f.room, 0..=TRAYS_MAX)?;
                within("frost_risk", f.frost_risk, 0.0..=1.0)?;
                within("ppfd", f.ppfd, PPFDS)?;
                within("lamp_hours", f.lamp_hours, 0.0..=24.0)
            }
            Self::Bed(f) => {
                name(&f.name)?;
                within("length_m", f.length_m, 0.0..=BED_LENGTH_M_MAX)?;
                within("width_m", f.width_m, 0.0..=BED_WIDTH_M_MAX)
            }
            Self::Crop(f) => {
                short("of", Some(&f.of), ID_LENGTH_MAX)?;
                figures(&f.figures)
            }
            Self::Variety(f) => {
                name(&f.name)?;
                short("crop", f.crop.as_deref(), ID_LENGTH_MAX)?;
                short("colour", f.colour.as_deref(), NAME_LENGTH_MAX)?;
                within("group", f.group, 0..=BLOOM_GROUP_MAX)?;
                within("packet_seeds", f.packet_seeds, 1..=SEEDS_MAX)?;
                within("packet_price", f.packet_price, PACKET_PRICES)?;
                learned(&f.learned)?;
                figures(&f.figures)
            }
            Self::SeedLot(f) => {
                name(&f.name)?;
                within("year", f.year, YEARS)?;
                within("seeds", f.seeds, 0..=SEEDS_MAX)?;
                within("germination", f.germination, 0.0..=1.0)
            }
            Self::Target(f) => {
                stems_wanted(f.wanted.as_ref())?;
                within("from", f.from.map(|week| week.year()), YEARS)?;
                within("to", f.to.map(|week| week.year()), YEARS)?;
                within("stems", f.stems, 0..=STEMS_MAX)?;
                within("chance", f.chance, CHANCES)
            }
            Self::Order(f) => {
                short("who", f.who.as_deref(), NAME_LENGTH_MAX)?;
                day("date", f.date)?;
                within("every_days", f.every_days, 0..=EVERY_DAYS_MAX)?;
                day("until", f.until)?;
                lines(f.lines.as_deref())?;
                pieces(f.pieces.as_deref())
            }
            Self::Recipe(f) => {
                name(&f.name)?;
                lines(f.lines.as_deref())
            }
            Self::Season(f) => {
                name(&f.name)?;
                day("from", f.from)
            }
            Self::Planned(f) => {
                day("sow", f.sow)?;
                within("cells", f.cells, 0..=CELLS_MAX)?;
                within("plants", f.plants, 0..=PLANTS_MAX)
            }
            _ => Ok(()),
        }
    }

    fn check_event(&self) -> Checked {
        match self {
            Self::Sown(f) => {
                within("cells", f.cells, 0..=CELLS_MAX)?;
                within("seeds_per_cell", f.seeds_per_cell, 1..=SEEDS_PER_CELL_MAX)?;
                grid(f.tray)?;
                within("number", f.number, TRAY_NUMBERS)?;
                short("label", f.label.as_deref(), NAME_LENGTH_MAX)
            }
            Self::DirectSown(f) => {
                within("plants", f.plants, 0..=PLANTS_MAX)?;
                within("spacing_cm", f.spacing_cm, SPACINGS_CM)
            }
            Self::Counted(f) => {
                within("up", f.up, 0..=CELLS_MAX)?;
                within("of", f.of, 1..=CELLS_MAX)?;
                within("doubles", f.doubles, 0..=CELLS_MAX)?;
                short("map", f.map.as_deref(), MAP_LENGTH_MAX)
            }
            Self::Lost(f) => {
                one_named(f.sowing.is_some(), f.planting.is_some())?;
                within("number", f.number, 0..=PLANTS_MAX)?;
                within("up", f.up, 0..=PLANTS_MAX)?;
                within("tray", f.tray, 1..=CELLS_MAX)
            }
            Self::PrickedOut(f) => within("cells", f.cells, 0..=CELLS_MAX),
            Self::PottedOn(f) => grid(f.tray),
            Self::Transplanted(f) => {
                within("plants", f.plants, 0..=PLANTS_MAX)?;
                within("spacing_cm", f.spacing_cm, SPACINGS_CM)
            }
            Self::Watered(f) => one_named(f.sowing.is_some(), f.planting.is_some()),
            Self::Fed(f) => one_named(f.sowing.is_some(), f.planting.is_some()),
            Self::Finished(f) => one_named(f.sowing.is_some(), f.planting.is_some()),
            Self::Temperature(f) => {
                within("min_c", f.min_c, DEGREES_C)?;
                within("max_c", f.max_c, DEGREES_C)?;
                within("mean_c", f.mean_c, DEGREES_C)
            }
            Self::Frost(f) => within("min_c", f.min_c, DEGREES_C),
            Self::Cut(f) => {
                within("stems", f.stems, 0..=STEMS_MAX)?;
                within("culls", f.culls, 0..=STEMS_MAX)
            }
            Self::Bunched(f) => {
                within("bunches", f.bunches, 0..=STEMS_MAX)?;
                within("stems_each", f.stems_each, 0..=STEMS_MAX)
            }
            Self::Discarded(f) => within("stems", f.stems, 0..=STEMS_MAX),
            Self::Sold(f) => {
                day("due", f.due)?;
                within("stems", f.stems, 0..=STEMS_MAX)
            }
            Self::BoughtIn(f) => within("stems", f.stems, 0..=STEMS_MAX),
            Self::Allocated(f) => {
                day("due", f.due)?;
                within("stems", f.stems, 0..=STEMS_MAX)
            }
            Self::HandedOver(f) => day("due", f.due),
            Self::Warmed(f) => {
                day("cut", f.cut)?;
                within("hours", f.hours, HOURS_WARM)?;
                within("temp_c", f.temp_c, DEGREES_C)
            }
            Self::LowExpected(f) => within("min_c", f.min_c, DEGREES_C),
            Self::Covered(f) => one_named(f.sowing.is_some(), f.planting.is_some()),
            Self::Note(f) => {
                short("about", f.about.as_deref(), ID_LENGTH_MAX)?;
                short("text", Some(&f.text), NOTE_LENGTH_MAX)
            }
            _ => Ok(()),
        }
    }
}
