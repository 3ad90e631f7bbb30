//! The lines of the season drawing: each sowing from tray to bed to bloom, as wide as what is known of it.

use agronomy::quantity::Spread;
use chrono::{NaiveDate, TimeDelta};
use season::almanac::Almanac;
use season::fact::SpaceKind;
use season::forecast::{Milestones, Source, Supply, TrayForecast, TrayStage, days_of};
use season::ids::{PlannedId, PlantingId, SowingId, VarietyId};
use season::state::{Planting, Sowing};

/// What a stroke shows; each has its own texture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Texture {
    /// In trays on the heat mat.
    Mat,
    /// In trays on a shelf.
    Shelf,
    /// Hardening off.
    Hardening,
    /// In a bed.
    Bed,
    /// Stems, if it comes early or lasts long.
    Maybe,
    /// Stems.
    Likely,
    /// Stems that were cut.
    Cut,
}

/// One texture from one day to another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stroke {
    /// What it shows.
    pub what: Texture,
    /// From the beginning of this day.
    pub from: NaiveDate,
    /// To the beginning of this one.
    pub to: NaiveDate,
}

/// What a line stands for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Whose {
    /// Plants in trays.
    Sowing(SowingId),
    /// Plants in a bed.
    Planting(PlantingId),
    /// A sowing of the plan.
    Planned(PlannedId),
}

/// One line of the drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Life {
    /// What it stands for.
    pub whose: Whose,
    /// Of which variety.
    pub variety: VarietyId,
    /// Sown, or to be sown.
    pub sown: NaiveDate,
    /// Planted, or to be planted.
    pub planted: Option<NaiveDate>,
    /// First stems.
    pub bloom: Option<Spread<NaiveDate>>,
    /// Last stems, if it goes as forecast.
    pub last: Option<NaiveDate>,
    /// The first cut, if stems were cut.
    pub first_cut: Option<NaiveDate>,
    /// Cleared or given up.
    pub ended: Option<NaiveDate>,
    /// Its days, of a sowing of the plan.
    pub days: Option<Milestones>,
    /// Its strokes, in the order in which they are drawn.
    pub strokes: Vec<Stroke>,
}

impl Life {
    /// Every day that the drawing must span.
    pub fn dates(&self) -> impl Iterator<Item = NaiveDate> {
        self.strokes.iter().flat_map(|s| [s.from, s.to])
    }
}

fn shifted(date: NaiveDate, days: i64) -> NaiveDate {
    date.checked_add_signed(TimeDelta::days(days))
        .unwrap_or(date)
}

/// All lines, by the day of sowing. What ended before `since` is left out.
pub fn lives(
    almanac: &Almanac<'_>,
    supply: &Supply,
    today: NaiveDate,
    since: NaiveDate,
) -> Vec<Life> {
    let season = almanac.season();
    let mut lives: Vec<Life> = Vec::new();
    for planting in season.plantings.values() {
        lives.push(of_planting(almanac, supply, planting, today));
    }
    for sowing in season.sowings.values() {
        lives.extend(of_sowing(almanac, supply, sowing, today));
    }
    for line in &supply.lines {
        let Source::Planned(id) = &line.source else {
            continue;
        };
        let planned = season.planned.get(id);
        let days = planned.and_then(|planned| days_of(almanac, planned, line, today));
        lives.extend(days.map(|days| of_planned(id, &line.variety, &days)));
    }
    lives.retain(|life| life.ended.is_none_or(|end| end >= since));
    lives.sort_by_cached_key(|life| {
        let planned = matches!(life.whose, Whose::Planned(_));
        (
            planned,
            life.sown,
            almanac.variety_name(&life.variety),
            life.planted,
        )
    });
    lives
}

