//! The invented place: its climate, spaces, beds, varieties, seed, targets, recipes and orders.

use std::collections::BTreeMap;

use agronomy::iso_week::IsoWeek;
use chrono::NaiveDate;
use season::fact::*;
use season::ids::*;
use season::money::Money;
use season::month_day::MonthDay;

use super::super::Trouble;
use super::book::{Book, Device};
use super::day;

/// Ids of what was set up, by the names used in this folder.
pub struct Farm {
    /// Spaces.
    spaces: BTreeMap<&'static str, SpaceId>,
    /// Beds.
    beds: BTreeMap<&'static str, BedId>,
    /// Varieties.
    varieties: BTreeMap<&'static str, VarietyId>,
    /// Seed lots by variety.
    pub lots: BTreeMap<&'static str, LotId>,
    /// Targets by variety or role.
    pub targets: BTreeMap<&'static str, TargetId>,
    /// Orders.
    pub orders: BTreeMap<&'static str, OrderId>,
}

fn missing(name: &str) -> Trouble {
    Trouble::Inside(format!("nothing was set up as {name}"))
}

impl Farm {
    /// A space.
    pub fn space(&self, name: &str) -> Result<SpaceId, Trouble> {
        self.spaces.get(name).cloned().ok_or_else(|| missing(name))
    }

    /// A bed.
    pub fn bed(&self, name: &str) -> Result<BedId, Trouble> {
        self.beds.get(name).cloned().ok_or_else(|| missing(name))
    }

    /// A variety.
    pub fn variety(&self, name: &str) -> Result<&VarietyId, Trouble> {
        self.varieties.get(name).ok_or_else(|| missing(name))
    }
}

/// Name, kind, room, frost risk accepted.
const SPACES: [(&str, SpaceKind, Option<u32>, Option<f64>); 7] = [
    ("Heat mat", SpaceKind::Mat, Some(4), None),
    ("Upper shelf", SpaceKind::Shelf, Some(8), None),
    ("Lower shelf", SpaceKind::Shelf, Some(8), None),
    ("Cold frame", SpaceKind::Hardening, Some(12), None),
    ("Tunnel", SpaceKind::Tunnel, None, Some(0.5)),
    ("Long field", SpaceKind::Outdoors, None, Some(0.5)),
    ("Cooler", SpaceKind::Cooler, Some(10), None),
];

/// Name, space, length m, width m.
const BEDS: [(&str, &str, f64, f64); 9] = [
    ("Tunnel west", "Tunnel", 9.0, 1.2),
    ("Tunnel middle", "Tunnel", 9.0, 1.2),
    ("Tunnel east", "Tunnel", 9.0, 1.2),
    ("Field 1", "Long field", 15.0, 1.2),
    ("Field 2", "Long field", 15.0, 1.2),
    ("Field 3", "Long field", 15.0, 1.2),
    ("Field 4", "Long field", 15.0, 1.2),
    ("Field 5", "Long field", 15.0, 1.2),
    ("Field 6", "Long field", 15.0, 1.2),
];

struct Sort {
    name: &'static str,
    crop: &'static str,
    colour: &'static str,
    group: Option<u8>,
    role: Option<Role>,
    /// Packed-for year, seeds, germination on the packet.
    lot: Option<(i32, u32, f64)>,
}

const fn sort(name: &'static str, crop: &'static str, colour: &'static str) -> Sort {
    Sort {
        name,
        crop,
        colour,
        group: None,
        role: None,
        lot: None,
    }
}

