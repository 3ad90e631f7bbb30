//! Dates of nights colder or less cold than frost against published dates.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::climate::Normals;
use agronomy::frost::{ColdNights, FrostModel, FrostTiming, MonthDay};
use agronomy::quantity::{Celsius, Chance};
use chrono::{Datelike, NaiveDate};
use published::{Row, table};

fn month_day(row: &Row, column: &str) -> MonthDay {
    let (month, day) = row.text(column).split_once('/').unwrap();
    (month.parse().unwrap(), day.parse().unwrap())
}

fn from_fahrenheit(f: f64) -> Celsius {
    Celsius((f - 32.0) / 1.8)
}

/// Monthly normals of a station and period, if the table has both minimum and maximum.
fn normals(of: &Row) -> Option<Normals> {
    let rows = table("station_monthly_normals.csv");
    let months = |what: &str| {
        let row = rows.iter().find(|row| {
            row.text("station") == of.text("station")
                && row.text("period") == of.text("period")
                && row.text("var") == what
        })?;
        Some(std::array::from_fn(|month| {
            from_fahrenheit(row.number(&format!("m{:02}", month + 1)))
        }))
    };
    Normals::new(months("TMIN_F")?, months("TMAX_F")?).ok()
}

/// The timing through the early, median and late date of a row.
fn timing(row: &Row) -> FrostTiming {
    let [p10, p50, p90] = ["P10", "P50", "P90"].map(|column| month_day(row, column));
    match row.text("kind") {
        "last_spring" => FrostTiming::from_dates(p90, p50, p10).unwrap(),
        _ => FrostTiming::from_dates(p10, p50, p90).unwrap(),
    }
}

/// Days between a timing's date and the printed date of a column.
fn days_off(found: &FrostTiming, row: &Row, percent: u32) -> f64 {
    let (month, day) = month_day(row, &format!("P{percent}"));
    let printed = NaiveDate::from_ymd_opt(2025, month, day).unwrap().ordinal();
    let share = Chance::new(f64::from(percent) / 100.0).unwrap();
    let by = if row.text("kind") == "last_spring" {
        share.complement()
    } else {
        share
    };
    let apart = (found.day_of_year_by(by) - f64::from(printed)).rem_euclid(365.0);
    apart.min(365.0 - apart)
}

/// Source: NOAA NCEI freeze dates by probability at Lebanon, New Hampshire, 1991-2020 and 1981-2010, for nights
/// below 16, 20, 24, 28 and 36 F. Given are the monthly normals and the dates for 32 F; the misses below are of
/// the median dates and of the one-in-ten dates that matter for risk (late in spring, early in autumn). Autumn
/// dates far from frost are up to a fortnight too late: the station's autumns cool in steps that monthly normals
/// smooth out.
#[test]
fn dates_of_other_nights_follow_from_those_of_frost() {
    let rows: Vec<Row> = table("ncei_freeze_dates.csv")
        .into_iter()
        .filter(|row| row.text("kind") != "season_length")
        .collect();
    let mut misses = Vec::new();
    for spring in rows
        .iter()
        .filter(|row| row.text("threshold_F") == "32" && row.text("kind") == "last_spring")
    {
        let Some(normals) = normals(spring) else {
            continue;
        };
        let same = |row: &&Row| {
            row.text("station") == spring.text("station")
                && row.text("period") == spring.text("period")
        };
        let autumn = rows
            .iter()
            .filter(same)
            .find(|row| row.text("threshold_F") == "32" && row.text("kind") != "last_spring")
            .unwrap();
        let frost = FrostModel {
            last: timing(spring),
            first: timing(autumn),
        };
        for row in rows
            .iter()
            .filter(same)
            .filter(|row| row.text("threshold_F") != "32")
        {
            let found = frost.colder_than(from_fahrenheit(row.number("threshold_F")), &normals);
            let near = row.number("threshold_F") > 27.0;
            let is_spring = row.text("kind") == "last_spring";
            let ColdNights::Dated(found) = (if is_spring { found.last } else { found.first })
            else {
                panic!("no date below {} F", row.text("threshold_F"));
            };
            for percent in [10, 50] {
                let off = days_off(&found, row, percent);
                misses.push((percent, is_spring, near, off));
            }
        }
    }
    assert_eq!(misses.len(), 40);
    // Percent, spring, within 2.2 degrees of frost; largest and average miss, days.
    let wanted = [
        (50, true, true, 1.0, 0.5),
        (50, true, false, 4.0, 2.0),
        (10, true, true, 3.0, 1.5),
        (10, true, false, 6.0, 3.4),
        (50, false, true, 2.0, 1.0),
        (50, false, false, 12.0, 6.4),
        (10, false, true, 3.0, 2.0),
        (10, false, false, 16.0, 9.2),
    ];
    for (percent, spring, near, furthest, average) in wanted {
        let of = misses
            .iter()
            .filter(|m| (m.0, m.1, m.2) == (percent, spring, near));
        let days: Vec<f64> = of.map(|m| m.3).collect();
        let most = days.iter().copied().fold(0.0, f64::max);
        let mean = days.iter().sum::<f64>() / days.len() as f64;
        assert!(
            most <= furthest && mean <= average,
            "{percent} {spring} {near}: {most} {mean}"
        );
        assert!(
            most > furthest - 1.5,
            "{percent} {spring} {near}: {most} is less than stated"
        );
    }
}
