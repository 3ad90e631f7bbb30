//! What is set up and wanted: each type takes the fields that an entry names.

use std::collections::BTreeMap;

use agronomy::iso_week::IsoWeek;
use chrono::{Datelike, NaiveDate};
use serde::Serialize;

use crate::fact::*;
use crate::ids::*;
use crate::month_day::MonthDay;
use crate::week;

/// Takes the fields that are set.
macro_rules! take {
    ($to:ident, $from:ident: $($field:ident),+) => {
        $(if let Some(value) = &$from.$field { $to.$field = value.clone(); })+
    };
    ($to:ident, $from:ident, optional: $($field:ident),+) => {
        $(if $from.$field.is_some() { $to.$field = $from.$field.clone(); })+
    };
}

/// Figures set one by one; `null` takes one back.
pub(super) fn take_figures<T: Copy>(
    to: &mut BTreeMap<String, T>,
    from: &BTreeMap<String, Option<T>>,
) {
    for (name, value) in from {
        match value {
            Some(value) => {
                to.insert(name.clone(), *value);
            }
            None => {
                to.remove(name);
            }
        }
    }
}

/// The site. What is not yet set is `None`.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Place {
    /// Id.
    pub id: PlaceId,
    /// Name.
    pub name: String,
    /// Latitude, degrees north.
    pub latitude: Option<f64>,
    /// Mean daily minimum by month, C.
    pub tmin: Option<[f64; 12]>,
    /// Mean daily maximum by month, C.
    pub tmax: Option<[f64; 12]>,
    /// Average last spring frost.
    pub last_frost: Option<MonthDay>,
    /// Spring frost after this in 10 years of 100.
    pub last_frost_10: Option<MonthDay>,
    /// Spring frost after this in 90 years of 100.
    pub last_frost_90: Option<MonthDay>,
    /// Average first autumn frost.
    pub first_frost: Option<MonthDay>,
    /// Autumn frost before this in 10 years of 100.
    pub first_frost_10: Option<MonthDay>,
    /// Autumn frost before this in 90 years of 100.
    pub first_frost_90: Option<MonthDay>,
    /// What money is counted in; empty when not said.
    pub currency: String,
    /// Days before an order's date by which missing stems have to be bought in.
    pub buy_in_days: Option<u32>,
    /// Share of the forecast that may be promised.
    pub promise_share: Option<f64>,
    /// No longer in use.
    pub retired: bool,
}

impl Place {
    pub(super) fn new(id: PlaceId) -> Self {
        Self {
            id,
            name: String::new(),
            latitude: None,
            tmin: None,
            tmax: None,
            last_frost: None,
            last_frost_10: None,
            last_frost_90: None,
            first_frost: None,
            first_frost_10: None,
            first_frost_90: None,
            currency: String::new(),
            buy_in_days: None,
            promise_share: None,
            retired: false,
        }
    }

    pub(super) fn take(&mut self, f: &PlaceFact) {
        take!(self, f: name, currency, retired);
        take!(self, f, optional: buy_in_days, promise_share);
        take!(self, f, optional: latitude, tmin, tmax);
        take!(self, f, optional: last_frost, last_frost_10, last_frost_90);
        take!(self, f, optional: first_frost, first_frost_10, first_frost_90);
    }
}

/// Somewhere plants sit.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Space {
    /// Id.
    pub id: SpaceId,
    /// Name.
    pub name: String,
    /// What kind.
    pub what: SpaceKind,
    /// Room in trays or buckets; `None` when not said.
    pub room: Option<u32>,
    /// Place in the daily walk.
    pub walk: i32,
    /// Chance of frost accepted when planting here, 0 to 1.
    pub frost_risk: Option<f64>,
    /// Light of its lamps at the leaves (PPFD), micromoles per square metre and second.
    pub ppfd: Option<f64>,
    /// Hours a day for which its lamps burn.
    pub lamp_hours: Option<f64>,
    /// No longer in use.
    pub retired: bool,
}

impl Space {
    pub(super) fn new(id: SpaceId) -> Self {
        Self {
            id,
            name: String::new(),
            what: SpaceKind::Shelf,
            room: None,
            walk: 0,
            frost_risk: None,
            ppfd: None,
            lamp_hours: None,
            retired: false,
        }
    }

    pub(super) fn take(&mut self, f: &SpaceFact) {
        take!(self, f: name, what, walk, retired);
        take!(self, f, optional: room, frost_risk, ppfd, lamp_hours);
    }

    /// Whether it holds beds.
    pub fn holds_beds(&self) -> bool {
        matches!(self.what, SpaceKind::Tunnel | SpaceKind::Outdoors)
    }

    /// Whether it holds trays.
    pub fn holds_trays(&self) -> bool {
        matches!(
            self.what,
            SpaceKind::Mat | SpaceKind::Shelf | SpaceKind::Hardening
        )
    }
}

