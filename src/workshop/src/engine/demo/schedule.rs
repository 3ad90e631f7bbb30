//! What is sown when, where it stands, and where it is planted.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use season::fact::*;
use season::ids::*;

use super::super::Trouble;
use super::beds::Set;
use super::book::{Book, Device};
use super::set_up::Farm;
use super::{day, today};

/// What went otherwise than usual with a sowing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Odd {
    /// Nothing.
    Usual,
    /// Colder mix: so many times as long until seedlings came.
    Slow(f64),
    /// Plants lost at once on a day.
    Lost(NaiveDate, u32, LossCause),
    /// A count was first written down wrongly, then corrected.
    Miscounted,
    /// Moved into pots on a day.
    PottedOn(NaiveDate),
    /// Doubles pricked out into empty cells, so many on a day.
    PrickedOut(NaiveDate, u32),
}

/// One sowing into trays.
#[derive(Debug, Clone, Copy)]
pub struct Row {
    /// Number of the planned sowing that it carries out; a second sowing for the same one shares it.
    pub plan: u32,
    /// Variety.
    pub variety: &'static str,
    /// The target it is for.
    target: &'static str,
    /// Sown.
    pub sow: NaiveDate,
    /// Whole trays.
    trays: u32,
    /// The tray's grid.
    pub tray: Tray,
    /// Where it stands first.
    pub from: &'static str,
    /// The shelf it grows on.
    pub shelf: &'static str,
    /// Planted, or to be.
    pub plant: NaiveDate,
    /// Into which bed.
    pub bed: &'static str,
    /// What went otherwise.
    pub odd: Odd,
}

impl Row {
    /// Cells sown.
    pub fn cells(&self) -> u32 {
        self.trays * self.tray.cells()
    }

    /// The space of its bed.
    pub fn space(&self) -> &'static str {
        if self.bed.starts_with("Tunnel") {
            "Tunnel"
        } else {
            "Long field"
        }
    }
}

const fn tray(what: CellKind, rows: u32, columns: u32) -> Tray {
    Tray {
        what,
        rows,
        columns,
    }
}

/// 60 soil blocks on a standard tray.
const B60: Tray = tray(CellKind::Block, 6, 10);
/// 72 plug cells.
const P72: Tray = tray(CellKind::Plug, 6, 12);
/// 128 plug cells.
const P128: Tray = tray(CellKind::Plug, 8, 16);

const MAT: &str = "Heat mat";
const UPPER: &str = "Upper shelf";
const LOWER: &str = "Lower shelf";

type Md = (u32, u32);

#[allow(
    clippy::too_many_arguments,
    reason = "one line of a table, read across"
)]
fn row(
    plan: u32,
    variety: &'static str,
    target: &'static str,
    sow: Md,
    (trays, tray): (u32, Tray),
    (from, shelf): (&'static str, &'static str),
    plant: Md,
    bed: &'static str,
) -> Row {
    Row {
        plan,
        variety,
        target,
        sow: day(2027, sow.0, sow.1),
        trays,
        tray,
        from,
        shelf,
        plant: day(2027, plant.0, plant.1),
        bed,
        odd: Odd::Usual,
    }
}

