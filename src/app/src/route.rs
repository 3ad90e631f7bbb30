//! Places of the app as addresses: `#/bench`, `#/beds/01J…`.
//!
//! The place stands in the hash, so that the built files work on any static host and under any path of it, with nothing to
//! set up there; the router of the view library has no such mode, and a dozen places need none. Links are plain
//! `<a href="#/bench">`.

use core::fmt;
use core::str::FromStr;

use chrono::NaiveDate;
use season::ids::{BedId, OrderId, PlantingId, SowingId, SpaceId, TargetId, VarietyId};

/// A place in the app.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Route {
    /// What is next.
    #[default]
    Today,
    /// All trays.
    Bench,
    /// A form for sowing a tray.
    Sow,
    /// Labels to print, of one sowing or of those that are chosen there.
    Labels(Option<SowingId>),
    /// A tray by its number, its variety or its label.
    Find,
    /// One sowing.
    Tray(SowingId),
    /// One sowing, counted cell by cell.
    Count(SowingId),
    /// All beds.
    Beds,
    /// One planting.
    Planting(PlantingId),
    /// Cuts, stock and orders.
    Cooler,
    /// One order, or a new one.
    Order(Which<OrderId>),
    /// What goes into an order, or into one delivery of a standing order.
    Pick(OrderId, Option<NaiveDate>),
    /// Orders pasted from a spreadsheet.
    PasteOrders,
    /// What can be promised.
    Available,
    /// Targets, plan, forecast.
    Season(SeasonPart),
    /// Set-up and data.
    Shed(ShedPart),
}

/// One that is there, or one that is about to be made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Which<T> {
    /// To be made.
    New,
    /// That one.
    This(T),
}

/// Parts of the season.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum SeasonPart {
    /// The year and the way to the other parts.
    #[default]
    Year,
    /// Stems wanted.
    Targets,
    /// One target, or a new one.
    Target(Which<TargetId>),
    /// Targets pasted from a spreadsheet.
    PasteTargets,
    /// What to sow.
    Plan,
    /// Stems forecast by week.
    Supply,
    /// Which planting stands in which bed from when to when.
    Beds,
    /// Seed to order.
    Seed,
    /// Forecast against outcome.
    Review,
    /// Closing the season, and beginning the next one from it.
    Next,
}

/// Parts of the shed.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum ShedPart {
    /// The way to the other parts.
    #[default]
    Door,
    /// The site.
    Place,
    /// All spaces and their beds.
    Spaces,
    /// One space, or a new one.
    Space(Which<SpaceId>),
    /// One bed.
    Bed(BedId),
    /// A new bed in a space.
    NewBed(SpaceId),
    /// Money, promises and buying in.
    Selling,
    /// Temperatures from a data logger's file.
    Logger,
    /// All varieties.
    Varieties,
    /// One variety with its seed lots, or a new one.
    Variety(Which<VarietyId>),
    /// Colours, units, device name, installing.
    Device,
    /// Writing all entries to a file.
    Export,
    /// Taking entries from a file.
    Import,
    /// The latest entries.
    History,
    /// What does not add up.
    Problems,
}

/// An address that is no place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NoSuchPlace(pub String);

impl fmt::Display for NoSuchPlace {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "no such place: {:?}", self.0)
    }
}

impl core::error::Error for NoSuchPlace {}

/// The five places and the shed, for marking where one is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Area {
    /// Tasks.
    Today,
    /// Trays.
    Bench,
    /// Beds.
    Beds,
    /// Cooler.
    Cooler,
    /// Season.
    Season,
    /// Shed.
    Shed,
}

impl Area {
    /// The places of the navigation, without the shed.
    pub const PLACES: [Self; 5] = [
        Self::Today,
        Self::Bench,
        Self::Beds,
        Self::Cooler,
        Self::Season,
    ];