/// Plain words for colour and shape: none of them is the name of a variety that is sold.
#[rustfmt::skip]
fn sorts() -> [Sort; 14] {
    [
        Sort { group: Some(1), lot: Some((2027, 1000, 0.88)), ..sort("Chalk spike", "antirrhinum", "white") },
        Sort { group: Some(3), lot: Some((2027, 500, 0.90)), ..sort("Brick spike", "antirrhinum", "brick red") },
        Sort { group: Some(2), lot: Some((2027, 500, 0.85)), ..sort("Pale open cup", "eustoma", "blush") },
        Sort { role: Some(Role::Secondary), lot: Some((2027, 500, 0.86)), ..sort("Linen upright", "matthiola", "cream") },
        Sort { lot: Some((2027, 1000, 0.75)), ..sort("Slate wand", "consolida", "blue") },
        Sort { role: Some(Role::Airy), lot: Some((2027, 1000, 0.72)), ..sort("Flat white umbel", "ammi_majus", "white") },
        Sort { lot: Some((2026, 250, 0.82)), ..sort("Papery violet", "limonium", "violet") },
        Sort { role: Some(Role::Secondary), lot: Some((2027, 500, 0.90)), ..sort("Clay disc", "zinnia", "terracotta") },
        Sort { role: Some(Role::Secondary), lot: Some((2027, 500, 0.85)), ..sort("Copper tuft", "celosia_plumosa", "copper") },
        Sort { lot: Some((2027, 500, 0.92)), ..sort("Tall straw face", "helianthus", "yellow") },
        Sort { lot: Some((2027, 500, 0.88)), ..sort("Dark stem leaf", "ocimum", "purple") },
        sort("Peach round", "dahlia_tuber", "peach"),
        Sort { role: Some(Role::Filler), lot: Some((2027, 250, 0.80)), ..sort("Parchment button", "xerochrysum", "cream") },
        Sort { lot: Some((2027, 1000, 0.75)), ..sort("Thin green haze", "panicum", "green") },
    ]
}

/// The crop of a variety, by name.
pub fn crop_of(variety: &str) -> &'static str {
    sorts()
        .iter()
        .find(|sort| sort.name == variety)
        .map_or("", |sort| sort.crop)
}

/// Name used here, what is wanted, stems a week, first and last week of 2027.
const TARGETS: [(&str, Pick, u32, u32, u32); 9] = [
    (
        "white spike",
        Pick::Colour("white", Role::Spike),
        20,
        26,
        32,
    ),
    ("spike", Pick::Role(Role::Spike), 40, 27, 34),
    ("autumn spike", Pick::Role(Role::Spike), 20, 36, 40),
    ("sunflower", Pick::Crop("helianthus"), 40, 37, 39),
    ("focal", Pick::Role(Role::Focal), 40, 28, 38),
    ("secondary", Pick::Role(Role::Secondary), 60, 28, 37),
    ("filler", Pick::Role(Role::Filler), 40, 31, 38),
    ("airy", Pick::Role(Role::Airy), 40, 28, 35),
    ("foliage", Pick::Role(Role::Foliage), 40, 29, 38),
];

