//! Seasons as the grower counts them: each from its first day to the day before the next one's.

use chrono::{Datelike, NaiveDate};

use crate::forecast::shifted;
use crate::state::Season;

/// A season.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CropSpan {
    /// What it is called; `None` for the time before the first one that was begun.
    pub name: Option<String>,
    /// Its first day.
    pub from: NaiveDate,
    /// Its last day: today for the one that is going on.
    pub to: NaiveDate,
}

/// All seasons that have begun by a day, the one that is going on first. There is always one.
pub fn spans(season: &Season, today: NaiveDate) -> Vec<CropSpan> {
    let mut begun: Vec<(NaiveDate, &str)> = season
        .seasons
        .values()
        .filter(|year| !year.retired)
        .filter_map(|year| Some((year.from.filter(|from| *from <= today)?, year.name.as_str())))
        .collect();
    begun.sort();
    let events = season.events.values().filter_map(|event| event.fact.date());
    let first = events.min().unwrap_or(today).min(today);
    let mut found = Vec::new();
    let mut end = today;
    for (from, name) in begun.into_iter().rev() {
        // Two that begin on one day are one.
        if from <= end {
            found.push(CropSpan {
                name: Some(name.to_owned()),
                from,
                to: end,
            });
        }
        end = shifted(from, -1);
    }
    if found.is_empty() || first <= end {
        found.push(CropSpan {
            name: None,
            from: first.min(end),
            to: end,
        });
    }
    found
}

/// What the next season is most likely called: the year in which most of it is cut.
pub fn next_name(from: NaiveDate) -> String {
    // Autumn sowings bloom in the year that follows.
    let year = if from.month() >= 8 {
        from.year() + 1
    } else {
        from.year()
    };
    year.to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fact::SeasonFact;
    use crate::ids::SeasonId;
    use crate::sample::Sample;

    fn begin(sample: &mut Sample, id: &str, name: &str, from: &str) {
        let from = Some(sample.day(from));
        sample.add(SeasonFact {
            name: Some(name.into()),
            from,
            ..SeasonFact::new(SeasonId::new(id).unwrap())
        });
    }

    fn told(sample: &Sample, today: &str) -> Vec<String> {
        let today = sample.day(today);
        sample.with(|almanac| {
            let spans = spans(almanac.season(), today);
            let told = |span: &CropSpan| {
                let name = span.name.as_deref().unwrap_or("before");
                format!("{name} {} {}", span.from, span.to)
            };
            spans.iter().map(told).collect()
        })
    }

    #[test]
    fn each_season_ends_on_the_day_before_the_next() {
        let mut sample = Sample::new();
        let spike = sample.variety("a", "antirrhinum", "white");
        let bed = sample.bed("b", 5.0);
        sample.sown_in_bed(&spike, &bed, "2026-03-01", 60);
        assert_eq!(
            told(&sample, "2026-06-01"),
            ["before 2026-03-01 2026-06-01"]
        );
        begin(&mut sample, "y2", "2028", "2027-11-01");
        begin(&mut sample, "y1", "2027", "2026-11-01");
        assert_eq!(
            told(&sample, "2027-12-01"),
            [
                "2028 2027-11-01 2027-12-01",
                "2027 2026-11-01 2027-10-31",
                "before 2026-03-01 2026-10-31",
            ]
        );
        // A season that is only planned has not begun.
        assert_eq!(told(&sample, "2027-01-01").len(), 2);
    }

    #[test]
    fn nothing_recorded_is_a_season_of_one_day() {
        let sample = Sample::new();
        assert_eq!(
            told(&sample, "2027-01-01"),
            ["before 2027-01-01 2027-01-01"]
        );
    }

    #[test]
    fn a_season_is_called_by_the_year_in_which_it_blooms() {
        let day = |text: &str| text.parse().unwrap();
        assert_eq!(next_name(day("2027-11-01")), "2028");
        assert_eq!(next_name(day("2028-01-01")), "2028");
    }
}