    /// Its first page.
    pub fn route(self) -> Route {
        match self {
            Self::Today => Route::Today,
            Self::Bench => Route::Bench,
            Self::Beds => Route::Beds,
            Self::Cooler => Route::Cooler,
            Self::Season => Route::Season(SeasonPart::Year),
            Self::Shed => Route::Shed(ShedPart::Door),
        }
    }

    /// The key of its name.
    pub fn key(self) -> &'static str {
        match self {
            Self::Today => "place.today",
            Self::Bench => "place.bench",
            Self::Beds => "place.beds",
            Self::Cooler => "place.cooler",
            Self::Season => "place.season",
            Self::Shed => "place.shed",
        }
    }

    /// The name of its icon.
    pub fn icon(self) -> &'static str {
        match self {
            Self::Today => "today",
            Self::Bench => "bench",
            Self::Beds => "bed",
            Self::Cooler => "cooler",
            Self::Season => "season",
            Self::Shed => "shed",
        }
    }
}

impl Route {
    /// The place it belongs to.
    pub fn area(&self) -> Area {
        match self {
            Self::Today => Area::Today,
            Self::Bench
            | Self::Sow
            | Self::Labels(_)
            | Self::Find
            | Self::Tray(_)
            | Self::Count(_) => Area::Bench,
            Self::Beds | Self::Planting(_) => Area::Beds,
            Self::Cooler
            | Self::Order(_)
            | Self::Pick(..)
            | Self::PasteOrders
            | Self::Available => Area::Cooler,
            Self::Season(_) => Area::Season,
            Self::Shed(_) => Area::Shed,
        }
    }

    /// The address to link to: `#/bench`.
    pub fn href(&self) -> String {
        self.to_string()
    }
}

impl<T: fmt::Display> fmt::Display for Which<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::New => f.write_str("new"),
            Self::This(id) => id.fmt(f),
        }
    }
}

impl fmt::Display for Route {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Today => f.write_str("#/today"),
            Self::Bench => f.write_str("#/bench"),
            Self::Sow => f.write_str("#/bench/new"),
            Self::Labels(None) => f.write_str("#/bench/labels"),
            Self::Labels(Some(id)) => write!(f, "#/bench/labels/{id}"),
            Self::Find => f.write_str("#/bench/find"),
            Self::Tray(id) => write!(f, "#/bench/{id}"),
            Self::Count(id) => write!(f, "#/bench/{id}/count"),
            Self::Beds => f.write_str("#/beds"),
            Self::Planting(id) => write!(f, "#/beds/{id}"),
            Self::Cooler => f.write_str("#/cooler"),
            Self::PasteOrders => f.write_str("#/cooler/orders/paste"),
            Self::Order(which) => write!(f, "#/cooler/orders/{which}"),
            Self::Pick(id, None) => write!(f, "#/cooler/orders/{id}/pick"),
            Self::Pick(id, Some(due)) => write!(f, "#/cooler/orders/{id}/pick/{due}"),
            Self::Available => f.write_str("#/cooler/available"),
            Self::Season(part) => write!(f, "#/season{part}"),
            Self::Shed(part) => write!(f, "#/shed{part}"),
        }
    }
}

impl fmt::Display for SeasonPart {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Year => Ok(()),
            Self::Targets => f.write_str("/targets"),
            Self::PasteTargets => f.write_str("/targets/paste"),
            Self::Target(which) => write!(f, "/targets/{which}"),
            Self::Plan => f.write_str("/plan"),
            Self::Supply => f.write_str("/supply"),
            Self::Beds => f.write_str("/beds"),
            Self::Seed => f.write_str("/seed"),
            Self::Review => f.write_str("/review"),
            Self::Next => f.write_str("/next"),
        }
    }
}