#[derive(Clone, Copy)]
enum Pick {
    Role(Role),
    Crop(&'static str),
    Colour(&'static str, Role),
}

impl Pick {
    fn wanted(self) -> Wanted {
        match self {
            Self::Role(role) => Wanted {
                role: Some(role),
                ..Wanted::default()
            },
            Self::Crop(crop) => Wanted {
                crop: Some(crop.to_owned()),
                ..Wanted::default()
            },
            Self::Colour(colour, role) => Wanted {
                role: Some(role),
                colour: Some(colour.to_owned()),
                ..Wanted::default()
            },
        }
    }
}

/// The day everything was set up: a winter evening.
fn begun() -> NaiveDate {
    day(2026, 12, 12)
}

/// Records place, spaces, beds, varieties, seed, targets, recipes and orders.
pub fn record(book: &mut Book) -> Result<Farm, Trouble> {
    let date = begun();
    book.name_devices(date)?;
    place(book, date)?;
    let (spaces, beds) = spaces(book, date)?;
    let (varieties, lots) = varieties(book)?;
    let targets = targets(book)?;
    let orders = orders(book)?;
    Ok(Farm {
        spaces,
        beds,
        varieties,
        lots,
        targets,
        orders,
    })
}

pub(super) fn id<T, E: std::fmt::Display>(made: Result<T, E>) -> Result<T, Trouble> {
    made.map_err(|error| Trouble::Inside(error.to_string()))
}

fn place(book: &mut Book, date: NaiveDate) -> Result<(), Trouble> {
    let of = id(PlaceId::new(book.new_id(date)))?;
    let place = PlaceFact {
        name: Some("Oxbow bottom".into()),
        latitude: Some(44.0),
        tmin: Some([
            -11.8, -10.9, -5.8, 0.2, 6.4, 11.2, 14.0, 13.1, 8.8, 2.9, -2.2, -7.9,
        ]),
        tmax: Some([
            -1.2, 0.7, 5.8, 13.2, 20.3, 25.1, 27.6, 26.7, 22.1, 14.9, 7.7, 1.6,
        ]),
        last_frost: MonthDay::new(5, 15),
        last_frost_10: MonthDay::new(5, 29),
        first_frost: MonthDay::new(10, 1),
        first_frost_10: MonthDay::new(9, 18),
        currency: Some("€".into()),
        buy_in_days: Some(9),
        promise_share: Some(0.6),
        ..PlaceFact::new(of)
    };
    book.record(date, 18, Device::Laptop, place)?;
    Ok(())
}

/// Light of the demo's lamps at the leaves, and the hours for which they burn.
const SHELF_PPFD: f64 = 190.0;
const SHELF_HOURS: f64 = 15.0;

type Spaces = BTreeMap<&'static str, SpaceId>;
type Beds = BTreeMap<&'static str, BedId>;

fn spaces(book: &mut Book, date: NaiveDate) -> Result<(Spaces, Beds), Trouble> {
    let mut spaces = Spaces::new();
    for (walk, (name, what, room, frost_risk)) in (1..).zip(SPACES) {
        let of = id(SpaceId::new(book.new_id(date)))?;
        let fact = SpaceFact {
            what: Some(what),
            name: Some(name.into()),
            room,
            walk: Some(walk),
            frost_risk,
            ppfd: (what == SpaceKind::Shelf).then_some(SHELF_PPFD),
            lamp_hours: (what == SpaceKind::Shelf).then_some(SHELF_HOURS),
            ..SpaceFact::new(of.clone())
        };
        book.record(date, 18, Device::Laptop, fact)?;
        spaces.insert(name, of);
    }
    let mut beds = Beds::new();
    for (walk, (name, space, length_m, width_m)) in (1..).zip(BEDS) {
        let of = id(BedId::new(book.new_id(date)))?;
        let fact = BedFact {
            name: Some(name.into()),
            length_m: Some(length_m),
            width_m: Some(width_m),
            space: spaces.get(space).cloned(),
            walk: Some(walk),
            ..BedFact::new(of.clone())
        };
        book.record(date, 19, Device::Laptop, fact)?;
        beds.insert(name, of);
    }
    Ok((spaces, beds))
}

type Varieties = BTreeMap<&'static str, VarietyId>;
type Lots = BTreeMap<&'static str, LotId>;

fn varieties(book: &mut Book) -> Result<(Varieties, Lots), Trouble> {
    let date = day(2026, 12, 13);
    let mut varieties = Varieties::new();
    let mut lots = Lots::new();
    for sort in sorts() {
        let of = id(VarietyId::new(book.new_id(date)))?;
        let fact = VarietyFact {
            crop: Some(sort.crop.into()),
            name: Some(sort.name.into()),
            colour: Some(sort.colour.into()),
            group: sort.group,
            role: sort.role,
            ..VarietyFact::new(of.clone())
        };
        book.record(date, 18, Device::Laptop, fact)?;
        varieties.insert(sort.name, of.clone());
        let Some((year, seeds, germination)) = sort.lot else {
            continue;
        };
        let lot = id(LotId::new(book.new_id(date)))?;
        let fact = SeedLotFact {
            variety: Some(of),
            name: Some(format!("Packet {}", lots.len() + 1)),
            year: Some(year),
            seeds: Some(seeds),
            germination: Some(germination),
            ..SeedLotFact::new(lot.clone())
        };
        book.record(date, 19, Device::Laptop, fact)?;
        lots.insert(sort.name, lot);
    }
    Ok((varieties, lots))
}

fn week(number: u32) -> Result<IsoWeek, Trouble> {
    id(IsoWeek::new(2027, number))
}

fn targets(book: &mut Book) -> Result<BTreeMap<&'static str, TargetId>, Trouble> {
    let date = day(2026, 12, 27);
    let mut targets = BTreeMap::new();
    for (name, pick, stems, from, to) in TARGETS {
        let of = id(TargetId::new(book.new_id(date)))?;
        let fact = TargetFact {
            wanted: Some(pick.wanted()),
            from: Some(week(from)?),
            to: Some(week(to)?),
            stems: Some(stems),
            chance: Some(0.8),
            ..TargetFact::new(of.clone())
        };
        book.record(date, 18, Device::Laptop, fact)?;
        targets.insert(name, of);
    }
    Ok(targets)
}

fn line(role: Role, stems: u32) -> OrderLine {
    OrderLine::new(Pick::Role(role).wanted(), stems)
}

/// An amount of money.
pub(super) fn money(text: &str) -> Result<Money, Trouble> {
    Money::of_text(text).ok_or_else(|| Trouble::Inside(format!("{text} is no amount")))
}

/// Stems of a role at a price for ten.
pub(super) fn priced(role: Role, stems: u32, price: &str) -> Result<OrderLine, Trouble> {
    Ok(OrderLine {
        price: Some(money(price)?),
        per: Some(10),
        ..line(role, stems)
    })
}

fn orders(book: &mut Book) -> Result<BTreeMap<&'static str, OrderId>, Trouble> {
    let date = day(2027, 1, 9);
    // Stems by role of a 14-stem bouquet and of a small jar: common practice.
    let mut recipes = Vec::new();
    for (name, lines) in [
        (
            "Market bouquet",
            vec![
                line(Role::Focal, 2),
                line(Role::Secondary, 4),
                line(Role::Filler, 3),
                line(Role::Spike, 2),
                line(Role::Airy, 1),
                line(Role::Foliage, 2),
            ],
        ),
        (
            "Table jar",
            vec![
                line(Role::Spike, 2),
                line(Role::Secondary, 2),
                line(Role::Airy, 1),
            ],
        ),
    ] {
        let of = id(RecipeId::new(book.new_id(date)))?;
        let fact = RecipeFact {
            name: Some(name.into()),
            lines: Some(lines),
            ..RecipeFact::new(of.clone())
        };
        book.record(date, 19, Device::Laptop, fact)?;
        recipes.push(of);
    }
    let jar = recipes
        .last()
        .cloned()
        .ok_or_else(|| missing("Table jar"))?;
    let mut orders = BTreeMap::new();
    for (name, who, taken, wanted, lines, pieces) in [
        (
            "supper",
            "Barn supper, 18 tables",
            day(2027, 2, 6),
            day(2027, 7, 29),
            vec![priced(Role::Foliage, 40, "5.00")?],
            vec![OrderPieces {
                price: Some(money("9.50")?),
                ..OrderPieces::new(jar, 18)
            }],
        ),
        (
            "shop",
            "Corner shop, standing order",
            day(2027, 6, 20),
            day(2027, 7, 23),
            vec![
                priced(Role::Spike, 40, "8.50")?,
                priced(Role::Secondary, 20, "7.00")?,
            ],
            Vec::new(),
        ),
        (
            "first",
            "Corner shop, first delivery",
            day(2027, 6, 20),
            day(2027, 7, 16),
            vec![priced(Role::Spike, 30, "8.50")?],
            Vec::new(),
        ),
    ] {
        let of = id(OrderId::new(book.new_id(taken)))?;
        let fact = OrderFact {
            who: Some(who.into()),
            date: Some(wanted),
            lines: Some(lines),
            pieces: (!pieces.is_empty()).then_some(pieces),
            ..OrderFact::new(of.clone())
        };
        book.record(taken, 19, Device::Laptop, fact)?;
        orders.insert(name, of);
    }
    Ok(orders)
}
