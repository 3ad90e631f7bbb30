//! Soil, hardening off and the net.

use chrono::NaiveDate;
use culture::{Crop, Hardiness};

use crate::forecast::shifted;
use crate::state::{Bed, Sowing};
use crate::words::{Arg, Say};

/// How deep soil is measured, cm. Common practice.
const SOIL_DEPTH_CM: (f64, f64) = (5.0, 10.0);
/// Soil at which a crop is planted where it has no figure of its own, C. Common practice, as is at 8 in the morning, three days
/// running.
const SOIL_HARDY_C: f64 = 5.0;
const SOIL_HALF_HARDY_C: f64 = 10.0;
const SOIL_TENDER_C: f64 = 15.0;
/// Days after which a soil temperature says nothing of today's any more. Common practice.
const SOIL_DAYS: i64 = 14;
/// Days from planting to the net: before the plants reach 20 cm. Common practice.
const NET_DAYS: i64 = 14;

/// The soil that a crop wants.
#[derive(Debug, Clone, PartialEq)]
pub struct SoilNote {
    /// 5 to 10 cm deep, at 8 in the morning, three days running, C.
    pub wanted_c: f64,
    /// Whether that is the crop's own figure, and not that of all crops as hardy.
    pub own: bool,
    /// What was measured last where it may be planted, and when.
    pub measured: Option<(f64, NaiveDate)>,
    /// In words.
    pub say: Say,
}

/// The soil that a crop wants, beside the latest measurement in `beds`.
pub(super) fn soil<'a>(
    crop: &Crop,
    beds: impl Iterator<Item = &'a Bed>,
    today: NaiveDate,
) -> Option<SoilNote> {
    let own = crop.typical("min_soil_temp_at_planting_c");
    let usual = match crop.hardiness() {
        Hardiness::HalfHardy => SOIL_HALF_HARDY_C,
        Hardiness::Tender | Hardiness::TenderCorm => SOIL_TENDER_C,
        _ => SOIL_HARDY_C,
    };
    let wanted_c = own.unwrap_or(usual);
    let latest = beds
        .filter_map(|bed| Some((bed.soil_measured_on?, bed.soil_temperature_c?, bed)))
        .filter(|(day, ..)| (0..=SOIL_DAYS).contains(&(today - *day).num_days()))
        .max_by_key(|(day, _, bed)| (*day, core::cmp::Reverse(&bed.id)));
    let key = match latest {
        Some(_) => "planting_out.soil_measured",
        None => "planting_out.soil",
    };
    let mut say = Say::new(key)
        .with("n", Arg::Temperature(wanted_c))
        .with("from", Arg::Spacing(SOIL_DEPTH_CM.0))
        .with("to", Arg::Spacing(SOIL_DEPTH_CM.1));
    if let Some((day, got_c, bed)) = latest {
        say = say
            .with("bed", bed.name.clone())
            .with("got", Arg::Temperature(got_c))
            .with("date", day)
            .with_some("cold", (got_c < wanted_c).then_some(1u32));
    }
    Some(SoilNote {
        wanted_c,
        own: own.is_some(),
        measured: latest.map(|(day, got_c, _)| (got_c, day)),
        say,
    })
}

/// How far plants are hardened off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct HardeningState {
    /// Days had.
    pub done: u32,
    /// Days wanted.
    pub wanted: u32,
    /// The first day on which it is over, if it goes on from today.
    pub over: NaiveDate,
}

impl HardeningState {
    /// Whether no more is wanted.
    pub fn is_over(&self) -> bool {
        self.done >= self.wanted
    }
}

pub(crate) fn hardening(crop: &Crop, sowing: &Sowing, today: NaiveDate) -> HardeningState {
    let wanted = crop
        .typical("hardening_off_days")
        .unwrap_or(0.0)
        .round()
        .max(0.0) as u32;
    let had = sowing.hardened.iter().filter(|day| **day <= today).count() as u32;
    let begun = sowing.hardening.filter(|begun| *begun <= today);
    let passed = begun.map_or(0, |begun| (today - begun).num_days().clamp(0, 1_000) as u32);
    // Whoever notes only the first day hardens off all the same.
    let done = if had > 1 { had } else { passed.max(had) }.min(wanted);
    HardeningState {
        done,
        wanted,
        over: shifted(today, i64::from(wanted - done)),
    }
}

/// The net that a crop wants.
#[derive(Debug, Clone, PartialEq)]
pub struct NetNote {
    /// Layers and heights, as the crop reference says.
    pub text: String,
    /// Best day to put it up, if planted on the verdict's first day.
    pub best: NaiveDate,
}

pub(super) fn net(crop: &Crop, planted: NaiveDate) -> Option<NetNote> {
    let text = crop.text("support")?.text.clone();
    (!text.starts_with("none")).then(|| NetNote {
        text,
        best: shifted(planted, NET_DAYS),
    })
}
