//! The site, its spaces and beds, and the devices that record.

use chrono::NaiveDate;
use fact_macro::fact;

use super::words::SpaceKind;
use crate::ids::*;
use crate::limits::*;
use crate::month_day::MonthDay;

/// The name of a device.
#[fact(kind = "device")]
pub struct DeviceFact {
    /// Which device.
    pub of: DeviceId,
    /// What its owner calls it.
    #[limit(NAME)]
    pub name: String,
}

/// The site.
#[fact(kind = "place", state = Place)]
pub struct PlaceFact {
    /// Which place.
    pub of: PlaceId,
    /// Name.
    #[limit(NAME)]
    #[plain]
    pub name: Option<String>,
    /// Latitude, degrees north.
    #[limit(LATITUDES)]
    pub latitude: Option<f64>,
    /// Mean daily minimum by month, degrees C, January first.
    #[limit(DEGREES_C)]
    pub tmin: Option<[f64; 12]>,
    /// Mean daily maximum by month, degrees C, January first.
    #[limit(DEGREES_C)]
    pub tmax: Option<[f64; 12]>,
    /// Average last spring frost: in half of all years there is one after it.
    pub last_frost: Option<MonthDay>,
    /// In 10 % of years there is a spring frost after this date.
    pub last_frost_10: Option<MonthDay>,
    /// In 90 % of years there is a spring frost after this date.
    pub last_frost_90: Option<MonthDay>,
    /// Average first autumn frost: in half of all years there is one before it.
    pub first_frost: Option<MonthDay>,
    /// In 10 % of years there is an autumn frost before this date.
    pub first_frost_10: Option<MonthDay>,
    /// In 90 % of years there is an autumn frost before this date.
    pub first_frost_90: Option<MonthDay>,
    /// What money is counted in, as it is written beside a sum: a code or a sign.
    #[limit(CURRENCY)]
    #[plain]
    pub currency: Option<String>,
    /// Days before an order's date by which missing stems have to be bought in.
    #[limit(BUY_IN_DAYS)]
    pub buy_in_days: Option<u32>,
    /// Share of the forecast that may be promised.
    #[limit(PROMISE_SHARES)]
    pub promise_share: Option<f64>,
    /// No longer in use.
    #[plain]
    pub retired: Option<bool>,
}

/// Somewhere plants or stems are kept.
#[fact(kind = "space", state = Space)]
pub struct SpaceFact {
    /// Which space.
    pub of: SpaceId,
    /// What kind.
    #[plain(SpaceKind::Shelf)]
    pub what: Option<SpaceKind>,
    /// Name.
    #[limit(NAME)]
    #[plain]
    pub name: Option<String>,
    /// Room in trays (mat, shelf, hardening) or buckets (cooler).
    #[limit(ROOM)]
    pub room: Option<u32>,
    /// Place in the daily walk, smallest first.
    #[limit(WALK)]
    #[plain]
    pub walk: Option<i32>,
    /// Chance of frost accepted when planting here.
    #[limit(SHARES)]
    pub frost_risk: Option<f64>,
    /// Light of its lamps at the leaves (PPFD), micromoles per square metre and second.
    #[limit(PPFDS)]
    pub ppfd: Option<f64>,
    /// Hours a day for which its lamps are on.
    #[limit(HOURS_OF_DAY)]
    pub lamp_hours: Option<f64>,
    /// No longer in use.
    #[plain]
    pub retired: Option<bool>,
}

/// A strip of growing ground.
#[fact(kind = "bed", state = Bed)]
pub struct BedFact {
    /// Which bed.
    pub of: BedId,
    /// Name.
    #[limit(NAME)]
    #[plain]
    pub name: Option<String>,
    /// Length, m.
    #[limit(BED_LENGTHS_M)]
    #[unit(Length)]
    pub length_m: Option<f64>,
    /// Width, m.
    #[limit(BED_WIDTHS_M)]
    #[unit(Length)]
    pub width_m: Option<f64>,
    /// Soil temperature at root depth, degrees C.
    #[limit(SOIL_C)]
    #[unit(Temperature)]
    #[ask("field.soil")]
    pub soil_temperature_c: Option<f64>,
    /// The day on which the soil temperature was measured.
    #[ask("field.date")]
    pub soil_measured_on: Option<NaiveDate>,
    /// The tunnel or outdoor space that holds it.
    pub space: Option<SpaceId>,
    /// First day of the year on which it can be planted; after the last where the time in use runs over New Year.
    pub in_use_from: Option<MonthDay>,
    /// Last day of the year on which plants can be in it.
    pub in_use_to: Option<MonthDay>,
    /// Place in the daily walk, smallest first.
    #[limit(WALK)]
    #[plain]
    pub walk: Option<i32>,
    /// No longer in use.
    #[plain]
    pub retired: Option<bool>,
}
