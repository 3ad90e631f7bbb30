//! What is in a bed, with the trays it came from.

use agronomy::quantity::Spread;
use chrono::NaiveDate;

use super::ahead::until_last;
use super::harvest::{Flush, flushes};
use super::sown::{phases, recorded};
use super::{Course, Phase, Station, shifted};
use crate::almanac::Almanac;
use crate::forecast::bed::BedForecast;
use crate::forecast::timing::spared_by_frost;
use crate::space::planting_metres;
use crate::state::Planting;

/// The course of a planting.
///
/// Before the first cut it ends as it was to end when it was planned. From then on it ends with the last week in which the cuts let
/// expect a stem. What is not cleared is there today.
pub(in crate::forecast) fn of_planting(
    almanac: &Almanac<'_>,
    planting: &Planting,
    forecast: &BedForecast,
    today: NaiveDate,
) -> Course {
    let space = almanac.space_of_bed(&planting.bed);
    let sowing = planting.sowing.as_ref();
    let sowing = sowing.and_then(|id| almanac.season().sowings.get(id));
    let cut = planting
        .first_cut()
        .zip(planting.cuts.last().map(|cut| cut.date));
    let flushes = match (cut, forecast.bloom) {
        (Some((first, last)), _) => {
            let end = forecast
                .last_week
                .map_or(shifted(last, 1), |week| week.sunday());
            vec![Flush {
                from: Spread::exact(first),
                to: Spread::exact(end.max(shifted(last, 1))),
            }]
        }
        (None, Some(bloom)) => almanac
            .crop(&planting.variety)
            .map_or_else(Vec::new, |crop| {
                let spared = spared_by_frost(almanac, crop, space, bloom.p50);
                flushes(crop, bloom, spared)
            }),
        (None, None) => Vec::new(),
    };
    let to = match planting.finished {
        Some(end) => end,
        None => until_last(planting.date, &flushes).max(shifted(today, 1)),
    };
    let mut stays = sowing.map_or_else(Vec::new, |sowing| {
        let marks = recorded(almanac, sowing, planting.date);
        phases(marks, planting.date, 0.0)
    });
    stays.push(Phase {
        station: Station::Bed,
        space: space.map(|space| space.id.clone()),
        from: planting.date,
        to: to.max(shifted(planting.date, 1)),
        needs: almanac
            .bed(&planting.bed)
            .map_or(0.0, |bed| planting_metres(almanac, bed, planting)),
    });
    Course {
        space: space.map(|space| space.id.clone()),
        bed: Some(planting.bed.clone()),
        sown: sowing.map_or(planting.date, |sowing| sowing.date),
        plants: planting.standing(),
        phases: stays,
        bloom: forecast.bloom,
        flushes,
        cut,
        ended: planting.finished,
        ..Course::of_stems(planting.variety.clone(), forecast.weeks.clone())
    }
}