/// All tray sowings of the season, those to come included.
#[rustfmt::skip]
pub fn rows() -> Vec<Row> {
    let odd = |row: Row, odd: Odd| Row { odd, ..row };
    vec![
        row(1, "Pale open cup", "focal", (1, 8), (2, B60), (MAT, UPPER), (4, 5), "Tunnel west"),
        row(2, "Chalk spike", "white spike", (1, 30), (2, B60), (MAT, UPPER), (3, 27), "Tunnel west"),
        odd(row(3, "Brick spike", "spike", (1, 30), (1, B60), (MAT, UPPER), (3, 27), "Tunnel west"),
            Odd::Lost(day(2027, 2, 24), 10, LossCause::DriedOut)),
        row(4, "Chalk spike", "white spike", (2, 17), (1, B60), (MAT, LOWER), (4, 17), "Field 1"),
        row(5, "Brick spike", "spike", (2, 17), (1, B60), (MAT, LOWER), (4, 17), "Field 1"),
        odd(row(6, "Pale open cup", "focal", (2, 20), (1, B60), (MAT, LOWER), (5, 8), "Tunnel west"), Odd::Slow(1.15)),
        odd(row(7, "Linen upright", "secondary", (2, 27), (1, P128), (MAT, LOWER), (4, 3), "Tunnel middle"),
            Odd::Lost(day(2027, 3, 9), 70, LossCause::Dropped)),
        row(7, "Linen upright", "secondary", (3, 10), (1, P128), (MAT, LOWER), (4, 14), "Tunnel middle"),
        odd(row(8, "Papery violet", "filler", (3, 6), (1, P72), (MAT, LOWER), (5, 1), "Field 2"), Odd::Miscounted),
        odd(row(9, "Flat white umbel", "airy", (3, 13), (1, P72), (LOWER, LOWER), (4, 17), "Field 2"),
            Odd::PrickedOut(day(2027, 4, 11), 4)),
        row(10, "Brick spike", "spike", (3, 18), (1, B60), (MAT, UPPER), (5, 12), "Field 1"),
        row(11, "Parchment button", "filler", (3, 20), (1, P72), (MAT, UPPER), (5, 15), "Field 3"),
        row(12, "Linen upright", "secondary", (3, 24), (1, P128), (MAT, UPPER), (4, 28), "Field 2"),
        row(13, "Flat white umbel", "airy", (3, 27), (1, P72), (LOWER, LOWER), (5, 1), "Field 2"),
        odd(row(14, "Pale open cup", "focal", (3, 30), (1, B60), (MAT, UPPER), (6, 12), "Tunnel east"),
            Odd::PottedOn(day(2027, 5, 24))),
        row(15, "Papery violet", "filler", (4, 3), (1, P72), (MAT, UPPER), (5, 29), "Field 3"),
        odd(row(16, "Dark stem leaf", "foliage", (4, 10), (1, P72), (MAT, LOWER), (5, 15), "Tunnel middle"),
            Odd::Lost(day(2027, 4, 24), 9, LossCause::DampingOff)),
        row(17, "Copper tuft", "secondary", (4, 17), (1, P72), (MAT, LOWER), (5, 15), "Tunnel east"),
        row(18, "Flat white umbel", "airy", (4, 17), (1, P72), (LOWER, LOWER), (5, 22), "Field 4"),
        row(19, "Thin green haze", "airy", (4, 24), (1, P72), (MAT, LOWER), (5, 22), "Field 4"),
        row(20, "Clay disc", "secondary", (4, 26), (1, P72), (MAT, UPPER), (5, 22), "Field 4"),
        row(21, "Tall straw face", "focal", (5, 4), (1, P72), (MAT, UPPER), (5, 22), "Field 5"),
        row(22, "Copper tuft", "secondary", (5, 8), (1, P72), (MAT, LOWER), (6, 5), "Field 3"),
        row(23, "Clay disc", "secondary", (5, 10), (1, P72), (MAT, UPPER), (6, 4), "Field 4"),
        odd(row(24, "Tall straw face", "focal", (5, 14), (1, P72), (MAT, UPPER), (6, 2), "Field 5"),
            Odd::Lost(day(2027, 5, 24), 14, LossCause::Eaten)),
        row(25, "Dark stem leaf", "foliage", (5, 15), (1, P72), (MAT, LOWER), (6, 19), "Field 3"),
        row(26, "Chalk spike", "autumn spike", (5, 20), (1, B60), (MAT, UPPER), (7, 19), "Tunnel middle"),
        row(27, "Brick spike", "autumn spike", (5, 20), (1, B60), (MAT, UPPER), (7, 19), "Tunnel middle"),
        row(28, "Tall straw face", "focal", (5, 25), (1, P72), (MAT, LOWER), (6, 12), "Field 5"),
        row(29, "Clay disc", "secondary", (5, 29), (1, P72), (MAT, UPPER), (6, 22), "Field 6"),
        row(30, "Tall straw face", "focal", (6, 3), (1, P72), (MAT, LOWER), (6, 21), "Field 5"),
        row(31, "Copper tuft", "secondary", (6, 5), (1, P72), (MAT, UPPER), (7, 3), "Field 6"),
        row(32, "Thin green haze", "airy", (6, 8), (1, P72), (MAT, LOWER), (7, 6), "Field 6"),
        row(33, "Tall straw face", "focal", (6, 13), (1, P72), (MAT, LOWER), (7, 2), "Field 5"),
        row(34, "Clay disc", "secondary", (6, 16), (1, P72), (MAT, UPPER), (7, 10), "Field 6"),
        row(35, "Dark stem leaf", "foliage", (6, 22), (1, P72), (MAT, LOWER), (7, 28), "Field 6"),
        row(36, "Tall straw face", "focal", (6, 24), (1, P72), (MAT, LOWER), (7, 12), "Field 5"),
        row(37, "Tall straw face", "focal", (7, 13), (1, P72), (MAT, LOWER), (7, 31), "Field 5"),
        row(38, "Tall straw face", "focal", (7, 19), (1, P72), (MAT, LOWER), (8, 6), "Field 5"),
        row(39, "Tall straw face", "focal", (7, 26), (1, P72), (MAT, LOWER), (8, 13), "Field 5"),
        row(40, "Linen upright", "secondary", (7, 12), (1, P128), (MAT, UPPER), (8, 16), "Tunnel east"),
        row(45, "Linen upright", "secondary", (7, 24), (1, P128), (MAT, UPPER), (8, 28), "Tunnel east"),
    ]
}

