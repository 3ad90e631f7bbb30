//! How a variety, a tray, a planting, a bed is called in one line.

use season::almanac::Almanac;
use season::fact::CellKind;
use season::ids::{BedId, PlantingId, SowingId, SpaceId, VarietyId};
use season::state::Sowing;
use season::words::{Arg, Say};

/// Letters that fit a slot.
const SLOT_LETTERS: usize = 5;

/// A variety: name, colour where the name does not say it, bloom group.
pub fn variety(almanac: &Almanac<'_>, id: &VarietyId) -> Say {
    let name = almanac.variety_name(id);
    let found = almanac.variety(id);
    let colour = found
        .map(|v| v.colour.clone())
        .filter(|colour| !colour.is_empty() && !contains(&name, colour));
    // Where the grower's name does not say the crop, the crop stands behind it.
    let crop = almanac
        .crop(id)
        .map(|crop| crop.name().to_owned())
        .filter(|crop| !contains(&name, crop));
    Say::new("name.variety")
        .with("name", name)
        .with_some("crop", crop)
        .with_some("colour", colour)
        .with_some("group", found.and_then(|v| v.group))
}

fn contains(text: &str, part: &str) -> bool {
    text.to_lowercase().contains(&part.to_lowercase())
}

/// What a sowing was sown into: "60 soil blocks".
pub fn cells(sowing: &Sowing) -> Say {
    cells_of(sowing, sowing.cells)
}

/// So many of a sowing's cells: "30 soil blocks".
pub fn cells_of(sowing: &Sowing, n: u32) -> Say {
    let what = match sowing.tray.map(|tray| tray.what) {
        Some(CellKind::Block) => "name.cells.block",
        Some(CellKind::Pot) => "name.cells.pot",
        Some(CellKind::Plug | CellKind::Open) | None => "name.cells",
    };
    Say::new(what).with("n", n)
}

/// A sowing's number as an argument: digits and nothing between them, as it is called and written on a stake.
pub fn number(sowing: &Sowing) -> Option<String> {
    sowing.number.map(|number| number.to_string())
}

/// A sowing: its number, its variety, its cells, what stands on its label.
pub fn sowing(almanac: &Almanac<'_>, id: &SowingId) -> Say {
    match almanac.season().sowings.get(id) {
        Some(found) => Say::new("name.sowing")
            .with_some("number", number(found))
            .with("variety", variety(almanac, &found.variety))
            .with("cells", cells(found))
            .with_some("label", found.label.clone())
            .with("date", found.date),
        None => Say::new("check.sowing_missing"),
    }
}

/// A sowing in so few letters that they fit a slot: its number, else its label, else how its variety begins.
pub fn slot(almanac: &Almanac<'_>, id: &SowingId) -> String {
    let Some(found) = almanac.season().sowings.get(id) else {
        return String::new();
    };
    match (&found.number, &found.label) {
        (Some(number), _) => number.to_string(),
        (None, Some(label)) if label.chars().count() <= SLOT_LETTERS => label.clone(),
        _ => almanac
            .variety_name(&found.variety)
            .chars()
            .take(SLOT_LETTERS)
            .collect(),
    }
}

/// A planting: its variety and its bed.
pub fn planting(almanac: &Almanac<'_>, id: &PlantingId) -> Say {
    match almanac.season().plantings.get(id) {
        Some(found) => Say::new("name.planting")
            .with("variety", variety(almanac, &found.variety))
            .with("bed", bed(almanac, &found.bed))
            .with("n", found.standing()),
        None => Say::new("check.planting_missing"),
    }
}

/// A bed, with its space where the name does not say it.
pub fn bed(almanac: &Almanac<'_>, id: &BedId) -> Say {
    let name = almanac.bed(id).map(|bed| bed.name.clone());
    let space = almanac.space_of_bed(id).map(|space| space.name.clone());
    match (name, space) {
        (Some(name), Some(space)) if !contains(&name, &space) => {
            Say::new("name.bed").with("space", space).with("bed", name)
        }
        (Some(name), _) => Say::new("name.plain").with("name", name),
        (None, _) => Say::new("name.no_bed"),
    }
}

/// A space.
pub fn space(almanac: &Almanac<'_>, id: &SpaceId) -> Say {
    match almanac.space(id) {
        Some(space) => Say::new("name.plain").with("name", space.name.clone()),
        None => Say::new("name.no_space"),
    }
}

/// A space as an argument, where there is one.
pub fn space_arg(almanac: &Almanac<'_>, id: Option<&SpaceId>) -> Option<Arg> {
    id.map(|id| space(almanac, id).into())
}