impl fmt::Display for ShedPart {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Door => Ok(()),
            Self::Place => f.write_str("/place"),
            Self::Spaces => f.write_str("/spaces"),
            Self::Space(which) => write!(f, "/spaces/{which}"),
            Self::NewBed(space) => write!(f, "/spaces/{space}/new-bed"),
            Self::Bed(id) => write!(f, "/beds/{id}"),
            Self::Selling => f.write_str("/selling"),
            Self::Logger => f.write_str("/logger"),
            Self::Varieties => f.write_str("/varieties"),
            Self::Variety(which) => write!(f, "/varieties/{which}"),
            Self::Device => f.write_str("/device"),
            Self::Export => f.write_str("/export"),
            Self::Import => f.write_str("/import"),
            Self::History => f.write_str("/history"),
            Self::Problems => f.write_str("/problems"),
        }
    }
}

impl FromStr for Route {
    type Err = NoSuchPlace;

    /// Reads an address with or without its `#`; none at all is Today.
    fn from_str(hash: &str) -> Result<Self, NoSuchPlace> {
        let path = hash.trim_start_matches('#').trim_matches('/');
        let parts: Vec<&str> = path.split('/').collect();
        let found = match parts.as_slice() {
            [""] | ["today"] => Some(Self::Today),
            ["bench"] => Some(Self::Bench),
            ["bench", "new"] => Some(Self::Sow),
            ["bench", "labels"] => Some(Self::Labels(None)),
            ["bench", "labels", id] => SowingId::new(*id).ok().map(|id| Self::Labels(Some(id))),
            ["bench", "find"] => Some(Self::Find),
            ["bench", id] => SowingId::new(*id).ok().map(Self::Tray),
            ["bench", id, "count"] => SowingId::new(*id).ok().map(Self::Count),
            ["beds"] => Some(Self::Beds),
            ["beds", id] => PlantingId::new(*id).ok().map(Self::Planting),
            ["cooler"] => Some(Self::Cooler),
            ["cooler", "orders", "paste"] => Some(Self::PasteOrders),
            ["cooler", "available"] => Some(Self::Available),
            ["cooler", "orders", id, "pick"] => pick(id, None),
            ["cooler", "orders", id, "pick", due] => {
                due.parse().ok().and_then(|due| pick(id, Some(due)))
            }
            ["cooler", "orders", id] => which(id, OrderId::new(*id)).map(Self::Order),
            ["season", rest @ ..] => season_part(rest).map(Self::Season),
            ["shed", rest @ ..] => shed_part(rest).map(Self::Shed),
            _ => None,
        };
        found.ok_or_else(|| NoSuchPlace(path.chars().take(80).collect()))
    }
}

fn pick(id: &str, due: Option<NaiveDate>) -> Option<Route> {
    Some(Route::Pick(OrderId::new(id).ok()?, due))
}

fn which<T, E>(text: &str, id: Result<T, E>) -> Option<Which<T>> {
    match text {
        "new" => Some(Which::New),
        _ => id.ok().map(Which::This),
    }
}

fn season_part(parts: &[&str]) -> Option<SeasonPart> {
    Some(match parts {
        [] => SeasonPart::Year,
        ["targets"] => SeasonPart::Targets,
        ["targets", "paste"] => SeasonPart::PasteTargets,
        ["targets", id] => SeasonPart::Target(which(id, TargetId::new(*id))?),
        ["plan"] => SeasonPart::Plan,
        ["supply"] => SeasonPart::Supply,
        ["beds"] => SeasonPart::Beds,
        ["seed"] => SeasonPart::Seed,
        ["review"] => SeasonPart::Review,
        ["next"] => SeasonPart::Next,
        _ => return None,
    })
}

