//! What follows from what was recorded: emergence, planting, bloom and stems, each with its uncertainty.
//!
//! Nothing here is stored; all of it is worked out again from the season and today's date.

mod bed;
mod germination;
mod outlook;
mod planned;
mod reading;
mod statistics;
mod sum;
mod supply;
mod timeline;
mod timing;
mod tray;

use chrono::NaiveDate;

pub(crate) use bed::by_week;
pub use bed::{
    BedForecast, FlushTold, GradeShares, StemFigures, grade_shares, of_planting, stem_figures,
};
pub use germination::{LotGermination, lot_germination};
pub use outlook::{Kept, Outlook};
pub use planned::{Change, of_planned, reforecast};
pub use reading::reading;
pub use statistics::{fitted, statistics};
pub use sum::{Sum, YIELD_SHARED};
pub use supply::{PLANTED_SURVIVAL, Supply, sown_variation, supply, supply_after};
pub use timeline::{Course, Flush, Intent, Phase, Source, Station, intended};
pub(crate) use timeline::{bed_ahead, flushes, hardening_days, trays_ahead};
pub use timing::{bloom_if_planted, frost_bound, line_reasons, planting_window};
pub(crate) use timing::{planting_by, spared_by_frost};
pub use tray::{
    EYE_CELLS, Expected, QUIET_DAYS, QUIET_SHARE, TRUE_LEAVES_DAYS, TrayForecast, TrayStage,
    USABLE_SHARE, of_sowing, usual_for,
};

/// The span in which something is to be done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Window {
    /// Not before.
    pub earliest: NaiveDate,
    /// Best.
    pub best: NaiveDate,
    /// Not after, if it can be helped.
    pub latest: NaiveDate,
}

/// Moves a date by days; stays at the calendar's ends.
pub(crate) fn shifted(date: NaiveDate, days: i64) -> NaiveDate {
    let by = chrono::TimeDelta::try_days(days).unwrap_or_default();
    date.checked_add_signed(by).unwrap_or(if days < 0 {
        NaiveDate::MIN
    } else {
        NaiveDate::MAX
    })
}