/// A strip of growing ground.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Bed {
    /// Id.
    pub id: BedId,
    /// The space that holds it.
    pub space: Option<SpaceId>,
    /// Name.
    pub name: String,
    /// Length, m.
    pub length_m: Option<f64>,
    /// Width, m.
    pub width_m: Option<f64>,
    /// Place in the daily walk.
    pub walk: i32,
    /// First day of the year on which it is in use.
    pub in_use_from: Option<MonthDay>,
    /// Last day of the year on which it is in use.
    pub in_use_to: Option<MonthDay>,
    /// No longer in use.
    pub retired: bool,
}

impl Bed {
    pub(super) fn new(id: BedId) -> Self {
        Self {
            id,
            space: None,
            name: String::new(),
            length_m: None,
            width_m: None,
            walk: 0,
            in_use_from: None,
            in_use_to: None,
            retired: false,
        }
    }

    pub(super) fn take(&mut self, f: &BedFact) {
        take!(self, f: name, walk, retired);
        take!(self, f, optional: space, length_m, width_m, in_use_from, in_use_to);
    }

    /// The days of the year from and to which it is in use; `None` when that is always.
    pub fn use_span(&self) -> Option<(MonthDay, MonthDay)> {
        if self.in_use_from.is_none() && self.in_use_to.is_none() {
            return None;
        }
        let from = self.in_use_from.or(MonthDay::new(1, 1))?;
        let to = self.in_use_to.or(MonthDay::new(12, 31))?;
        let whole_year = from.follows(to);
        (!whole_year).then_some((from, to))
    }

    /// Whether it is in use on a day. A span whose first day comes after its last runs over New Year.
    pub fn in_use(&self, date: NaiveDate) -> bool {
        let Some((from, to)) = self.use_span() else {
            return true;
        };
        let year = date.year();
        let (Some(first), Some(last)) = (from.in_year(year), to.in_year(year)) else {
            return true;
        };
        if first <= last {
            (first..=last).contains(&date)
        } else {
            date >= first || date <= last
        }
    }
}

/// What the grower sows.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Variety {
    /// Id.
    pub id: VarietyId,
    /// The crop's id in the reference.
    pub crop: String,
    /// Name.
    pub name: String,
    /// Colour.
    pub colour: String,
    /// Bloom group, 1 to 4; `None` where there is none.
    pub group: Option<u8>,
    /// Role in a bouquet, where it differs from the crop's first.
    pub role: Option<Role>,
    /// Culture figures that differ from the crop's.
    pub figures: BTreeMap<String, f64>,
    /// Figures that this grower's own records gave. They stand above the reference and below what the grower set.
    pub learned: BTreeMap<String, Learned>,
    /// Seeds in a packet as it is sold; 0 and `None` are not known.
    pub packet_seeds: Option<u32>,
    /// Price of a packet, in the grower's own money.
    pub packet_price: Option<f64>,
    /// No longer in use.
    pub retired: bool,
}

impl Variety {
    pub(super) fn new(id: VarietyId) -> Self {
        Self {
            id,
            crop: String::new(),
            name: String::new(),
            colour: String::new(),
            group: None,
            role: None,
            figures: BTreeMap::new(),
            learned: BTreeMap::new(),
            packet_seeds: None,
            packet_price: None,
            retired: false,
        }
    }

    pub(super) fn take(&mut self, f: &VarietyFact) {
        take!(self, f: crop, name, colour, retired);
        take!(self, f, optional: role, packet_seeds, packet_price);
        match f.group {
            Some(0) => self.group = None,
            Some(group) => self.group = Some(group),
            None => {}
        }
        take_figures(&mut self.figures, &f.figures);
        take_figures(&mut self.learned, &f.learned);
    }
}

/// One bought batch.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SeedLot {
    /// Id.
    pub id: LotId,
    /// Its variety.
    pub variety: Option<VarietyId>,
    /// What tells it apart.
    pub name: String,
    /// Packed-for year.
    pub year: Option<i32>,
    /// Seeds in hand when entered.
    pub seeds: Option<u32>,
    /// Germination on the packet, 0 to 1.
    pub germination: Option<f64>,
    /// How it is kept, where said.
    pub kept: Option<Keeping>,
    /// No longer in use.
    pub retired: bool,
}

impl SeedLot {
    pub(super) fn new(id: LotId) -> Self {
        Self {
            id,
            variety: None,
            name: String::new(),
            year: None,
            seeds: None,
            germination: None,
            kept: None,
            retired: false,
        }
    }

    pub(super) fn take(&mut self, f: &SeedLotFact) {
        take!(self, f: name, retired);
        take!(self, f, optional: variety, year, seeds, germination, kept);
    }
}

/// Stems wanted in each of a span of weeks.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Target {
    /// Id.
    pub id: TargetId,
    /// What is wanted.
    pub wanted: Wanted,
    /// Where it is to be grown.
    pub space: Option<SpaceId>,
    /// First week.
    #[serde(serialize_with = "week::option::serialize")]
    pub from: Option<IsoWeek>,
    /// Last week.
    #[serde(serialize_with = "week::option::serialize")]
    pub to: Option<IsoWeek>,
    /// Stems in each week.
    pub stems: u32,
    /// Chance wanted of having enough plants.
    pub chance: f64,
    /// No longer wanted.
    pub retired: bool,
}

