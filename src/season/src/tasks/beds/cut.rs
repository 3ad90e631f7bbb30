//! Cutting, and clearing the bed when it is over.

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Spread;
use chrono::NaiveDate;
use culture::Crop;

use super::super::{Task, TaskKind};
use super::Bed;
use crate::forecast::{Window, shifted};
use crate::words::{Arg, Say};

/// Cut every so many days where the crop says nothing: three times a week, common practice.
const CUT_EVERY_DAYS: f64 = 2.0;

/// Days from one cut to the next, usual and longest.
fn every(crop: &Crop) -> (i64, i64) {
    let (_, usual, longest) = crop.figure("cut_every_days").map_or(
        (CUT_EVERY_DAYS, CUT_EVERY_DAYS, 2.0 * CUT_EVERY_DAYS),
        |range| range.spread(),
    );
    let days = |days: f64| (days.round() as i64).max(1);
    (days(usual), days(longest))
}

/// The first cut or the next.
pub(super) fn cut(bed: &Bed<'_>, bloom: Spread<NaiveDate>) -> Option<Task> {
    let stage = bed
        .text("harvest_stage")
        .map(|note| Arg::Note(note.to_owned()));
    let (window, why) = if bed.forecast.cutting {
        let last = bed.last_cut();
        let (usual, longest) = every(bed.crop);
        let this_week = IsoWeek::of(bed.today);
        let expected = bed
            .forecast
            .weeks
            .iter()
            .find(|(week, _)| *week == this_week);
        let window = Window {
            earliest: shifted(last, 1),
            best: shifted(last, usual),
            // A day's grace: nobody is late on the day after.
            latest: shifted(last, longest.max(usual + 1)),
        };
        let why = Say::new("task.cut.why_next").with("date", last).with_some(
            "n",
            expected.map(|(_, stems)| Arg::Number(stems.p50.round() as i64)),
        );
        (window, why)
    } else if bed.planting.first_colour.is_some() {
        let window = Window {
            earliest: bloom.p10,
            best: bloom.p50,
            latest: bloom.p90,
        };
        let why = Say::new("task.cut.why_first")
            .with("from", bloom.p10)
            .with("to", bloom.p90);
        (window, why)
    } else {
        return None;
    };
    Some(Task {
        caution: caution_of(bed),
        ..bed.task(TaskKind::Cut, window, why.with_some("stage", stage))
    })
}

/// Once the last week in which stems were to be expected is past.
pub(super) fn clear(bed: &Bed<'_>) -> Option<Task> {
    let this_week = IsoWeek::of(bed.today);
    let over = bed.forecast.last_week.is_none_or(|last| last < this_week);
    if !bed.forecast.cutting || !over {
        return None;
    }
    let last = bed.last_cut();
    let window = Window {
        earliest: last,
        best: shifted(last, 7),
        latest: shifted(last, 21),
    };
    let why = Say::new("task.clear.why")
        .with("date", last)
        .with("n", bed.forecast.cut);
    Some(bed.task(TaskKind::Clear, window, why))
}

impl Bed<'_> {
    fn last_cut(&self) -> NaiveDate {
        self.planting.cuts.last().map_or(self.today, |cut| cut.date)
    }
}

/// The usual caution for handling a crop's cut stems: the reference notes a hazard.
fn caution_of(bed: &Bed<'_>) -> Option<&'static str> {
    let note = bed.text("hazards")?;
    (!note.starts_with("none")).then_some("caution.handling")
}
