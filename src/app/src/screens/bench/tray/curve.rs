//! Seedlings up by day: what was counted, and what is expected to come.

use season::forecast::TrayForecast;
use season::state::Sowing;

use chrono::NaiveDate;

/// One day's seedlings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Days since sowing.
    pub day: f64,
    /// Cells up.
    pub up: f64,
}

/// Counts and what follows from them, in days and cells.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    /// Counted, by day.
    pub counted: Vec<Point>,
    /// Expected, from today on.
    pub expected: Vec<Point>,
    /// Up in the end: low and high.
    pub end: Option<(f64, f64)>,
    /// The last day drawn, at least 1.
    pub days: f64,
    /// Cells sown, at least 1.
    pub cells: f64,
}

/// The curve of a sowing as of a day; `None` before anything was counted.
pub fn curve(sowing: &Sowing, forecast: &TrayForecast, today: NaiveDate) -> Option<Curve> {
    let counted: Vec<Point> = sowing
        .counts
        .iter()
        .filter(|count| count.date >= sowing.date && count.date <= today)
        .map(|count| Point {
            day: (count.date - sowing.date).num_days() as f64,
            up: f64::from(sowing.standing(count.date).emerged.min(sowing.cells)),
        })
        .collect();
    let last = *counted.last()?;
    let now = forecast.day.max(0) as f64;
    let quiet = forecast
        .quiet
        .map_or(now, |quiet| (quiet - sowing.date).num_days() as f64);
    let expected = match &forecast.outlook {
        Some(outlook) if quiet > last.day => {
            let mut points = vec![last];
            let mut day = last.day;
            while day < quiet {
                day += 1.0;
                points.push(Point {
                    day,
                    up: last.up + outlook.newly_between(last.day, day),
                });
            }
            points
        }
        _ => Vec::new(),
    };
    Some(Curve {
        counted,
        expected,
        end: forecast.final_up.map(|up| (up.p10, up.p90)),
        days: quiet.max(now).max(last.day).max(1.0),
        cells: f64::from(sowing.cells.max(1)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use culture::Reference;
    use season::almanac::Almanac;
    use season::fact::*;
    use season::ids::*;
    use season::{Fact, Log, Season};

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn record(log: &mut Log, fact: impl Into<Fact>) -> EntryId {
        let device = DeviceId::new("d").unwrap();
        let n = log.len() as u128;
        let entry = log
            .draft(&device, 1_800_000_000_000, n, fact.into())
            .unwrap();
        let id = entry.id().clone();
        log.insert(entry);
        id
    }

    #[test]
    fn counts_rise_to_the_day_and_the_expected_goes_on_from_them() {
        let reference = Reference::builtin().unwrap();
        let mut log = Log::new();
        let variety = VarietyId::new("v").unwrap();
        record(
            &mut log,
            VarietyFact {
                of: variety.clone(),
                crop: Some("eustoma".into()),
                name: Some("A".into()),
                colour: None,
                group: Some(1),
                role: None,
                figures: Default::default(),
                packet_seeds: None,
                packet_price: None,
                retired: None,
            },
        );
        let sown: SowingId = record(
            &mut log,
            SownFact {
                variety,
                lot: None,
                date: day("2027-01-08"),
                space: None,
                cells: 60,
                seeds_per_cell: 1,
                tray: None,
                dome: true,
                planned: None,
                for_space: None,
                label: None,
                number: None,
            },
        )
        .into();
        let today = day("2027-01-18");
        let of = |log: &Log| {
            let season = Season::of(log);
            let almanac = Almanac::new(&season, &reference);
            let sowing = &season.sowings[&sown];
            let forecast = season::forecast::of_sowing(&almanac, sowing, today);
            curve(sowing, &forecast, today)
        };
        assert_eq!(of(&log), None);
        for (date, up) in [("2027-01-16", 20), ("2027-01-18", 45)] {
            record(
                &mut log,
                CountedFact {
                    sowing: sown.clone(),
                    date: day(date),
                    up,
                    of: None,
                },
            );
        }
        let found = of(&log).unwrap();
        let counted: Vec<(f64, f64)> = found.counted.iter().map(|p| (p.day, p.up)).collect();
        assert_eq!(counted, [(8.0, 20.0), (10.0, 45.0)]);
        let expected: Vec<f64> = found.expected.iter().map(|p| p.up).collect();
        assert!(expected.is_sorted() && expected.len() > 1, "{expected:?}");
        assert!(expected.iter().all(|up| (45.0..=60.0).contains(up)));
        let (low, high) = found.end.unwrap();
        assert!(45.0 <= low && low <= high && high <= 60.0);
        assert!(found.days >= 10.0);
    }
}