fn shed_part(parts: &[&str]) -> Option<ShedPart> {
    Some(match parts {
        [] => ShedPart::Door,
        ["place"] => ShedPart::Place,
        ["spaces"] => ShedPart::Spaces,
        ["spaces", id, "new-bed"] => ShedPart::NewBed(SpaceId::new(*id).ok()?),
        ["spaces", id] => ShedPart::Space(which(id, SpaceId::new(*id))?),
        ["beds", id] => ShedPart::Bed(BedId::new(*id).ok()?),
        ["selling"] => ShedPart::Selling,
        ["logger"] => ShedPart::Logger,
        ["varieties"] => ShedPart::Varieties,
        ["varieties", id] => ShedPart::Variety(which(id, VarietyId::new(*id))?),
        ["device"] => ShedPart::Device,
        ["export"] => ShedPart::Export,
        ["import"] => ShedPart::Import,
        ["history"] => ShedPart::History,
        ["problems"] => ShedPart::Problems,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn every() -> Vec<Route> {
        let season = [
            SeasonPart::Year,
            SeasonPart::Targets,
            SeasonPart::Target(Which::New),
            SeasonPart::PasteTargets,
            SeasonPart::Target(Which::This(TargetId::new("t1").unwrap())),
            SeasonPart::Plan,
            SeasonPart::Supply,
            SeasonPart::Beds,
            SeasonPart::Seed,
            SeasonPart::Review,
            SeasonPart::Next,
        ];
        let space = || SpaceId::new("s1").unwrap();
        let shed = [
            ShedPart::Door,
            ShedPart::Place,
            ShedPart::Spaces,
            ShedPart::Space(Which::New),
            ShedPart::Space(Which::This(space())),
            ShedPart::NewBed(space()),
            ShedPart::Bed(BedId::new("b1").unwrap()),
            ShedPart::Selling,
            ShedPart::Logger,
            ShedPart::Varieties,
            ShedPart::Variety(Which::New),
            ShedPart::Variety(Which::This(VarietyId::new("v1").unwrap())),
            ShedPart::Device,
            ShedPart::Export,
            ShedPart::Import,
            ShedPart::History,
            ShedPart::Problems,
        ];
        let mut all = vec![
            Route::Today,
            Route::Bench,
            Route::Sow,
            Route::Labels(None),
            Route::Labels(SowingId::new("01J8").ok()),
            Route::Find,
            Route::Tray(SowingId::new("01J8").unwrap()),
            Route::Count(SowingId::new("01J8").unwrap()),
            Route::Beds,
            Route::Planting(PlantingId::new("01J9").unwrap()),
            Route::Cooler,
            Route::Order(Which::New),
            Route::PasteOrders,
            Route::Available,
            Route::Pick(OrderId::new("o1").unwrap(), None),
            Route::Pick(
                OrderId::new("o1").unwrap(),
                NaiveDate::from_ymd_opt(2027, 6, 3),
            ),
            Route::Order(Which::This(OrderId::new("o1").unwrap())),
        ];
        all.extend(season.into_iter().map(Route::Season));
        all.extend(shed.into_iter().map(Route::Shed));
        all
    }

    #[test]
    fn every_address_reads_back_and_no_two_are_alike() {
        let mut seen = std::collections::BTreeSet::new();
        for route in every() {
            let address = route.to_string();
            assert!(address.starts_with("#/"), "{address}");
            assert_eq!(address.parse(), Ok(route));
            assert!(seen.insert(address.clone()), "{address} twice");
        }
    }

    #[test]
    fn an_empty_address_is_today_and_an_odd_one_is_refused() {
        for address in ["", "#", "#/", "#/today/"] {
            assert_eq!(address.parse(), Ok(Route::Today), "{address}");
        }
        for address in [
            "#/barn",
            "#/bench/a b",
            "#/bench/%2e%2e",
            "#/bench/x/y",
            "#/season/x",
            "#/shed/place/x",
            "#/cooler/orders",
        ] {
            assert!(address.parse::<Route>().is_err(), "{address}");
        }
        let long = format!("#/{}", "x".repeat(5_000));
        let told = long.parse::<Route>().unwrap_err();
        assert_eq!(told.0.len(), 80);
    }

    #[test]
    fn every_place_leads_to_itself() {
        for area in Area::PLACES.into_iter().chain([Area::Shed]) {
            assert_eq!(area.route().area(), area);
        }
    }
}