/// Strokes in trays up to a day, and where they go from there.
fn in_trays(
    almanac: &Almanac<'_>,
    sowing: &Sowing,
    forecast: Option<&TrayForecast>,
    until: NaiveDate,
    today: NaiveDate,
) -> Vec<Stroke> {
    let texture = |kind: Option<SpaceKind>| match kind {
        Some(SpaceKind::Mat) => Texture::Mat,
        Some(SpaceKind::Hardening) => Texture::Hardening,
        _ => Texture::Shelf,
    };
    let mut marks: Vec<(NaiveDate, Texture)> = vec![(sowing.date, Texture::Shelf)];
    for (date, space) in &sowing.stood {
        marks.push((*date, texture(almanac.space(space).map(|s| s.what))));
    }
    if let Some(date) = sowing.mat_off {
        marks.push((date, Texture::Shelf));
        // Where the trays went that day says more.
        let there = sowing.space_on(date).and_then(|space| almanac.space(space));
        marks.push((
            date,
            match texture(there.map(|s| s.what)) {
                Texture::Mat => Texture::Shelf,
                other => other,
            },
        ));
    }
    if let Some(date) = sowing.hardening {
        marks.push((date, Texture::Hardening));
    }
    marks.sort_by_key(|(date, _)| *date);
    if let Some(forecast) = forecast {
        let on_mat = marks.last().is_some_and(|(_, t)| *t == Texture::Mat);
        if let Some(quiet) = forecast.quiet.filter(|_| on_mat) {
            marks.push((quiet.max(today), Texture::Shelf));
        }
        if let Some(harden) = forecast.harden.filter(|_| sowing.hardening.is_none()) {
            marks.push((harden.max(today), Texture::Hardening));
        }
    }
    strokes(&marks, until)
}

/// Strokes from one mark to the next, the last one to the end.
fn strokes(marks: &[(NaiveDate, Texture)], until: NaiveDate) -> Vec<Stroke> {
    let ends = marks.iter().skip(1).map(|(date, _)| *date).chain([until]);
    marks
        .iter()
        .zip(ends)
        .map(|((from, what), to)| Stroke {
            what: *what,
            from: *from,
            to: to.min(until),
        })
        .filter(|stroke| stroke.from < stroke.to)
        .collect()
}

/// Days that stems are cut for.
fn window_days(almanac: &Almanac<'_>, variety: &VarietyId) -> i64 {
    almanac
        .crop(variety)
        .and_then(|crop| crop.typical("harvest_window_days"))
        .map_or(14, |days| days.round() as i64)
}

/// Strokes of stems that are still to come.
fn stems(bloom: Spread<NaiveDate>, days: i64) -> [Stroke; 3] {
    let last = bloom.map(|first| shifted(first, days.max(1)));
    let stroke = |what, from, to| Stroke { what, from, to };
    [
        stroke(Texture::Maybe, bloom.p10, bloom.p50),
        stroke(Texture::Likely, bloom.p50, last.p50),
        stroke(Texture::Maybe, last.p50, last.p90),
    ]
}

fn of_planting(
    almanac: &Almanac<'_>,
    supply: &Supply,
    planting: &Planting,
    today: NaiveDate,
) -> Life {
    let sowing = planting
        .sowing
        .as_ref()
        .and_then(|id| almanac.season().sowings.get(id));
    let bloom = supply.beds.get(&planting.id).and_then(|bed| bed.bloom);
    let days = window_days(almanac, &planting.variety);
    let (first_cut, last_cut) = (
        planting.first_cut(),
        planting.cuts.last().map(|cut| cut.date),
    );
    let ended = planting.finished;
    let last = bloom.map(|bloom| shifted(bloom.p50, days).max(last_cut.unwrap_or(bloom.p50)));
    let end = ended.or(last).unwrap_or(shifted(today, 1));
    let mut drawn = sowing.map_or_else(Vec::new, |sowing| {
        in_trays(almanac, sowing, None, planting.date, today)
    });
    drawn.push(Stroke {
        what: Texture::Bed,
        from: planting.date,
        to: end.max(shifted(planting.date, 1)),
    });
    if let (Some(first), Some(last)) = (first_cut, last_cut) {
        drawn.push(Stroke {
            what: Texture::Cut,
            from: first,
            to: shifted(last, 1),
        });
    }
    if let (None, Some(bloom)) = (ended, bloom) {
        let from = if first_cut.is_some() {
            today
        } else {
            planting.date
        };
        let later = stems(bloom, days).map(|stroke| Stroke {
            from: stroke.from.max(from),
            ..stroke
        });
        drawn.extend(later.into_iter().filter(|stroke| stroke.from < stroke.to));
    }
    Life {
        whose: Whose::Planting(planting.id.clone()),
        variety: planting.variety.clone(),
        sown: sowing.map_or(planting.date, |sowing| sowing.date),
        planted: Some(planting.date),
        bloom,
        last,
        first_cut,
        ended,
        days: None,
        strokes: drawn,
    }
}

