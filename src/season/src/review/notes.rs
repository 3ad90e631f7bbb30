//! What stands out in a season: what failed, what was late, what was thrown away.

use super::{Look, PlantingRow, VarietyRow};
use crate::ids::*;
use crate::words::{Arg, Say};

/// Healthy: fewer culls than this share of the stems cut, and more than this share of those that left the cooler sold. Common
/// practice.
const CULLS_HEALTHY: f64 = 0.2;
const SOLD_HEALTHY: f64 = 0.8;
/// Fewer stems than this say nothing of a share (common practice: a few bunches).
const STEMS_LEAST: u32 = 30;
/// More than this share of the plants lost stands out.
const LOST_SHARE: f64 = 0.5;

/// What a note is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum About {
    /// A planting.
    Planting(PlantingId),
    /// A variety.
    Variety(VarietyId),
}

/// Something that stands out.
#[derive(Debug, Clone, PartialEq)]
pub struct Note {
    /// What it is about.
    pub about: About,
    /// In words.
    pub say: Say,
}

/// All notes: plantings in the order in which they were planted, then varieties.
pub(super) fn notes(
    look: &Look<'_, '_>,
    plantings: &[PlantingRow],
    varieties: &[VarietyRow],
) -> Vec<Note> {
    let name = |variety| look.almanac.variety_name(variety);
    let mut notes = Vec::new();
    for row in plantings {
        let say = |key| {
            Say::new(key)
                .with("variety", name(&row.variety))
                .with("date", row.date)
        };
        notes.extend(of_planting(row, say).map(|say| Note {
            about: About::Planting(row.planting.clone()),
            say,
        }));
    }
    for row in varieties {
        let say = |key, share| {
            Say::new(key)
                .with("variety", name(&row.variety))
                .with("n", Arg::Share(share))
        };
        notes.extend(of_variety(row, say).map(|say| Note {
            about: About::Variety(row.variety.clone()),
            say,
        }));
    }
    notes
}

fn of_planting(row: &PlantingRow, say: impl Fn(&'static str) -> Say) -> impl Iterator<Item = Say> {
    let lost = row.plants.saturating_sub(row.standing);
    let many_lost = f64::from(lost) > LOST_SHARE * f64::from(row.plants);
    let uncut = row.over && row.cut == 0;
    let missed = row.stems_held() == Some(false);
    let stems = row.forecast.filter(|_| missed).map(|band| {
        let key = if f64::from(row.cut) < band.p10 {
            "review.note.fewer"
        } else {
            "review.note.more"
        };
        say(key).with("n", row.cut).with_spread(band)
    });
    let bloom = row
        .late_days()
        .filter(|_| row.bloom_held() == Some(false))
        .map(|days| {
            let key = if days > 0 {
                "review.note.late"
            } else {
                "review.note.early"
            };
            say(key).with("n", days.abs())
        });
    let lost = many_lost.then(|| {
        say("review.note.lost")
            .with("n", lost)
            .with("plants", row.plants)
    });
    let uncut = uncut.then(|| say("review.note.uncut"));
    [lost, uncut, stems, bloom].into_iter().flatten()
}

fn of_variety(
    row: &VarietyRow,
    say: impl Fn(&'static str, f64) -> Say,
) -> impl Iterator<Item = Say> {
    let many = row.cut.saturating_add(row.culls) >= STEMS_LEAST;
    let culls = row
        .cull_share()
        .filter(|share| many && *share > CULLS_HEALTHY)
        .map(|share| say("review.note.culls", share));
    let left = row.sold.saturating_add(row.discarded) >= STEMS_LEAST;
    let sold = row
        .sold_share()
        .filter(|share| left && *share < SOLD_HEALTHY)
        .map(|share| say("review.note.sold", share));
    [culls, sold].into_iter().flatten()
}