/// The chance of having enough that is planned for when the grower set none: 80 in 100.
pub const CHANCE_USUAL: f64 = 0.8;

impl Target {
    pub(super) fn new(id: TargetId) -> Self {
        Self {
            id,
            wanted: Wanted::default(),
            space: None,
            from: None,
            to: None,
            stems: 0,
            chance: CHANCE_USUAL,
            retired: false,
        }
    }

    pub(super) fn take(&mut self, f: &TargetFact) {
        take!(self, f: wanted, stems, chance, retired);
        take!(self, f, optional: space, from, to);
    }
}

/// Stems or pieces wanted on a date.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Order {
    /// Id.
    pub id: OrderId,
    /// For whom.
    pub who: String,
    /// For when.
    pub date: Option<NaiveDate>,
    /// Stems.
    pub lines: Vec<OrderLine>,
    /// Pieces.
    pub pieces: Vec<OrderPieces>,
    /// Days from one delivery to the next of a standing order; 0 for an order that is wanted once.
    pub every_days: u32,
    /// The last day on which a standing order may fall.
    pub until: Option<NaiveDate>,
    /// Deliveries of a standing order that are closed, by the day they were due.
    pub closed: BTreeMap<NaiveDate, Closed>,
    /// Handed over.
    pub done: bool,
    /// Called off.
    pub retired: bool,
}

impl Order {
    /// Whether it is wanted again and again.
    pub fn is_standing(&self) -> bool {
        self.every_days > 0
    }

    pub(super) fn new(id: OrderId) -> Self {
        Self {
            id,
            who: String::new(),
            date: None,
            lines: Vec::new(),
            pieces: Vec::new(),
            every_days: 0,
            until: None,
            closed: BTreeMap::new(),
            done: false,
            retired: false,
        }
    }

    pub(super) fn take(&mut self, f: &OrderFact) {
        take!(self, f: who, lines, pieces, every_days, done, retired);
        take!(self, f, optional: date, until);
    }
}

/// How a delivery of a standing order ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Closed {
    /// Handed over.
    HandedOver,
    /// Not wanted that time.
    Skipped,
}

/// A crop year.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CropYear {
    /// Id.
    pub id: SeasonId,
    /// What it is called.
    pub name: String,
    /// Its first day.
    pub from: Option<NaiveDate>,
    /// Not begun after all.
    pub retired: bool,
}

impl CropYear {
    pub(super) fn new(id: SeasonId) -> Self {
        Self {
            id,
            name: String::new(),
            from: None,
            retired: false,
        }
    }

    pub(super) fn take(&mut self, f: &SeasonFact) {
        take!(self, f: name, retired);
        take!(self, f, optional: from);
    }
}

/// Stems by role per piece.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Recipe {
    /// Id.
    pub id: RecipeId,
    /// Name.
    pub name: String,
    /// Stems per piece.
    pub lines: Vec<OrderLine>,
    /// No longer in use.
    pub retired: bool,
}

impl Recipe {
    pub(super) fn new(id: RecipeId) -> Self {
        Self {
            id,
            name: String::new(),
            lines: Vec::new(),
            retired: false,
        }
    }

    pub(super) fn take(&mut self, f: &RecipeFact) {
        take!(self, f: name, lines, retired);
    }
}

/// A sowing accepted from the plan.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlannedSowing {
    /// Id.
    pub id: PlannedId,
    /// What to sow.
    pub variety: Option<VarietyId>,
    /// Which target it serves.
    pub target: Option<TargetId>,
    /// When to sow.
    pub sow: Option<NaiveDate>,
    /// Where it will be planted.
    pub space: Option<SpaceId>,
    /// The bed that the grower chose for it; the plan chooses where there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bed: Option<BedId>,
    /// Cells to sow.
    pub cells: u32,
    /// Plants it is to give.
    pub plants: u32,
    /// Kept when the rest is planned again.
    pub pinned: bool,
    /// Dropped from the plan.
    pub retired: bool,
    /// The sowing or planting that carried it out.
    pub sown_as: Option<EntryId>,
}

impl PlannedSowing {
    pub(super) fn new(id: PlannedId) -> Self {
        Self {
            id,
            variety: None,
            target: None,
            sow: None,
            space: None,
            bed: None,
            cells: 0,
            plants: 0,
            pinned: false,
            retired: false,
            sown_as: None,
        }
    }

    pub(super) fn take(&mut self, f: &PlannedFact) {
        take!(self, f: cells, plants, pinned, retired);
        take!(self, f, optional: variety, target, sow, space);
        if f.space.is_some() || f.bed.is_some() {
            self.bed = f.bed.clone();
        }
    }
}