/// A sowing's line: what is still in trays, or was given up there. One that was all planted has its plantings' lines.
fn of_sowing(
    almanac: &Almanac<'_>,
    supply: &Supply,
    sowing: &Sowing,
    today: NaiveDate,
) -> Option<Life> {
    let forecast = supply.trays.get(&sowing.id)?;
    let over = forecast.stage == TrayStage::Ended;
    if over && !sowing.plantings.is_empty() {
        return None;
    }
    let ended = over.then(|| {
        let last_loss = sowing.losses.last().map(|loss| loss.date);
        sowing.finished.or(last_loss).unwrap_or(today)
    });
    let plant = forecast
        .plant
        .map(|window| window.best.max(today))
        .filter(|_| !over);
    let until = ended.or(plant).unwrap_or(shifted(today, 1));
    let mut drawn = in_trays(almanac, sowing, (!over).then_some(forecast), until, today);
    let days = window_days(almanac, &sowing.variety);
    let bloom = forecast.bloom.filter(|_| !over);
    drawn.extend(in_bed(plant, bloom, days));
    Some(Life {
        whose: Whose::Sowing(sowing.id.clone()),
        variety: sowing.variety.clone(),
        sown: sowing.date,
        planted: plant,
        bloom,
        last: bloom.map(|bloom| shifted(bloom.p50, days)),
        first_cut: None,
        ended,
        days: None,
        strokes: drawn,
    })
}

/// Strokes of plants that are still to be planted.
fn in_bed(plant: Option<NaiveDate>, bloom: Option<Spread<NaiveDate>>, days: i64) -> Vec<Stroke> {
    let (Some(plant), Some(bloom)) = (plant, bloom) else {
        return Vec::new();
    };
    let mut drawn = vec![Stroke {
        what: Texture::Bed,
        from: plant,
        to: shifted(bloom.p50, days).max(shifted(plant, 1)),
    }];
    drawn.extend(stems(bloom, days));
    drawn
}

/// A sowing of the plan, by its days.
pub fn of_planned(id: &PlannedId, variety: &VarietyId, days: &Milestones) -> Life {
    let marks = [
        (days.sow, Texture::Mat),
        (days.off_mat, Texture::Shelf),
        (days.harden, Texture::Hardening),
    ];
    let plant = days.plant.best;
    let mut drawn = strokes(&marks, plant);
    let cut = days
        .bloom
        .zip(days.last)
        .map_or(0, |(bloom, last)| (last - bloom.p50).num_days());
    drawn.extend(in_bed(Some(plant), days.bloom, cut));
    Life {
        whose: Whose::Planned(id.clone()),
        variety: variety.clone(),
        sown: days.sow,
        planted: Some(plant),
        bloom: days.bloom,
        last: days.last,
        first_cut: None,
        ended: None,
        days: Some(*days),
        strokes: drawn,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    #[test]
    fn strokes_run_from_mark_to_mark_and_stop_at_the_end() {
        let marks = [
            (day("2027-01-15"), Texture::Mat),
            (day("2027-01-29"), Texture::Shelf),
            (day("2027-03-20"), Texture::Hardening),
        ];
        let drawn = strokes(&marks, day("2027-03-10"));
        assert_eq!(drawn.len(), 2);
        assert_eq!(drawn[0].to, day("2027-01-29"));
        assert_eq!(drawn[1].to, day("2027-03-10"));
    }

    #[test]
    fn the_band_of_stems_is_as_wide_as_its_uncertainty() {
        let bloom = Spread {
            p10: day("2027-06-10"),
            p50: day("2027-06-20"),
            p90: day("2027-07-02"),
        };
        let [early, likely, late] = stems(bloom, 21);
        assert_eq!((early.from, early.to), (bloom.p10, bloom.p50));
        assert_eq!((likely.from, likely.to), (bloom.p50, day("2027-07-11")));
        assert_eq!((late.from, late.to), (day("2027-07-11"), day("2027-07-23")));
    }
}
