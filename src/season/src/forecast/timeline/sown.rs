//! What is in trays: where they were by the records, and where they go from there.

use chrono::NaiveDate;

use super::ahead::{Set, ToSet};
use super::{Course, Phase, Station, shifted};
use crate::almanac::Almanac;
use crate::fact::SpaceKind;
use crate::forecast::tray::{TrayForecast, TrayStage};
use crate::ids::*;
use crate::space::trays_of;
use crate::state::Sowing;

/// From this day on trays are at a station, in a space if that was noted.
type Mark = (NaiveDate, Station, Option<SpaceId>);

/// The course of a sowing; `None` once it is all planted, for then its plantings have theirs.
pub(in crate::forecast) fn of_sowing(
    almanac: &Almanac<'_>,
    sowing: &Sowing,
    forecast: &TrayForecast,
    today: NaiveDate,
) -> Option<Course> {
    let over = forecast.stage == TrayStage::Ended;
    if over && !sowing.plantings.is_empty() {
        return None;
    }
    let planned = sowing.planned.as_ref();
    let planned = planned.and_then(|id| almanac.season().planned.get(id));
    let now = today.max(sowing.date);
    let mut course = Course {
        space: forecast.space.clone(),
        bed: planned.and_then(|planned| planned.bed.clone()),
        sown: sowing.date,
        plant: forecast.plant.filter(|_| !over),
        cells: sowing.cells,
        plants: forecast.plants.p50.round().max(0.0) as u32,
        spare: over || forecast.spare,
        ..Course::of_stems(sowing.variety.clone(), Vec::new())
    };
    let mut marks = recorded(almanac, sowing, now);
    if over {
        let last_loss = sowing.losses.last().map(|loss| loss.date);
        let ended = sowing.finished.or(last_loss).unwrap_or(today);
        course.ended = Some(ended);
        course.phases = phases(marks, ended, 0.0);
        return Some(course);
    }
    let tomorrow = shifted(now, 1);
    let plant = forecast
        .plant
        .map_or(tomorrow, |window| window.best.max(tomorrow));
    marks.extend(to_come(almanac, &marks, forecast, (tomorrow, plant)));
    let trays = trays_of(sowing, now).unwrap_or(0);
    course.phases = phases(marks, plant, f64::from(trays));
    let crop = almanac.crop(&sowing.variety);
    if let Some(crop) = crop.filter(|_| forecast.plant.is_some() && !forecast.spare) {
        let Set {
            bed,
            flushes,
            weeks,
        } = ToSet {
            variety: &sowing.variety,
            crop,
            space: forecast.space.as_ref().and_then(|id| almanac.space(id)),
            plant,
            bloom: forecast.bloom,
            plants: forecast.plants.p50,
        }
        .set(almanac, today);
        course.phases.push(bed);
        course.bloom = forecast.bloom;
        course.flushes = flushes;
        course.weeks = weeks;
    }
    Some(course)
}

/// Where trays were up to a day, by the records.
pub(super) fn recorded(almanac: &Almanac<'_>, sowing: &Sowing, until: NaiveDate) -> Vec<Mark> {
    let station = |space: &SpaceId| match almanac.space(space).map(|space| space.what) {
        Some(SpaceKind::Mat) => Station::Mat,
        Some(SpaceKind::Hardening) => Station::Hardening,
        _ => Station::Shelf,
    };
    let mut marks: Vec<Mark> = vec![(sowing.date, Station::Shelf, None)];
    for (date, space) in &sowing.stood {
        marks.push((*date, station(space), Some(space.clone())));
    }
    if let Some(date) = sowing.mat_off {
        let space = sowing.space_on(date);
        // Without heat a mat is a shelf.
        let there = match space.map(station) {
            None | Some(Station::Mat) => Station::Shelf,
            Some(other) => other,
        };
        marks.push((date, there, space.cloned()));
    }
    if let Some(date) = sowing.hardening {
        let space = sowing.space_on(date).cloned();
        marks.push((date, Station::Hardening, space));
    }
    marks.retain(|(date, ..)| *date <= until);
    marks.sort_by_key(|(date, ..)| *date);
    marks
}

/// Where trays go from where they are: off the mat once it is quiet, and out to harden.
fn to_come(
    almanac: &Almanac<'_>,
    recorded: &[Mark],
    forecast: &TrayForecast,
    (tomorrow, plant): (NaiveDate, NaiveDate),
) -> Vec<Mark> {
    let Some((_, station, space)) = recorded.last() else {
        return Vec::new();
    };
    let here = space.as_ref().and_then(|id| almanac.space(id));
    let here = here.map(|space| space.what);
    let harden = forecast
        .harden
        .map_or(plant, |harden| harden.clamp(tomorrow, plant));
    match here {
        Some(SpaceKind::Hardening) => Vec::new(),
        Some(SpaceKind::Mat) => {
            let off = forecast.quiet.unwrap_or(tomorrow).max(tomorrow).min(plant);
            let grown = harden.max(off);
            let next = match station {
                Station::Hardening => Station::Hardening,
                _ => Station::Shelf,
            };
            vec![(off, next, None), (grown, Station::Hardening, None)]
        }
        _ => vec![(harden, Station::Hardening, None)],
    }
}

/// Stays from one mark to the next, the last one to the end.
pub(super) fn phases(marks: Vec<Mark>, until: NaiveDate, trays: f64) -> Vec<Phase> {
    let ends: Vec<NaiveDate> = marks
        .iter()
        .skip(1)
        .map(|(date, ..)| *date)
        .chain([until])
        .collect();
    marks
        .into_iter()
        .zip(ends)
        .map(|((from, station, space), to)| Phase {
            station,
            space,
            from,
            to: to.min(until),
            needs: trays,
        })
        .filter(|phase| phase.from < phase.to)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stays_run_from_mark_to_mark_and_stop_at_the_end() {
        let day = |text: &str| text.parse::<NaiveDate>().expect("date");
        let marks = vec![
            (day("2027-01-15"), Station::Mat, None),
            (day("2027-01-29"), Station::Shelf, None),
            (day("2027-03-20"), Station::Hardening, None),
        ];
        let found = phases(marks, day("2027-03-10"), 1.0);
        assert_eq!(found.len(), 2);
        assert_eq!(found[0].to, day("2027-01-29"));
        assert_eq!(found[1].to, day("2027-03-10"));
    }
}
