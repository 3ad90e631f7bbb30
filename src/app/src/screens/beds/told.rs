//! Beds and their plantings in words.

use chrono::NaiveDate;
use season::almanac::Almanac;
use season::bed_layout::{BedLayout, layout};
use season::forecast::{BedForecast, Outlook, TrayStage};
use season::ids::{BedId, PlantingId, SowingId, SpaceId};
use season::space::planting_metres;
use season::state::{Bed, Planting, Space};
use season::why::Basis;
use season::words::{Arg, Say};

use super::strip::{Look, Piece, letter, pieces, rows};
use crate::forms::names;

/// A planting in a bed's key.
#[derive(Debug, Clone, PartialEq)]
pub struct PlantingTold {
    /// Which.
    pub id: PlantingId,
    /// Its letter on the strip.
    pub letter: String,
    /// Its variety.
    pub name: Say,
    /// Where it lies, rows, plants, since when.
    pub facts: Say,
    /// When there are stems.
    pub bloom: Say,
    /// What that rests on.
    pub basis: Basis,
}

/// A bed.
#[derive(Debug, Clone, PartialEq)]
pub struct BedTold {
    /// Which.
    pub id: BedId,
    /// Its name.
    pub name: String,
    /// Its size and what is free.
    pub size: Say,
    /// Its strip; none while its length is not said.
    pub strip: Option<Vec<Piece>>,
    /// Length and middle for the measure below the strip, m.
    pub length_m: Option<f64>,
    /// The strip in words.
    pub label: Say,
    /// Its plantings in the order of the strip.
    pub plantings: Vec<PlantingTold>,
}

/// Plants in trays that are meant for a space.
#[derive(Debug, Clone, PartialEq)]
pub struct Waiting {
    /// Which sowing.
    pub id: SowingId,
    /// Its name.
    pub name: Say,
    /// How many, when, and how much bed they take.
    pub note: Say,
    /// When they go out.
    pub date: NaiveDate,
}

/// A tunnel or a field.
#[derive(Debug, Clone, PartialEq)]
pub struct SpaceTold {
    /// Which.
    pub id: SpaceId,
    /// Its kind.
    pub what: season::fact::SpaceKind,
    /// Its name.
    pub name: String,
    /// Beds and metres.
    pub tally: Say,
    /// Its beds in walking order.
    pub beds: Vec<BedTold>,
    /// What is to come into it, soonest first.
    pub waiting: Vec<Waiting>,
}

/// All tunnels and fields in walking order.
pub fn spaces(outlook: &Outlook<'_>) -> Vec<SpaceTold> {
    outlook
        .almanac()
        .season()
        .spaces_in_order()
        .into_iter()
        .filter(|space| space.holds_beds())
        .map(|space| of_space(outlook, space))
        .collect()
}

fn of_space(outlook: &Outlook<'_>, space: &Space) -> SpaceTold {
    let (almanac, today) = (outlook.almanac(), outlook.today());
    let beds = almanac.season().beds_of(&space.id);
    let length: f64 = beds.iter().filter_map(|bed| bed.length_m).sum();
    let free: f64 = beds
        .iter()
        .filter_map(|bed| layout(almanac, bed, today))
        .map(|layout| layout.free_m())
        .sum();
    SpaceTold {
        id: space.id.clone(),
        what: space.what,
        name: space.name.clone(),
        tally: Say::new("beds.tally")
            .with("n", beds.len())
            .with("length", Arg::Length(length))
            .with("free", Arg::Length(free)),
        beds: beds.into_iter().map(|bed| of_bed(outlook, bed)).collect(),
        waiting: waiting(outlook, space),
    }
}

/// The plantings that stand in a bed, those without a place on the strip too.
fn standing<'a>(
    almanac: &Almanac<'a>,
    bed: &Bed,
    laid: Option<&BedLayout>,
    today: NaiveDate,
) -> Vec<&'a Planting> {
    let place = |id: &PlantingId| {
        let stretches = laid.map_or(&[][..], |laid| &laid.stretches);
        stretches.iter().position(|stretch| stretch.planting == *id)
    };
    let mut here: Vec<&Planting> = almanac
        .season()
        .plantings
        .values()
        .filter(|p| p.bed == bed.id && p.date <= today)
        .filter(|p| p.finished.is_none_or(|end| end > today))
        .collect();
    here.sort_by_key(|p| (place(&p.id).unwrap_or(usize::MAX), p.date, p.id.clone()));
    here
}

fn of_bed(outlook: &Outlook<'_>, bed: &Bed) -> BedTold {
    let (almanac, today) = (outlook.almanac(), outlook.today());
    let laid = layout(almanac, bed, today);
    let here = standing(almanac, bed, laid.as_ref(), today);
    let place = |id: &PlantingId| here.iter().position(|p| p.id == *id).unwrap_or(0);
    let look = |planting: &Planting| {
        let cut = outlook
            .supply()
            .beds
            .get(&planting.id)
            .is_some_and(|f| f.cutting);
        if cut || planting.first_colour.is_some() {
            Look::Bloom
        } else {
            Look::Growing
        }
    };
    let strip = laid.as_ref().map(|laid| {
        pieces(laid, |id| match almanac.season().plantings.get(id) {
            Some(planting) => (
                letter(place(id)),
                rows(almanac, bed, planting),
                look(planting),
            ),
            None => (letter(place(id)), 1, Look::Growing),
        })
    });
    BedTold {
        id: bed.id.clone(),
        name: bed.name.clone(),
        size: size(bed, laid.as_ref()),
        strip,
        length_m: laid.as_ref().map(|laid| laid.length_m),
        label: label(almanac, &here, laid.as_ref()),
        plantings: here
            .iter()
            .enumerate()
            .map(|(n, planting)| of_planting(outlook, bed, planting, laid.as_ref(), letter(n)))
            .collect(),
    }
}

