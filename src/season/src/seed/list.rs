//! The order as a list to hand on: as plain text, and as a table for a spreadsheet.

use crate::almanac::Almanac;
use crate::ids::*;
use crate::seed::{SeedLine, SeedOrder};
use crate::spreadsheet;
use crate::words::{Manner, Say, text};

/// An amount of the grower's own money, to the hundredth: which money, the grower knows.
pub fn money(amount: f64) -> String {
    format!("{amount:.2}")
}

/// A variety's name with its colour and crop.
fn named(almanac: &Almanac<'_>, variety: &VarietyId) -> Say {
    let colour = almanac.variety(variety).map(|v| v.colour.clone());
    let name = almanac.variety_name(variety);
    let crop = almanac.crop(variety).map(|crop| crop.name().to_owned());
    Say::new("seed.list.variety")
        .with("name", name.clone())
        .with_some("crop", crop.filter(|crop| *crop != name))
        .with_some("colour", colour.filter(|colour| !colour.is_empty()))
}

/// What is to be ordered, a line a variety, and the totals. Varieties with enough seed are left out.
pub fn as_text(almanac: &Almanac<'_>, order: &SeedOrder, manner: Manner) -> String {
    let mut lines = vec![text("seed.title").to_owned(), String::new()];
    let to_order = order.lines.iter().filter(|line| line.to_order.value > 0);
    lines.extend(to_order.map(|line| told(almanac, line).write(manner)));
    if lines.len() == 2 {
        lines.push(text("seed.list.nothing").to_owned());
        return lines.join("\n");
    }
    let totals = &order.totals;
    let say = Say::new("seed.total")
        .with("seeds", totals.seeds)
        .with_some("packets", (totals.packets > 0).then_some(totals.packets))
        .with_some("cost", totals.cost.map(money));
    lines.extend([String::new(), say.write(manner)]);
    let without = totals.without_price.len();
    if without > 0 {
        let say = Say::new("seed.without_price").with("n", without);
        lines.push(say.write(manner));
    }
    lines.join("\n")
}

fn told(almanac: &Almanac<'_>, line: &SeedLine) -> Say {
    let what = named(almanac, &line.variety);
    match &line.packets {
        Some(packets) => Say::new("seed.list.packets")
            .with("what", what)
            .with("n", packets.number)
            .with("size", packets.size)
            .with_some("cost", packets.cost().map(money)),
        None => Say::new("seed.list.seeds")
            .with("what", what)
            .with("n", line.to_order.value),
    }
}

/// Header keys of the table, in the order of its columns.
const COLUMNS: [&str; 13] = [
    "seed.csv.variety",
    "seed.csv.crop",
    "seed.csv.colour",
    "seed.csv.needed",
    "seed.csv.spare",
    "seed.csv.in_hand",
    "seed.csv.usable",
    "seed.csv.to_order",
    "seed.csv.packet",
    "seed.csv.packets",
    "seed.csv.price",
    "seed.csv.cost",
    "seed.csv.left_over",
];

/// All lines as a table for a spreadsheet. A cell is empty where the figure is not known.
pub fn as_csv(almanac: &Almanac<'_>, order: &SeedOrder) -> String {
    let header = COLUMNS.map(|key| text(key).to_owned()).to_vec();
    let rows = order.lines.iter().map(|line| row(almanac, line));
    spreadsheet::write(core::iter::once(header).chain(rows))
}

fn row(almanac: &Almanac<'_>, line: &SeedLine) -> Vec<String> {
    let count = |n: Option<u32>| n.map(|n| n.to_string()).unwrap_or_default();
    let amount = |n: Option<f64>| n.map(money).unwrap_or_default();
    let variety = almanac.variety(&line.variety);
    let in_hand = line
        .lots
        .iter()
        .filter_map(|lot| lot.left)
        .reduce(u32::saturating_add);
    vec![
        almanac.variety_name(&line.variety),
        almanac
            .crop(&line.variety)
            .map(|crop| crop.name().to_owned())
            .unwrap_or_default(),
        variety.map(|v| v.colour.clone()).unwrap_or_default(),
        line.needed.value.to_string(),
        line.spare.to_string(),
        count(in_hand),
        line.usable.value.to_string(),
        line.to_order.value.to_string(),
        count(variety.and_then(|v| v.packet_seeds)),
        count(line.packets.map(|packets| packets.number)),
        amount(variety.and_then(|v| v.packet_price)),
        amount(line.packets.and_then(|packets| packets.cost())),
        count(line.left_over),
    ]
}
