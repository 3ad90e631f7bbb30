//! Daily temperatures and frost dates against published climate normals.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::climate::{Climate, Cover, FrostDates, Normals};
use agronomy::quantity::{Celsius, Chance, Latitude};
use chrono::{Datelike, Days, NaiveDate};
use published::{Row, close, table};

fn celsius(fahrenheit: f64) -> f64 {
    (fahrenheit - 32.0) / 1.8
}

const FROST: FrostDates = FrostDates {
    last_p50: (5, 9),
    last_p10: (5, 24),
    first_p50: (10, 6),
    first_p10: (9, 23),
};

fn climate(tmin: [f64; 12], tmax: [f64; 12], frost: FrostDates) -> Climate {
    Climate::new(
        Latitude::new(43.6).unwrap(),
        Normals::new(tmin.map(Celsius), tmax.map(Celsius)).unwrap(),
        frost,
    )
    .unwrap()
}

fn months(row: &Row) -> [f64; 12] {
    std::array::from_fn(|month| row.number(&format!("m{:02}", month + 1)))
}

/// Monthly normals of Lebanon, New Hampshire, 1991-2020, in Fahrenheit.
fn lebanon(variable: &str) -> [f64; 12] {
    table("station_monthly_normals.csv")
        .iter()
        .find(|row| {
            row.text("station") == "USW00094765"
                && row.text("period") == "1991-2020"
                && row.text("var") == variable
        })
        .map(months)
        .unwrap()
}

fn year() -> impl Iterator<Item = NaiveDate> {
    NaiveDate::from_ymd_opt(2025, 1, 1)
        .unwrap()
        .iter_days()
        .take(365)
}

/// Source: NOAA NCEI U.S. Climate Normals, monthly, all stations of the table.
/// The days of each month must average to the month's normal.
#[test]
fn days_average_back_to_the_month() {
    let rows = table("station_monthly_normals.csv");
    let mut checked = 0;
    for low in rows.iter().filter(|row| row.text("var") == "TMIN_F") {
        let high = rows
            .iter()
            .find(|row| {
                row.text("var") == "TMAX_F"
                    && row.text("station") == low.text("station")
                    && row.text("period") == low.text("period")
            })
            .unwrap();
        let (tmin, tmax) = (months(low).map(celsius), months(high).map(celsius));
        let place = climate(tmin, tmax, FROST);
        for month in 1..=12_u32 {
            let days: Vec<(Celsius, Celsius)> = year()
                .filter(|day| day.month() == month)
                .map(|day| place.day(day))
                .collect();
            let mean = |of: fn(&(Celsius, Celsius)) -> f64| {
                days.iter().map(of).sum::<f64>() / days.len() as f64
            };
            let index = month as usize - 1;
            close(mean(|day| day.0.0), tmin[index], 1e-6, &(low, month));
            close(mean(|day| day.1.0), tmax[index], 1e-6, &(low, month));
        }
        checked += 1;
    }
    assert_eq!(checked, 3, "stations and periods");
}

/// Source: NOAA NCEI daily normals 1991-2020 for Lebanon, New Hampshire, which
/// are smoothed from daily data, not from the months: within 0.6 F of them, as
/// any method that keeps the monthly means stays (straight lines between
/// mid-months miss by 2 F).
#[test]
fn days_follow_the_published_daily_normals() {
    let place = climate(
        lebanon("TMIN_F").map(celsius),
        lebanon("TMAX_F").map(celsius),
        FROST,
    );
    for row in table("lebanon_nh_daily_normals_1991_2020.csv") {
        let Ok(day) = format!("2025-{}", row.text("mm-dd")).parse::<NaiveDate>() else {
            continue;
        };
        let (min, max) = place.day(day);
        close(min.0, celsius(row.number("tmin_F")), 0.6 / 1.8, &row);
        close(max.0, celsius(row.number("tmax_F")), 0.6 / 1.8, &row);
    }
}

/// Source: the method of Rymes & Myers 2001 (Solar Energy 71:225) worked
/// separately, for two climates and two sets of station normals. The same
/// method within 0.02; other mean-preserving methods within 0.35; and clearly
/// off the straight lines that lose the means.
#[test]
fn the_curve_is_the_published_one() {
    // Monthly means in C: Madison and central Australia, as used by Bartlein &
    // Shafer 2019 (Geosci. Model Dev. 12:3889).
    let madison = [
        -6.77, -4.33, 1.52, 8.35, 14.74, 20.29, 23.22, 22.17, 16.94, 10.35, 3.08, -4.29,
    ];
    let australia = [
        25.32, 24.93, 22.63, 19.73, 16.17, 13.0, 12.38, 14.04, 17.36, 19.78, 22.52, 24.04,
    ];
    let mut furthest_from_lines = 0.0_f64;
    for row in table("monthly_to_daily.csv") {
        let (monthly, to_celsius): ([f64; 12], fn(f64) -> f64) = match row.text("series") {
            "madison_cfsr_tas_C" => (madison, |value| value),
            "australia_cfsr_tas_C" => (australia, |value| value),
            "lebanon_nh_tmin_F_1991_2020" => (lebanon("TMIN_F").map(celsius), celsius),
            _ => (lebanon("TMAX_F").map(celsius), celsius),
        };
        let place = climate(monthly, monthly, FROST);
        let first = NaiveDate::from_ymd_opt(2025, 1, 1).unwrap();
        let day = first + Days::new(u64::from(row.count("doy")) - 1);
        let got = place.day(day).0.0;
        let of = |column: &str| to_celsius(row.number(column));
        close(got, of("rymes_myers_365it"), 0.02, &row);
        close(got, of("harmonic_minnorm_k<=6"), 0.35, &row);
        close(got, of("cumulative_periodic_cubic_spline"), 0.35, &row);
        let lines = (got - of("linear_midmonth_NOT_mean_preserving")).abs();
        furthest_from_lines = furthest_from_lines.max(lines);
    }
    assert!(furthest_from_lines > 0.6, "{furthest_from_lines}");
}

