//! The lines of the season drawing: each course from tray to bed to bloom, as wide as what is known of it.

use chrono::{NaiveDate, TimeDelta};
use season::forecast::{Course, Outlook, Source, Station};

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

/// One line of the drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Life {
    /// What it belongs to.
    pub source: Source,
    /// Its days.
    pub course: Course,
    /// Its strokes, in the order in which they are drawn.
    pub strokes: Vec<Stroke>,
}

impl Life {
    /// A course, drawn as of a day.
    pub fn new(source: Source, course: Course, today: NaiveDate) -> Self {
        Self {
            strokes: strokes(&course, today),
            source,
            course,
        }
    }

    /// Every day that the drawing must span.
    pub fn dates(&self) -> impl Iterator<Item = NaiveDate> {
        self.strokes.iter().flat_map(|s| [s.from, s.to])
    }
}

/// All lines, by the day of sowing. What ended before `since` is left out.
pub fn lives(outlook: &Outlook<'_>, since: NaiveDate) -> Vec<Life> {
    let mut lives: Vec<Life> = outlook
        .supply()
        .courses
        .iter()
        .filter(|(_, course)| course.ended.is_none_or(|end| end >= since))
        .map(|(source, course)| Life::new(source.clone(), course.clone(), outlook.today()))
        .collect();
    lives.sort_by_cached_key(|life| {
        let planned = matches!(life.source, Source::Planned(_));
        (
            planned,
            life.course.sown,
            outlook.almanac().variety_name(&life.course.variety),
            life.course.planted(),
        )
    });
    lives
}

fn strokes(course: &Course, today: NaiveDate) -> Vec<Stroke> {
    let stroke = |what, from, to| Stroke { what, from, to };
    let mut drawn: Vec<Stroke> = course
        .phases
        .iter()
        .map(|phase| {
            let what = match phase.station {
                Station::Mat => Texture::Mat,
                Station::Shelf => Texture::Shelf,
                Station::Hardening => Texture::Hardening,
                Station::Bed => Texture::Bed,
            };
            stroke(what, phase.from, phase.to)
        })
        .collect();
    if let Some((first, last)) = course.cut {
        drawn.push(stroke(Texture::Cut, first, next_day(last)));
    }
    if let (None, Some(bloom), Some(last)) = (course.ended, course.bloom, course.last()) {
        let from = match course.cut {
            Some(_) => Some(today),
            None => course.planted(),
        };
        let stems = [
            stroke(Texture::Maybe, bloom.p10, bloom.p50),
            stroke(Texture::Likely, bloom.p50, last.p50),
            stroke(Texture::Maybe, last.p50, last.p90),
        ];
        let stems = stems.map(|stroke| Stroke {
            from: from.map_or(stroke.from, |from| stroke.from.max(from)),
            ..stroke
        });
        drawn.extend(stems.into_iter().filter(|stroke| stroke.from < stroke.to));
    }
    drawn
}

fn next_day(date: NaiveDate) -> NaiveDate {
    date.checked_add_signed(TimeDelta::days(1)).unwrap_or(date)
}

#[cfg(test)]
mod tests {
    use super::*;
    use agronomy::quantity::Spread;
    use season::forecast::{Flush, Phase};
    use season::ids::VarietyId;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn days(p10: &str, p50: &str, p90: &str) -> Spread<NaiveDate> {
        Spread {
            p10: day(p10),
            p50: day(p50),
            p90: day(p90),
        }
    }

    /// Two flushes, the second five weeks after the first.
    fn course() -> Course {
        let phase = |station, from, to| Phase {
            station,
            space: None,
            from: day(from),
            to: day(to),
            needs: 1.0,
        };
        Course {
            phases: vec![
                phase(Station::Mat, "2027-01-15", "2027-01-29"),
                phase(Station::Bed, "2027-04-10", "2027-08-15"),
            ],
            bloom: Some(days("2027-06-10", "2027-06-20", "2027-07-02")),
            flushes: vec![
                Flush {
                    from: days("2027-06-10", "2027-06-20", "2027-07-02"),
                    to: days("2027-07-01", "2027-07-11", "2027-07-23"),
                },
                Flush {
                    from: days("2027-07-15", "2027-07-25", "2027-08-06"),
                    to: days("2027-08-05", "2027-08-15", "2027-08-27"),
                },
            ],
            ..Course::of_stems(VarietyId::new("v").unwrap(), Vec::new())
        }
    }

    #[test]
    fn the_band_of_stems_is_as_wide_as_its_uncertainty_and_as_long_as_all_its_flushes() {
        let drawn = strokes(&course(), day("2027-01-15"));
        let (early, likely, late) = (drawn[2], drawn[3], drawn[4]);
        assert_eq!(
            (early.what, early.from, early.to),
            (Texture::Maybe, day("2027-06-10"), day("2027-06-20"))
        );
        assert_eq!(
            (likely.what, likely.from, likely.to),
            (Texture::Likely, day("2027-06-20"), day("2027-08-15"))
        );
        assert_eq!((late.from, late.to), (day("2027-08-15"), day("2027-08-27")));
        assert_eq!(drawn.len(), 5);
    }

    #[test]
    fn what_was_cut_is_drawn_apart_from_what_is_to_come() {
        let cutting = Course {
            cut: Some((day("2027-06-18"), day("2027-06-25"))),
            bloom: Some(Spread::exact(day("2027-06-18"))),
            ..course()
        };
        let drawn = strokes(&cutting, day("2027-06-26"));
        let cut = drawn.iter().find(|stroke| stroke.what == Texture::Cut);
        assert_eq!(cut.map(|cut| cut.to), Some(day("2027-06-26")));
        let likely = drawn.iter().find(|stroke| stroke.what == Texture::Likely);
        assert_eq!(likely.map(|stems| stems.from), Some(day("2027-06-26")));
        let cleared = Course {
            ended: Some(day("2027-06-30")),
            ..cutting
        };
        let drawn = strokes(&cleared, day("2027-06-26"));
        assert!(drawn.iter().all(|stroke| stroke.what != Texture::Likely));
    }
}
