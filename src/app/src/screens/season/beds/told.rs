//! Beds through the year in words and places on the drawing.

use chrono::NaiveDate;
use season::almanac::Almanac;
use season::bed_plan::{Bar, bed_plan};
use season::forecast::{Outlook, Source};
use season::ids::{BedId, PlannedId};
use season::words::{Arg, Manner, Say};

use super::super::axis::Axis;
use super::super::weeks::span;
use crate::forms::names;
use crate::route::Route;
use crate::screens::beds::letter;

/// Height of a bed on the drawing: px for each of its metres, within limits.
const METRE: f64 = 10.0;
const HEIGHT: (f64, f64) = (56.0, 140.0);

/// Beds, what stands in them and what does not fit.
#[derive(Clone, PartialEq)]
pub struct Told {
    pub axis: Axis,
    pub today: NaiveDate,
    pub beds: Vec<BedTold>,
    pub conflicts: Vec<ConflictTold>,
}

/// A bed.
#[derive(Clone, PartialEq)]
pub struct BedTold {
    pub name: String,
    pub size: String,
    /// All of it in one sentence, for who can't see the drawing.
    pub label: String,
    /// Height on the drawing, px.
    pub height: f64,
    pub bars: Vec<BarTold>,
}

/// A stretch of a bed with a planting.
#[derive(Clone, PartialEq)]
pub struct BarTold {
    pub letter: String,
    pub name: String,
    pub weeks: String,
    pub along: String,
    pub look: Look,
    pub way: Way,
    /// From the left and wide, percent; from the top and high, px.
    pub place: (f64, f64, f64, f64),
}

/// How settled it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// It stands there.
    Stands,
    /// The grower chose the bed.
    Chosen,
    /// The plan chose it.
    Open,
}

/// Where a planting leads.
#[derive(Clone, PartialEq)]
pub enum Way {
    /// To its own page.
    Page(Route),
    /// To the choice of its bed.
    Choose(PlannedId),
}

/// What does not fit.
#[derive(Clone, PartialEq)]
pub struct ConflictTold {
    pub said: String,
    pub way: Way,
}

impl Look {
    /// The class of its bar.
    pub fn class(self) -> &'static str {
        match self {
            Self::Stands => "bedyear__bar bedyear__bar--stands",
            Self::Chosen => "bedyear__bar bedyear__bar--chosen",
            Self::Open => "bedyear__bar bedyear__bar--open",
        }
    }
}

/// All beds as of a day.
pub fn told(outlook: &Outlook<'_>, manner: Manner) -> Told {
    let (almanac, today) = (outlook.almanac(), outlook.today());
    let plan = bed_plan(outlook);
    let axis = Axis::around(
        today,
        [plan.weeks.0.monday(), plan.weeks.1.sunday()].into_iter(),
    );
    let beds = plan
        .beds
        .iter()
        .map(|row| of_bed(almanac, &row.bed, row.length_m, &row.bars, axis, manner));
    let conflicts = plan.conflicts.iter().map(|conflict| ConflictTold {
        said: conflict
            .say(names::variety(almanac, &conflict.variety))
            .write(manner),
        way: way(almanac, &conflict.what),
    });
    Told {
        axis,
        today,
        beds: beds.collect(),
        conflicts: conflicts.collect(),
    }
}

fn of_bed(
    almanac: &Almanac<'_>,
    bed: &BedId,
    length_m: f64,
    bars: &[Bar],
    axis: Axis,
    manner: Manner,
) -> BedTold {
    let name = names::bed(almanac, bed).write(manner);
    let height = (length_m * METRE).clamp(HEIGHT.0, HEIGHT.1);
    let bars: Vec<BarTold> = bars
        .iter()
        .enumerate()
        .map(|(n, bar)| {
            let (left, right) = (
                axis.x(bar.weeks.0.monday()),
                axis.x(bar.weeks.1.plus(1).monday()),
            );
            let part = |metres: f64| metres / length_m * height;
            BarTold {
                letter: letter(n),
                name: names::variety(almanac, &bar.variety).write(manner),
                weeks: span(bar.weeks.0, bar.weeks.1).write(manner),
                along: Say::new("bed_plan.along")
                    .with("from", Arg::Length(bar.from_m))
                    .with("to", Arg::Length(bar.to_m))
                    .write(manner),
                look: match (&bar.what, bar.fixed) {
                    (Source::Planting(_), _) => Look::Stands,
                    (_, true) => Look::Chosen,
                    (_, false) => Look::Open,
                },
                way: way(almanac, &bar.what),
                place: (
                    left,
                    right - left,
                    part(bar.from_m),
                    part(bar.to_m - bar.from_m),
                ),
            }
        })
        .collect();
    let size = Say::new("bed_plan.size")
        .with("length", Arg::Length(length_m))
        .write(manner);
    let parts: Vec<String> = bars
        .iter()
        .map(|bar| {
            Say::new("bed_plan.part")
                .with("letter", bar.letter.clone())
                .with("name", bar.name.clone())
                .with("weeks", bar.weeks.clone())
                .with("along", bar.along.clone())
                .write(manner)
        })
        .collect();
    let label = if parts.is_empty() {
        Say::new("bed_plan.row_empty").with("bed", name.clone())
    } else {
        Say::new("bed_plan.row")
            .with("bed", name.clone())
            .with("parts", parts.join("; "))
    };
    BedTold {
        label: label.write(manner),
        name,
        size,
        height,
        bars,
    }
}

/// Where a planting leads: one that was planned has a bed to choose, as long as it is not planted.
fn way(almanac: &Almanac<'_>, what: &Source) -> Way {
    match what {
        Source::Planting(id) => Way::Page(Route::Planting(id.clone())),
        Source::Planned(id) => Way::Choose(id.clone()),
        Source::Sowing(id) => {
            let season = almanac.season();
            let planned = season
                .sowings
                .get(id)
                .and_then(|sowing| sowing.planned.clone());
            match planned.filter(|planned| season.planned.contains_key(planned)) {
                Some(planned) => Way::Choose(planned),
                None => Way::Page(Route::Tray(id.clone())),
            }
        }
    }
}