/// Source: NOAA NCEI freeze dates by chance (station normals). A place known by
/// its 50 % and 10 % dates alone gives back the other deciles: those towards
/// the 10 % side within 3 days, those on the far side, where the published
/// dates are not symmetrical, within 8.
#[test]
fn frost_dates_by_chance_follow_the_published_deciles() {
    let rows = table("ncei_freeze_dates.csv");
    let day = |row: &Row, column: &str| -> NaiveDate {
        let (month, day) = row.text(column).split_once('/').unwrap();
        NaiveDate::from_ymd_opt(2025, month.parse().unwrap(), day.parse().unwrap()).unwrap()
    };
    let pair = |row: &Row, column: &str| (day(row, column).month(), day(row, column).day());
    let mut checked = 0;
    for last in rows.iter().filter(|row| row.text("kind") == "last_spring") {
        let first = rows
            .iter()
            .find(|row| {
                row.text("kind") == "first_autumn"
                    && ["station", "period", "threshold_F"]
                        .iter()
                        .all(|column| row.text(column) == last.text(column))
            })
            .unwrap();
        let place = climate(
            [0.0; 12],
            [10.0; 12],
            FrostDates {
                last_p50: pair(last, "P50"),
                last_p10: pair(last, "P10"),
                first_p50: pair(first, "P50"),
                first_p10: pair(first, "P10"),
            },
        );
        for tenths in 1..=9 {
            let column = format!("P{tenths}0");
            let share = Chance::new(f64::from(tenths) / 10.0).unwrap();
            let slack = match tenths {
                1 | 5 => 0,
                2..=4 => 3,
                _ => 8,
            };
            for (found, row) in [
                (place.last_frost_with_chance(2025, share), last),
                (place.first_frost_with_chance(2025, share), first),
            ] {
                let apart = (found - day(row, &column)).num_days().rem_euclid(365);
                let off = apart.min(365 - apart);
                assert!(off <= slack, "{column} {found} {row:?}");
            }
            // The chance on the date found is the one asked for, to half a day.
            let found = place.last_frost_with_chance(2025, share);
            close(
                place.frost_chance_after(found).get(),
                share.get(),
                0.04,
                last,
            );
            let found = place.first_frost_with_chance(2025, share);
            close(
                place.frost_chance_before(found).get(),
                share.get(),
                0.04,
                first,
            );
            checked += 1;
        }
    }
    assert!(checked >= 100, "{checked} dates");
}

/// Source: scipy 1.17.1, scipy.stats.norm: dates of normally distributed frosts,
/// to the day on which whole-day dates can agree.
#[test]
fn frost_quantiles_are_those_of_the_normal_distribution() {
    let start = NaiveDate::from_ymd_opt(2024, 12, 31).unwrap();
    let mut checked = 0;
    for row in table("normal_quantiles.csv") {
        let mean = row.number("mean_doy");
        // Left out: means between days, and places where some years have no frost.
        if mean.fract() != 0.0 || row.text("kind").contains("mixed") {
            continue;
        }
        let middle = start + Days::new(mean as u64);
        let middle = (middle.month(), middle.day());
        let deviation = row.number("sd_days");
        let last = row.text("kind") == "last";
        let frost = if last {
            FrostDates::from_deviation(middle, deviation, (10, 1), 10.0)
        } else {
            FrostDates::from_deviation((5, 1), 10.0, middle, deviation)
        };
        let place = climate([0.0; 12], [10.0; 12], frost.unwrap());
        let share = Chance::new(row.number("P_percent") / 100.0).unwrap();
        let found = if last {
            place.last_frost_with_chance(2025, share)
        } else {
            place.first_frost_with_chance(2025, share)
        };
        // The 10 % date is kept in whole days, which moves far quantiles a little.
        let doy = (found - start).num_days() as f64;
        close(doy, row.number("doy"), 1.2, &row);
        checked += 1;
    }
    assert!(checked >= 30, "{checked} quantiles");
}

/// Source: M. J. Savage 1980, one unheated single-layer tunnel: minima 1.3 C and
/// maxima 4.2 C above outdoors.
#[test]
fn a_cool_day_under_the_tunnel_gains_what_was_measured() {
    let place = climate([2.0; 12], [12.0; 12], FROST);
    let day = NaiveDate::from_ymd_opt(2025, 4, 10).unwrap();
    let (min, max) = place.day_under(day, Cover::Tunnel);
    close(min.0, 3.3, 1e-6, &"minimum");
    close(max.0, 16.2, 1e-6, &"maximum");
}
