//! Seedlings up by day: what was counted, and what is expected to come.

use agronomy::emergence::fit::Fit;
use season::forecast::TrayForecast;
use season::state::Sowing;

use chrono::NaiveDate;

/// Steps in which a curve is drawn.
const STEPS: u32 = 24;

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
    /// The curve fitted to the counts, from sowing to the last count.
    pub fitted: Vec<Point>,
    /// Where 80 in 100 such trays would stand on the days to come: day, low, high.
    pub band: Vec<(f64, f64, f64)>,
    /// How this seed usually comes up here.
    pub usual: Vec<Point>,
    /// Up in the end: low and high.
    pub end: Option<(f64, f64)>,
    /// The last day drawn, at least 1.
    pub days: f64,
    /// Cells sown, at least 1.
    pub cells: f64,
}

/// The curve of a sowing as of a day; `None` before anything was counted. `fit` is the curve fitted to its counts.
pub fn curve(
    sowing: &Sowing,
    forecast: &TrayForecast,
    fit: Option<&Fit>,
    today: NaiveDate,
) -> Option<Curve> {
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
    let days = quiet.max(now).max(last.day).max(1.0);
    let cells = f64::from(sowing.cells.max(1));
    let usual = forecast.expected.as_ref().map(|expected| expected.usual);
    Some(Curve {
        counted,
        expected,
        fitted: fit.map_or_else(Vec::new, |fit| fitted(fit, cells, last.day)),
        band: fit.map_or_else(Vec::new, |fit| band(fit, cells, last.day, days)),
        usual: usual.map_or_else(Vec::new, |usual| {
            steps(0.0, days)
                .map(|day| Point {
                    day,
                    up: cells * usual.germination * usual.up_by(day).get(),
                })
                .collect()
        }),
        end: forecast.final_up.map(|up| (up.p10, up.p90)),
        days,
        cells,
    })
}

/// Days from one to another in steps that a drawing can show.
fn steps(from: f64, to: f64) -> impl Iterator<Item = f64> {
    let span = (to - from).max(0.0);
    (0..=STEPS).map(move |step| from + span * f64::from(step) / f64::from(STEPS))
}

/// The fitted log-logistic curve: the final share times one over one plus (half day over day) to the steepness.
fn fitted(fit: &Fit, cells: f64, until: f64) -> Vec<Point> {
    let (Some(half), Some(steep)) = (fit.half_day(), fit.steepness()) else {
        return Vec::new();
    };
    let all = cells * fit.final_share().value;
    let up_by = |day: f64| {
        if day > 0.0 {
            all / (1.0 + (half.value / day).powf(steep.value))
        } else {
            0.0
        }
    };
    steps(0.0, until)
        .map(|day| Point {
            day,
            up: up_by(day),
        })
        .collect()
}

/// Where such trays would stand, 10 to 90 in 100, after the last count.
fn band(fit: &Fit, cells: f64, from: f64, until: f64) -> Vec<(f64, f64, f64)> {
    let looked_at = f64::from(fit.looked_at().max(1));
    steps(from, until)
        .filter_map(|day| {
            let stand = fit.stand_after(day - from)?;
            let of = |n: f64| n / looked_at * cells;
            Some((day, of(stand.p10), of(stand.p90)))
        })
        .collect()
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
                crop: Some("eustoma".into()),
                name: Some("A".into()),
                group: Some(1),
                ..VarietyFact::new(variety.clone())
            },
        );
        let sown: SowingId = record(
            &mut log,
            SownFact {
                dome: true,
                ..SownFact::new(variety, 60, day("2027-01-08"))
            },
        )
        .into();
        let today = day("2027-01-18");
        let of = |log: &Log| {
            let season = Season::of(log);
            let almanac = Almanac::new(&season, &reference);
            let sowing = &season.sowings[&sown];
            let forecast = season::forecast::of_sowing(&almanac, sowing, today);
            let fit = season::forecast::fitted(&almanac, sowing, today);
            curve(sowing, &forecast, fit.as_ref(), today)
        };
        assert_eq!(of(&log), None);
        for (date, up) in [("2027-01-16", 20), ("2027-01-18", 45)] {
            record(&mut log, CountedFact::new(sown.clone(), up, day(date)));
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
        // The fitted curve passes by the counts; the band opens from the last one; the usual curve ends at the usual share.
        let at_last = found.fitted.last().unwrap();
        assert!(
            (at_last.day - 10.0).abs() < 1e-9 && (at_last.up - 45.0).abs() < 6.0,
            "{at_last:?}"
        );
        let (first, last) = (found.band[0], *found.band.last().unwrap());
        assert!(last.2 - last.1 > first.2 - first.1, "{first:?} {last:?}");
        assert!(last.1 >= 44.0 && last.2 <= 60.0 + 1e-9);
        let usual: Vec<f64> = found.usual.iter().map(|p| p.up).collect();
        assert!(usual.is_sorted() && usual[0].abs() < 1e-9 && usual[24] < 60.0);
    }
}
