//! Objections to what is set up and wanted.

use agronomy::AgronomyError;
use agronomy::frost::FrostTiming;
use agronomy::iso_week::IsoWeek;
use chrono::NaiveDate;

use super::Objections;
use crate::almanac::{Almanac, in_common_year};
use crate::fact::{BedFact, Fact, PlaceFact, TargetFact};
use crate::limits::*;
use crate::month_day::MonthDay;
use crate::state::Place;
use crate::typed::MONTHS;
use crate::words::{Arg, Say};

pub(super) fn check(almanac: &Almanac<'_>, fact: &Fact, today: NaiveDate, found: &mut Objections) {
    match fact {
        Fact::Place(f) => {
            place(almanac, f, found);
            rare_frosts(almanac, f, found);
        }
        Fact::Bed(f) => {
            if f.soil_temperature_c.is_some() != f.soil_measured_on.is_some() {
                found.refuse("soil_temperature_c", Say::new("typed.no_number"));
            }
            if let Some(day) = f.soil_measured_on.filter(|day| *day > today) {
                found.refuse(
                    "soil_measured_on",
                    Say::new("check.future").with("date", day),
                );
            }
            if f.in_use_from.is_some() != f.in_use_to.is_some() && !has_both_days(almanac, f) {
                found.refuse("in_use_from", Say::new("check.bed_one_date"));
            }
        }
        Fact::Crop(f) => figures(&f.figures, found),
        Fact::Variety(f) => {
            if let Some(crop) = f
                .crop
                .as_ref()
                .filter(|crop| almanac.reference().crop(crop).is_none())
            {
                found.refuse(
                    "crop",
                    Say::new("check.crop_unknown").with("crop", crop.clone()),
                );
            }
            figures(&f.figures, found);
        }
        Fact::Target(f) => target(almanac, f, today, found),
        Fact::Order(f) => {
            if let Some(date) = f.date.filter(|date| *date < today) {
                found.ask("date", Say::new("check.order_past").with("date", date));
            }
            if f.date
                .zip(f.until)
                .is_some_and(|(date, until)| until < date)
            {
                found.refuse("until", Say::new("check.until_before"));
            }
        }
        Fact::Planned(f) => {
            if let Some(date) = f.sow.filter(|date| *date < today) {
                found.ask("sow", Say::new("check.sow_past").with("date", date));
            }
        }
        _ => {}
    }
}

/// Whether a bed's two days are both known once the fact is taken.
fn has_both_days(almanac: &Almanac<'_>, f: &BedFact) -> bool {
    let was = almanac.bed(&f.of);
    let from = f.in_use_from.or_else(|| was?.in_use_from);
    let to = f.in_use_to.or_else(|| was?.in_use_to);
    from.is_some() && to.is_some()
}

fn place(almanac: &Almanac<'_>, f: &PlaceFact, found: &mut Objections) {
    normals(almanac, f, found);
    if let (Some(last), Some(first)) = (f.last_frost, f.first_frost)
        && last == first
    {
        found.refuse("first_frost", Say::new("check.frosts_same_day"));
    }
}

/// Months that no place has, or whose minimum lies above its maximum. A row that the fact does not name is as it was.
fn normals(almanac: &Almanac<'_>, f: &PlaceFact, found: &mut Objections) {
    let was = almanac.season().places.get(&f.of);
    let low = f.tmin.or_else(|| was?.tmin);
    let high = f.tmax.or_else(|| was?.tmax);
    let is_said = f.tmin.or(f.tmax).is_some();
    let (Some(low), Some(high)) = (low.filter(|_| is_said), high) else {
        return;
    };
    for ((min, max), month) in low.iter().zip(high).zip(MONTHS) {
        let key = if !min.is_finite() || !max.is_finite() || *min < -60.0 || max > 60.0 {
            "check.normals_absurd"
        } else if *min > max {
            "check.normals_upside_down"
        } else {
            continue;
        };
        found.refuse("tmin", Say::new(key).with("month", Arg::Key(month)));
    }
}

/// One-in-ten dates on the wrong side of the average, or far from it. Dates that the fact does not name are as they were.
fn rare_frosts(almanac: &Almanac<'_>, f: &PlaceFact, found: &mut Objections) {
    let was = almanac.season().places.get(&f.of);
    let was = |date: fn(&Place) -> Option<MonthDay>| was.and_then(date);
    let last = (f.last_frost, was(|p| p.last_frost));
    let first = (f.first_frost, was(|p| p.first_frost));
    let late_spring = (f.last_frost_10, was(|p| p.last_frost_10));
    let early_spring = (f.last_frost_90, was(|p| p.last_frost_90));
    let early_autumn = (f.first_frost_10, was(|p| p.first_frost_10));
    let late_autumn = (f.first_frost_90, was(|p| p.first_frost_90));
    for (field, average, rare, is_later) in [
        ("last_frost_10", last, late_spring, true),
        ("last_frost_90", last, early_spring, false),
        ("first_frost_10", first, early_autumn, false),
        ("first_frost_90", first, late_autumn, true),
    ] {
        let is_said = average.0.or(rare.0).is_some();
        if let (Some(average), Some(rare)) = (average.0.or(average.1), rare.0.or(rare.1))
            && is_said
            && let Some(say) = off_its_side(average, rare, is_later)
        {
            found.refuse(field, say);
        }
    }
}

/// What is wrong with a one-in-ten date beside its average.
fn off_its_side(average: MonthDay, rare: MonthDay, is_later: bool) -> Option<Say> {
    let (average, rare) = (in_common_year(average), in_common_year(rare));
    let timing = if is_later {
        FrostTiming::from_dates(average, average, rare)
    } else {
        FrostTiming::from_dates(rare, average, average)
    };
    let Err(AgronomyError::OutOfRange { high, got, .. }) = timing else {
        return None;
    };
    let say = if got > high {
        Say::new("check.frost_far")
    } else if is_later {
        Say::new("check.frost_before_average")
    } else {
        Say::new("check.frost_after_average")
    };
    Some(say.with("most", high as i64))
}

fn figures(figures: &crate::fact::Figures, found: &mut Objections) {
    for (name, value) in figures {
        match (culture::allowed(name), value) {
            (None, _) => found.refuse(
                "figures",
                Say::new("check.figure_unknown").with("name", name.clone()),
            ),
            (Some((least, most)), Some(value)) => found.number("figures", *value, least, most),
            (Some(_), None) => {}
        }
    }
}

fn target(almanac: &Almanac<'_>, f: &TargetFact, today: NaiveDate, found: &mut Objections) {
    let was = almanac.season().targets.get(&f.of);
    let from = f.from.or_else(|| was?.from);
    let to = f.to.or_else(|| was?.to);
    let is_said = f.from.or(f.to).is_some();
    if let (Some(from), Some(to)) = (from.filter(|_| is_said), to) {
        if from > to {
            found.refuse("to", Say::new("check.weeks_upside_down"));
        } else if from.weeks_until(to) >= TARGET_WEEKS_MAX {
            found.refuse(
                "to",
                Say::new("check.weeks_many").with("most", TARGET_WEEKS_MAX),
            );
        } else if to < IsoWeek::of(today) {
            found.refuse("to", Say::new("check.target_past"));
        }
    }
}
