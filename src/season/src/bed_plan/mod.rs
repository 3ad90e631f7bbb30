//! Beds through the year: which planting stands where from which week to which, and what does not fit.
//!
//! What stands keeps its bed; what is in trays or accepted goes into the bed that the grower chose for it, else into one of its
//! space's beds ([`planner::layout`]). A planting takes its room as long as its
//! course has it in a bed.

mod wish;

#[cfg(test)]
mod tests;

use std::collections::BTreeMap;
use std::sync::Arc;

use agronomy::iso_week::IsoWeek;
use planner::layout::{self, LayoutProblem, Placement, lay_out};

use self::wish::{Wish, places, size_of, wish};
use crate::forecast::{Outlook, Source};
use crate::ids::*;
use crate::state::Bed;
use crate::words::{Arg, Say};

/// Weeks back and ahead that are looked at.
const WEEKS_BACK: i32 = 52;
const WEEKS_AHEAD: i32 = 104;

/// Every bed through the weeks.
#[derive(Debug, Clone, PartialEq)]
pub struct BedPlan {
    /// First and last week.
    pub weeks: (IsoWeek, IsoWeek),
    /// Beds in walking order, those without a length or a width left out.
    pub beds: Vec<BedRow>,
    /// What does not fit, by week.
    pub conflicts: Vec<Conflict>,
}

/// A bed with what stands in it.
#[derive(Debug, Clone, PartialEq)]
pub struct BedRow {
    /// Which bed.
    pub bed: BedId,
    /// Its length, m.
    pub length_m: f64,
    /// What stands in it, by week and metre.
    pub bars: Vec<Bar>,
}

/// A stretch of a bed with one planting.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// What stands there.
    pub what: Source,
    /// Of which variety.
    pub variety: VarietyId,
    /// First and last week.
    pub weeks: (IsoWeek, IsoWeek),
    /// From the beginning of the bed, m.
    pub from_m: f64,
    /// To, m.
    pub to_m: f64,
    /// Whether it stands there or the grower chose the bed.
    pub fixed: bool,
}

/// A planting that does not fit.
#[derive(Debug, Clone, PartialEq)]
pub struct Conflict {
    /// Which.
    pub what: Source,
    /// Of which variety.
    pub variety: VarietyId,
    /// Where it should stand: the bed that was chosen or that it stands in, else the space.
    pub place: String,
    /// Metres that do not fit.
    pub metres: f64,
    /// First and last week with too little room.
    pub weeks: (IsoWeek, IsoWeek),
    /// Whether there is no bed with a length and a width there at all.
    pub no_bed: bool,
}

impl Conflict {
    /// The conflict in a sentence, for a variety called `name`.
    pub fn say(&self, name: Say) -> Say {
        let key = if self.no_bed {
            "bed_plan.no_bed"
        } else {
            "bed_plan.too_full"
        };
        Say::new(key)
            .with("name", name)
            .with("place", self.place.clone())
            .with("metres", Arg::Length(self.metres))
            .with("from", self.weeks.0)
            .with_some("to", (self.weeks.0 != self.weeks.1).then_some(self.weeks.1))
    }
}

/// The beds of all spaces as of a day, with what stands, is in trays and is accepted.
pub fn bed_plan(outlook: &Outlook<'_>) -> Arc<BedPlan> {
    outlook.keep(laid_out)
}