/// Sown or set straight into a bed: plan, variety, target, day, plants, bed, packet's share.
const DIRECT: [(u32, &str, &str, Md, u32, &str); 4] = [
    (41, "Slate wand", "spike", (4, 4), 150, "Field 1"),
    (42, "Slate wand", "spike", (4, 21), 120, "Field 2"),
    (43, "Peach round", "focal", (5, 18), 20, "Field 6"),
    (44, "Peach round", "focal", (5, 30), 12, "Field 6"),
];

/// Planned sowings by their number.
pub type Planned = BTreeMap<u32, PlannedId>;

/// The share of cells that a plan reckons to plant, by what the packets say.
const PLANTED_SHARE: f64 = 0.66;

/// Records the planned sowings as they were accepted in the last days of the year, and the one that was pinned.
pub fn record_plan(book: &mut Book, farm: &Farm) -> Result<Planned, Trouble> {
    let accepted = day(2026, 12, 28);
    let mut planned = Planned::new();
    for row in rows() {
        // A sowing made again for a tray that was lost is nobody's plan.
        if planned.contains_key(&row.plan) {
            continue;
        }
        let plants = (f64::from(row.cells()) * PLANTED_SHARE).round() as u32;
        let what = (row.variety, row.target, row.sow, row.space());
        accept(
            book,
            farm,
            accepted,
            &mut planned,
            row.plan,
            what,
            (row.cells(), plants),
        )?;
    }
    for (plan, variety, target, (month, date), plants, _) in DIRECT {
        let what = (variety, target, day(2027, month, date), "Long field");
        accept(
            book,
            farm,
            accepted,
            &mut planned,
            plan,
            what,
            (plants, plants),
        )?;
    }
    if let Some(of) = planned.get(&39).cloned() {
        let pin = PlannedFact {
            pinned: Some(true),
            ..PlannedFact::new(of)
        };
        book.record(day(2027, 2, 6), 19, Device::Laptop, pin)?;
    }
    Ok(planned)
}

fn accept(
    book: &mut Book,
    farm: &Farm,
    on: NaiveDate,
    planned: &mut Planned,
    plan: u32,
    (variety, target, sow, space): (&str, &str, NaiveDate, &str),
    (cells, plants): (u32, u32),
) -> Result<(), Trouble> {
    let of = PlannedId::new(book.new_id(on)).map_err(|e| Trouble::Inside(e.to_string()))?;
    let fact = PlannedFact {
        variety: Some(farm.variety(variety)?.clone()),
        target: farm.targets.get(target).cloned(),
        sow: Some(sow),
        space: Some(farm.space(space)?),
        cells: Some(cells),
        plants: Some(plants),
        ..PlannedFact::new(of.clone())
    };
    book.record(on, 19, Device::Laptop, fact)?;
    planned.insert(plan, of);
    Ok(())
}

