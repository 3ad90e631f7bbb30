//! Why stems can't be had, and what would mend it.

use agronomy::iso_week::IsoWeek;
use chrono::NaiveDate;
use planner::shortages::{Bottleneck, Shortage};

use super::brief::Brief;
use super::rooms::Place;
use super::wishes::Wish;
use super::{Shortfall, sowing_for_bloom};
use crate::almanac::Almanac;
use crate::fact::SpaceKind;
use crate::words::{Arg, Say};

/// Why no sowing can serve a week.
#[derive(Debug, Clone, PartialEq)]
enum Miss {
    /// Nothing is grown that answers.
    NoVariety,
    /// Place or frost dates are not said.
    NoPlace,
    /// Nowhere to plant.
    NoSpace,
    /// The reference lacks what is needed to time the crop.
    NoFigures,
    /// The last sowing day for it has passed.
    TooLate(NaiveDate),
    /// Frost holds planting back: the earliest bloom.
    TooEarly(NaiveDate),
    /// Autumn frost ends the crop first, or heat its seedlings.
    Season,
}

impl Miss {
    fn key(&self) -> &'static str {
        match self {
            Self::NoVariety => "short.no_variety",
            Self::NoPlace => "short.no_place",
            Self::NoSpace => "short.no_space",
            Self::NoFigures => "short.no_figures",
            Self::TooLate(_) => "short.too_late",
            Self::TooEarly(_) => "short.too_early",
            Self::Season => "short.frost",
        }
    }

    fn say(&self) -> Say {
        let say = Say::new(self.key());
        match self {
            Self::TooLate(date) | Self::TooEarly(date) => say.with("date", *date),
            _ => say,
        }
    }

    fn latest_sowing(&self) -> Option<NaiveDate> {
        match self {
            Self::TooLate(date) => Some(*date),
            _ => None,
        }
    }
}

/// A shortfall of a wish, in stems of those wanted.
pub(super) fn shortfall(
    almanac: &Almanac<'_>,
    brief: &Brief,
    wish: &Wish,
    shortage: &Shortage,
    stems: f64,
) -> Shortfall {
    let weeks = (brief.week(shortage.weeks.0), brief.week(shortage.weeks.1));
    let (why, latest_sowing, mends) = match shortage.bottlenecks.first() {
        Some(full) => (full_say(almanac, brief, full), None, mends(shortage)),
        None => {
            // A sowing whose first or last stems fall into these weeks does not make them ones that can be served.
            let miss = miss(almanac, brief, wish, weeks);
            let other = matches!(miss, Miss::Season) && shortage.could;
            let say = if other {
                Say::new("short.dear")
            } else {
                miss.say()
            };
            (say, miss.latest_sowing(), Vec::new())
        }
    };
    Shortfall {
        target: wish.target().cloned(),
        asker: wish.asker.clone(),
        wanted: wish.wanted.clone(),
        weeks,
        stems: stems.ceil() as u32,
        why,
        mends: mends
            .into_iter()
            .map(|full| mend_say(almanac, brief, &full))
            .collect(),
        latest_sowing,
    }
}

/// "Shelf full in week 9 to week 12."
fn full_say(almanac: &Almanac<'_>, brief: &Brief, full: &Bottleneck) -> Say {
    let (from, to) = (brief.week(full.weeks.0), brief.week(full.weeks.1));
    Say::new("short.full")
        .with("place", place_name(almanac, brief, full.room))
        .with("from", from)
        .with_some("to", (to != from).then_some(to))
}

fn mends(shortage: &Shortage) -> Vec<Bottleneck> {
    let known = shortage
        .bottlenecks
        .iter()
        .filter(|full| full.more.is_some());
    known.copied().collect()
}

/// "About 3 more trays on the shelf would do."
fn mend_say(almanac: &Almanac<'_>, brief: &Brief, full: &Bottleneck) -> Say {
    let more = full.more.unwrap_or(0.0);
    let place = place_name(almanac, brief, full.room);
    let trays = matches!(brief.places.get(full.room), Some(Place::Trays(_)));
    let still = full.still_missing.unwrap_or(0.0).round() as i64;
    let say = if trays {
        Say::new("short.mend_trays").with("n", Arg::Number(more.ceil() as i64))
    } else {
        Say::new("short.mend_beds").with("n", Arg::Length(more.ceil()))
    };
    say.with("place", place)
        .with_some("still", (still > 0).then_some(still))
}

fn place_name(almanac: &Almanac<'_>, brief: &Brief, room: usize) -> Arg {
    match brief.places.get(room) {
        Some(Place::Trays(SpaceKind::Mat)) => Arg::Key("space.mat"),
        Some(Place::Trays(SpaceKind::Hardening)) => Arg::Key("space.hardening"),
        Some(Place::Trays(_)) | None => Arg::Key("space.shelf"),
        Some(Place::Beds(space)) => {
            let name = almanac.space(space).map(|space| space.name.clone());
            Arg::Text(name.unwrap_or_default())
        }
    }
}

/// Why no sowing gives stems for a wish in some weeks: what could be done soonest tells most.
fn miss(almanac: &Almanac<'_>, brief: &Brief, wish: &Wish, weeks: (IsoWeek, IsoWeek)) -> Miss {
    if almanac.climate().is_err() {
        return Miss::NoPlace;
    }
    let season = almanac.season();
    let spaces: Vec<_> = season
        .spaces_in_order()
        .into_iter()
        .filter(|s| s.holds_beds() && wish.space.as_ref().is_none_or(|id| *id == s.id))
        .collect();
    let mut found: Option<Miss> = None;
    let mut any = false;
    for variety in season.varieties_in_order() {
        if !super::answers(almanac, &variety.id, &wish.wanted) {
            continue;
        }
        any = true;
        for space in &spaces {
            let dates = almanac.crop(&variety.id).and_then(|crop| {
                sowing_for_bloom(almanac, crop, variety.group, space, weeks.1.monday())
            });
            let this = match dates {
                None => Miss::NoFigures,
                Some(dates) => match dates.held_back {
                    Some(bloom) if bloom > weeks.1.monday() => Miss::TooEarly(bloom),
                    _ if dates.sow < brief.today => Miss::TooLate(dates.sow),
                    _ => Miss::Season,
                },
            };
            found = Some(match (found, this) {
                (Some(Miss::TooEarly(a)), Miss::TooEarly(b)) => Miss::TooEarly(a.min(b)),
                (Some(Miss::TooLate(a)), Miss::TooLate(b)) => Miss::TooLate(a.max(b)),
                // The season's limits stay as they are next year; a missed day tells what to do now.
                (Some(Miss::TooLate(a)), _) => Miss::TooLate(a),
                (_, Miss::TooLate(b)) => Miss::TooLate(b),
                (Some(Miss::TooEarly(a)), _) => Miss::TooEarly(a),
                (_, this) => this,
            });
        }
    }
    match (any, found) {
        (false, _) => Miss::NoVariety,
        (true, None) => Miss::NoSpace,
        (true, Some(miss)) => miss,
    }
}