fn size(bed: &Bed, laid: Option<&BedLayout>) -> Say {
    let Some(laid) = laid else {
        return Say::new("beds.no_size");
    };
    let over = laid.over_m();
    let say = Say::new(if over > 0.05 {
        "beds.overfull"
    } else {
        "beds.size"
    });
    say.with("length", Arg::Length(laid.length_m))
        .with_some("width", bed.width_m.map(Arg::Length))
        .with("free", Arg::Length(laid.free_m()))
        .with("over", Arg::Length(over))
}

/// "From the beginning: A Chalk spike 0 to 4.8 m, ..."
fn label(almanac: &Almanac<'_>, here: &[&Planting], laid: Option<&BedLayout>) -> Say {
    let Some(laid) = laid.filter(|laid| !laid.stretches.is_empty()) else {
        return Say::new("beds.strip_empty");
    };
    let parts = laid
        .stretches
        .iter()
        .fold(None, |told: Option<Say>, stretch| {
            let place = here.iter().position(|p| p.id == stretch.planting);
            let variety = here.iter().find(|p| p.id == stretch.planting);
            let one = Say::new("beds.strip_part")
                .with("letter", letter(place.unwrap_or(0)))
                .with_some(
                    "name",
                    variety.map(|p| Arg::from(names::variety(almanac, &p.variety))),
                )
                .with("from", Arg::Length(stretch.from_m))
                .with("to", Arg::Length(stretch.to_m));
            Some(match told {
                Some(told) => Say::new("beds.strip_and").with("a", told).with("b", one),
                None => one,
            })
        });
    Say::new("beds.strip").with_some("parts", parts.map(Arg::from))
}

fn of_planting(
    outlook: &Outlook<'_>,
    bed: &Bed,
    planting: &Planting,
    laid: Option<&BedLayout>,
    letter: String,
) -> PlantingTold {
    let almanac = outlook.almanac();
    let own = || {
        laid.into_iter()
            .flat_map(|laid| &laid.stretches)
            .filter(|stretch| stretch.planting == planting.id)
    };
    let from = own().map(|s| s.from_m).reduce(f64::min);
    let to = own().map(|s| s.to_m).reduce(f64::max);
    let spacing = planting
        .spacing_cm
        .unwrap_or_else(|| season::space::spacing_cm(almanac, &planting.variety));
    let (bloom, basis) = bloom(planting, outlook.supply().beds.get(&planting.id));
    PlantingTold {
        id: planting.id.clone(),
        letter,
        name: names::variety(almanac, &planting.variety),
        facts: Say::new(if planting.sowing.is_some() {
            "beds.planted"
        } else {
            "beds.sown"
        })
        .with_some("from", from.map(Arg::Length))
        .with_some("to", to.map(Arg::Length))
        .with_some("rows", bed.width_m.map(|_| rows(almanac, bed, planting)))
        .with("spacing", Arg::Spacing(spacing))
        .with("n", planting.standing())
        .with("date", planting.date),
        bloom,
        basis,
    }
}

/// When there are stems, in one sentence.
pub fn bloom(planting: &Planting, forecast: Option<&BedForecast>) -> (Say, Basis) {
    if let Some(first) = planting.first_cut() {
        let say = Say::new("beds.cut_since")
            .with("date", first)
            .with("n", planting.stems_cut());
        return (say, Basis::Measured);
    }
    match forecast.and_then(|forecast| forecast.bloom) {
        Some(bloom) => {
            let say = Say::new("beds.bloom")
                .with("from", bloom.p10)
                .with("mid", bloom.p50)
                .with("to", bloom.p90);
            (say, Basis::Forecast)
        }
        None => (Say::new("beds.no_bloom"), Basis::Assumed),
    }
}

fn waiting(outlook: &Outlook<'_>, space: &Space) -> Vec<Waiting> {
    let (almanac, today) = (outlook.almanac(), outlook.today());
    let usual = almanac.season().spaces_in_order();
    let width = usual
        .iter()
        .filter(|s| s.id == space.id)
        .flat_map(|s| almanac.season().beds_of(&s.id))
        .find_map(|bed| bed.width_m);
    let mut found: Vec<Waiting> = outlook
        .supply()
        .trays
        .values()
        .filter(|tray| tray.space.as_ref() == Some(&space.id) && tray.stage != TrayStage::Ended)
        .filter_map(|tray| {
            let sowing = almanac.season().sowings.get(&tray.sowing)?;
            let window = tray.plant?;
            let plants = tray.plants.p50.round().max(0.0) as u32;
            let spacing = season::space::spacing_cm(almanac, &sowing.variety);
            let metres = width.map(|width| {
                agronomy::spacing::bed_metres_for(
                    plants,
                    agronomy::quantity::Metres(width),
                    agronomy::quantity::Metres(spacing / 100.0),
                )
                .0
            });
            Some(Waiting {
                id: sowing.id.clone(),
                name: names::variety(almanac, &sowing.variety),
                note: Say::new("beds.waiting_note")
                    .with("n", plants)
                    .with("date", window.best.max(today))
                    .with_some("metres", metres.map(Arg::Length)),
                date: window.best,
            })
        })
        .collect();
    found.sort_by_key(|waiting| (waiting.date, waiting.id.clone()));
    found
}

/// Metres of a bed that a planting takes up, in words; nothing while the bed's width is not said.
pub fn metres(almanac: &Almanac<'_>, planting: &Planting) -> Option<Arg> {
    let bed = almanac.bed(&planting.bed)?;
    let metres = planting_metres(almanac, bed, planting);
    (metres > 0.0).then_some(Arg::Length(metres))
}
