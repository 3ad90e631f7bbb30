//! Hardening off, day by day.
//!
//! Common practice: "7-10 d hardy, 3-5 d tender. Day 1-2 shade 2-3 h, day 3-4 half sun, day 5+ full sun and wind, out at night from
//! day 6 if above the crop's minimum." Crops that take less than a week have the steps in proportion; those that take more are out day and
//! night for longer.

use chrono::NaiveDate;
use culture::Crop;

use super::TaskKind;
use super::emergence::Cue;
use crate::forecast::{TrayForecast, TrayStage, Window, shifted};
use crate::state::Sowing;
use crate::words::{Arg, Say};

/// Days of the usual week, over which the steps are told.
const USUAL_DAYS: f64 = 7.0;

/// How far out a tray goes on a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outing {
    /// Shade, two or three hours.
    Shade,
    /// Half a day's sun.
    HalfSun,
    /// Full sun and wind, in at night.
    FullSun,
    /// Day and night.
    Night,
}

impl Outing {
    /// The key of its words.
    pub fn key(self) -> &'static str {
        match self {
            Self::Shade => "outing.shade",
            Self::HalfSun => "outing.half_sun",
            Self::FullSun => "outing.full_sun",
            Self::Night => "outing.night",
        }
    }

    /// On a day (from 1) of so many.
    pub fn on(day: u32, days: u32) -> Self {
        let of_week = f64::from(day) * (USUAL_DAYS / f64::from(days.max(1))).max(1.0);
        match of_week {
            d if d < 2.5 => Self::Shade,
            d if d < 4.5 => Self::HalfSun,
            d if d < 5.5 => Self::FullSun,
            _ => Self::Night,
        }
    }
}

/// A day of hardening off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct HardeningDay {
    /// Which, from 1.
    pub day: u32,
    /// Of how many.
    pub days: u32,
    /// How far out.
    pub outing: Outing,
    /// When.
    pub date: NaiveDate,
}

/// The next day of hardening off of trays that began it; `None` once all days were had, or so many have passed that it is over anyhow.
/// A day that was left out is not counted: the rest moves on.
pub fn hardening_day(crop: &Crop, sowing: &Sowing, today: NaiveDate) -> Option<HardeningDay> {
    let last = sowing.hardened.iter().rev().find(|day| **day <= today)?;
    let had = sowing.hardened.iter().filter(|day| **day <= today).count() as u32;
    let days = crop
        .typical("hardening_off_days")
        .unwrap_or(USUAL_DAYS)
        .round() as u32;
    // Whoever notes only the first day hardens off all the same.
    let noted_daily = had > 1;
    let passed = (today - *sowing.hardened.first()?).num_days();
    if had >= days || !noted_daily && passed >= i64::from(days) {
        return None;
    }
    Some(HardeningDay {
        day: had + 1,
        days,
        outing: Outing::on(had + 1, days),
        date: shifted(*last, 1),
    })
}

/// Put out for another day.
pub(super) fn cue(
    crop: &Crop,
    sowing: &Sowing,
    forecast: &TrayForecast,
    today: NaiveDate,
) -> Option<Cue> {
    if forecast.stage != TrayStage::Hardening || forecast.spare {
        return None;
    }
    let next = hardening_day(crop, sowing, today)?;
    let night = crop
        .typical("min_safe_night_c_hardened_plants")
        .filter(|_| next.outing == Outing::Night);
    Some((
        TaskKind::HardenOn,
        Window {
            earliest: next.date,
            best: next.date,
            latest: shifted(next.date, 2).max(today),
        },
        Say::new("task.harden_on.why")
            .with("day", next.day)
            .with("days", next.days)
            .with("how", Arg::Key(next.outing.key()))
            .with_some("night", night.map(Arg::Temperature)),
        None,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_week_goes_by_the_handbook_and_shorter_spans_in_proportion() {
        let of =
            |days: u32| -> Vec<Outing> { (1..=days).map(|day| Outing::on(day, days)).collect() };
        use Outing::{FullSun, HalfSun, Night, Shade};
        assert_eq!(
            of(7),
            [Shade, Shade, HalfSun, HalfSun, FullSun, Night, Night]
        );
        assert_eq!(of(4), [Shade, HalfSun, FullSun, Night]);
        assert_eq!(of(3), [Shade, FullSun, Night]);
        assert!(of(10).windows(2).all(|pair| pair[0] <= pair[1]));
        assert_eq!(of(10)[..7], of(7), "the same steps, and more nights");
        assert_eq!(Outing::on(1, 0), Night, "no days, no steps");
    }
}