fn laid_out(outlook: &Outlook<'_>) -> BedPlan {
    let (almanac, today) = (outlook.almanac(), outlook.today());
    let this_week = IsoWeek::of(today);
    let season = almanac.season();
    let beds: Vec<&Bed> = season
        .spaces_in_order()
        .iter()
        .filter(|space| space.holds_beds())
        .flat_map(|space| season.beds_of(&space.id))
        .filter(|bed| size_of(bed).is_some())
        .collect();
    let wishes: Vec<Wish<'_>> = outlook
        .supply()
        .courses
        .iter()
        .filter_map(|(source, course)| wish(almanac, source, course, today))
        .collect();
    let first = wishes
        .iter()
        .map(|wish| wish.weeks.0)
        .fold(this_week, IsoWeek::min);
    let first = first.max(this_week.plus(-WEEKS_BACK));
    let last = wishes
        .iter()
        .map(|wish| wish.weeks.1)
        .fold(this_week, IsoWeek::max);
    let last = last.min(this_week.plus(WEEKS_AHEAD));
    let index = |week: IsoWeek| first.weeks_until(week.max(first).min(last)).unsigned_abs();
    let number: BTreeMap<&BedId, usize> = beds
        .iter()
        .enumerate()
        .map(|(n, bed)| (&bed.id, n))
        .collect();
    let stays: Vec<layout::Planting> = wishes
        .iter()
        .map(|wish| layout::Planting {
            from: index(wish.weeks.0),
            to: index(wish.weeks.1) + 1,
            options: places(almanac, wish, &beds, &number),
            fixed: wish.bed.is_some(),
        })
        .collect();
    let ground = LayoutProblem {
        beds: beds
            .iter()
            .filter_map(|bed| size_of(bed))
            .map(|(length_m, _)| layout::Bed {
                length_m,
                from: 0,
                to: index(last) + 1,
            })
            .collect(),
        plantings: stays,
        split: true,
    };
    // Sizes and weeks were looked at above; what is odd all the same leaves the beds empty.
    let laid = lay_out(&ground).unwrap_or_default();
    let week = |n: u32| first.plus(n as i32);
    let mut conflicts: Vec<Conflict> = wishes
        .iter()
        .zip(&ground.plantings)
        .zip(&laid)
        .filter_map(|((wish, stay), laid)| conflict(wish, stay, laid, week))
        .collect();
    conflicts.sort_by_key(|conflict| conflict.weeks);
    BedPlan {
        weeks: (first, last),
        beds: rows(&beds, &wishes, &laid, (first, last)),
        conflicts,
    }
}

fn conflict(
    wish: &Wish<'_>,
    stay: &layout::Planting,
    laid: &Placement,
    week: impl Fn(u32) -> IsoWeek,
) -> Option<Conflict> {
    let no_bed = stay.options.is_empty();
    let short = laid.short.or(no_bed.then_some((stay.from, stay.to)))?;
    let place = match (wish.bed, wish.space) {
        (Some(bed), _) => bed.name.clone(),
        (None, Some(space)) => space.name.clone(),
        (None, None) => crate::words::text("space.outdoors").to_owned(),
    };
    Some(Conflict {
        what: wish.what.clone(),
        variety: wish.variety.clone(),
        place,
        metres: laid.missing_m,
        weeks: (week(short.0), week(short.1.saturating_sub(1))),
        no_bed,
    })
}

fn rows(
    beds: &[&Bed],
    wishes: &[Wish<'_>],
    laid: &[Placement],
    span: (IsoWeek, IsoWeek),
) -> Vec<BedRow> {
    let mut rows: Vec<BedRow> = beds
        .iter()
        .filter_map(|bed| {
            Some(BedRow {
                bed: bed.id.clone(),
                length_m: size_of(bed)?.0,
                bars: Vec::new(),
            })
        })
        .collect();
    for (wish, laid) in wishes.iter().zip(laid) {
        for piece in &laid.pieces {
            if let Some(row) = rows.get_mut(piece.bed) {
                row.bars.push(Bar {
                    what: wish.what.clone(),
                    variety: wish.variety.clone(),
                    weeks: (wish.weeks.0.max(span.0), wish.weeks.1.min(span.1)),
                    from_m: piece.from_m,
                    to_m: piece.to_m,
                    fixed: wish.bed.is_some(),
                });
            }
        }
    }
    for row in &mut rows {
        row.bars.sort_by(|a, b| {
            (a.weeks.0, &a.what)
                .cmp(&(b.weeks.0, &b.what))
                .then(a.from_m.total_cmp(&b.from_m))
        });
    }
    rows
}
