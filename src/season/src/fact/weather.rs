//! Temperatures and frosts.

use chrono::NaiveDate;
use fact_macro::fact;

use super::words::{ANYWHERE, FROSTY};
use crate::ids::*;
use crate::limits::*;

/// A day's lowest and highest temperature.
#[fact(kind = "temperature")]
pub struct TemperatureFact {
    /// Lowest, degrees C.
    #[limit(DEGREES_C)]
    #[unit(Temperature)]
    #[ask("field.min")]
    pub min_c: f64,
    /// Highest, degrees C.
    #[limit(DEGREES_C)]
    #[unit(Temperature)]
    #[ask("field.max")]
    pub max_c: f64,
    /// Mean of the day's readings, degrees C, where there were many.
    #[limit(DEGREES_C)]
    #[unit(Temperature)]
    pub mean_c: Option<f64>,
    /// Where; outdoors when absent.
    #[ask("field.where", within(ANYWHERE))]
    pub space: Option<SpaceId>,
    /// Which day.
    #[ask("field.date")]
    pub date: NaiveDate,
}

/// A frost.
#[fact(kind = "frost")]
pub struct FrostFact {
    /// Lowest, degrees C, if read.
    #[limit(DEGREES_C)]
    #[unit(Temperature)]
    #[ask("field.min_read")]
    pub min_c: Option<f64>,
    /// Where; outdoors when absent.
    #[ask("field.where", within(FROSTY))]
    pub space: Option<SpaceId>,
    /// The morning after that night.
    #[ask("field.morning")]
    pub date: NaiveDate,
}

/// A low that is forecast for the night to come.
#[fact(kind = "low_expected")]
pub struct LowExpectedFact {
    /// Lowest, degrees C.
    #[limit(LOWS_C)]
    #[unit(Temperature)]
    #[ask("field.low")]
    pub min_c: f64,
    /// Where; outdoors when absent.
    #[ask("field.where", within(FROSTY))]
    pub space: Option<SpaceId>,
    /// The evening before that night.
    #[ask("field.evening")]
    pub date: NaiveDate,
}