/// Records what was sown or set straight into beds.
pub fn direct(book: &mut Book, farm: &Farm, planned: &Planned) -> Result<Vec<Set>, Trouble> {
    let mut sets = Vec::new();
    for (plan, variety, _, (month, date), plants, bed) in DIRECT {
        let date = day(2027, month, date);
        let fact = DirectSownFact {
            lot: farm.lots.get(variety).cloned(),
            planned: planned.get(&plan).cloned(),
            ..DirectSownFact::new(farm.variety(variety)?.clone(), farm.bed(bed)?, plants, date)
        };
        let entry = book.record(date, 14, Device::Phone, fact)?;
        sets.push(Set {
            id: PlantingId::from(entry),
            sowing: None,
            variety,
            bed: farm.bed(bed)?,
            tunnel: false,
            date,
            plants,
        });
    }
    Ok(sets)
}

/// Notes, temperatures and frosts, and the order that was handed over.
pub fn remarks(book: &mut Book, farm: &Farm) -> Result<(), Trouble> {
    let tunnel = farm.space("Tunnel")?;
    let notes = [
        (
            (1, 9),
            None,
            "Mat holds 21 at the mix, 26 on its surface. Probe stays in a filled cell.",
        ),
        (
            (2, 25),
            Some(farm.space("Upper shelf")?.to_string()),
            "Front row dried out over the weekend. Water from below on Saturdays too.",
        ),
        (
            (3, 9),
            Some(farm.variety("Linen upright")?.to_string()),
            "Tray slid off the cart at the door. What landed upright is back in its cells.",
        ),
        (
            (3, 27),
            Some(tunnel.to_string()),
            "Cloth over the new plants until the nights hold above freezing.",
        ),
        ((4, 23), None, "Ice on the hose this morning."),
        (
            (5, 24),
            Some(farm.variety("Tall straw face")?.to_string()),
            "Mice took a corner of the tray. Lid on at night.",
        ),
        (
            (7, 5),
            Some(farm.bed("Field 2")?.to_string()),
            "White umbels want picking before the heat of the day.",
        ),
    ];
    for ((month, date), about, text) in notes {
        let date = day(2027, month, date);
        let text = text.to_owned();
        book.record(
            date,
            20,
            Device::Phone,
            NoteFact {
                about,
                ..NoteFact::new(text, date)
            },
        )?;
    }
    // Morning readings: outdoors and in the tunnel, lowest and highest of the day before, C.
    for (month, date, outdoors, under) in [
        (3, 28, (-4.1, 6.2), (0.4, 17.0)),
        (4, 4, (-1.5, 9.8), (2.2, 21.5)),
        (4, 11, (1.2, 12.4), (4.6, 24.0)),
        (4, 18, (2.8, 15.9), (5.9, 26.3)),
        (4, 23, (-2.2, 10.1), (1.6, 22.4)),
        (5, 2, (3.9, 17.0), (6.8, 27.1)),
        (5, 9, (-0.6, 14.8), (3.1, 25.5)),
        (5, 16, (6.1, 19.9), (8.8, 28.2)),
        (5, 30, (8.7, 22.5), (11.0, 30.4)),
        (6, 13, (11.9, 25.8), (13.6, 32.1)),
        (6, 27, (13.4, 27.0), (15.0, 33.8)),
    ] {
        let date = day(2027, month, date);
        for (space, (min_c, max_c)) in [(None, outdoors), (Some(tunnel.clone()), under)] {
            let fact = TemperatureFact {
                space,
                ..TemperatureFact::new(min_c, max_c, date)
            };
            book.record(date, 12, Device::Phone, fact)?;
        }
    }
    for (month, date, min_c) in [(4, 23, -2.2), (5, 9, -0.6)] {
        let date = day(2027, month, date);
        let fact = FrostFact {
            min_c: Some(min_c),
            ..FrostFact::new(date)
        };
        book.record(date, 11, Device::Phone, fact)?;
    }
    let last = NoteFact {
        about: farm.orders.get("supper").map(ToString::to_string),
        ..NoteFact::new(
            "Ten days to the supper: count what shows colour before promising the last tables."
                .into(),
            today(),
        )
    };
    book.record(today(), 20, Device::Laptop, last)?;
    Ok(())
}
