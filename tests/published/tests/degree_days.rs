//! Degree-days by the single sine method against published tables and numerical integration.
#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use std::collections::BTreeMap;

use agronomy::bloom::{BloomFigures, Pace, StageKnown, first_bloom};
use agronomy::climate::{Climate, Cover, FrostDates, Normals};
use agronomy::degree_days::single_sine;
use agronomy::quantity::{Celsius, DegreeDays, Latitude};
use chrono::NaiveDate;
use published::{Row, close, table};

/// The temperature scale of a table.
#[derive(Debug, Clone, Copy)]
enum Scale {
    Celsius,
    Fahrenheit,
}

impl Scale {
    fn celsius(self, value: f64) -> Celsius {
        match self {
            Self::Celsius => Celsius(value),
            Self::Fahrenheit => Celsius((value - 32.0) / 1.8),
        }
    }

    /// Degree-days of one day, in the table's own degrees.
    fn degree_days(self, (min, max): (f64, f64), (low, high): (f64, Option<f64>)) -> f64 {
        let DegreeDays(sum) = single_sine(
            self.celsius(min),
            self.celsius(max),
            self.celsius(low),
            high.map(|high| self.celsius(high)),
        );
        match self {
            Self::Celsius => sum,
            Self::Fahrenheit => sum * 1.8,
        }
    }
}

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn pair(row: &Row, min: &str, max: &str) -> (f64, f64) {
    (row.number(min), row.number(max))
}

/// Source: Zalom et al. 1983, UC DANR Leaflet 21373, Table 7, single sine, thresholds 55 and 90 F, printed to
/// two places.
#[test]
fn the_single_sine_gives_the_published_table() {
    for row in table("zalom_1983_table7.csv") {
        let day = pair(&row, "tmin_F", "tmax_F");
        let thresholds = (row.number("t_low"), row.maybe("t_high"));
        let got = Scale::Fahrenheit.degree_days(day, thresholds);
        close(got, row.number("pub_single_sine"), 0.01, &row);
    }
}

/// Source: the values that the tests of the R package TrenchR assert, to two places. One of them, for a day
/// entirely above the upper threshold, contradicts that package's own double sine and the integral; there the
/// integral is used.
#[test]
fn another_package_has_the_same_single_sine() {
    let mut misprints = 0;
    for row in table("single_sine_of_another_package.csv") {
        let day = pair(&row, "tmin", "tmax");
        let got = Scale::Celsius.degree_days(day, (12.0, Some(33.0)));
        close(got, row.number("integrated"), 1e-6, &row);
        if day == (35.0, 40.0) {
            misprints += 1;
        } else {
            close(got, row.number("asserted"), 0.005, &row);
        }
    }
    assert_eq!(misprints, 1);
}

/// Source: numerical integration to 25 digits (mpmath 1.4.1). Rows with thresholds of 50 and more are in
/// Fahrenheit.
#[test]
fn the_single_sine_agrees_with_numerical_integration() {
    let rows = table("degree_day_readings.csv");
    for row in &rows {
        let base = row.number("t_low");
        let scale = if base >= 50.0 {
            Scale::Fahrenheit
        } else {
            Scale::Celsius
        };
        let got = scale.degree_days(pair(row, "tmin", "tmax"), (base, row.maybe("t_high")));
        close(got, row.number("single_sine_horizontal"), 1e-6, row);
    }
    assert_eq!(rows.len(), 21);
}

/// Source: the daily normals of Lebanon, New Hampshire (NOAA NCEI), used as the measured days of two years;
/// the dates were computed separately, with each day's sine summed over many points. First bloom of a crop
/// without further figures is the date on which its thermal time is reached.
#[test]
fn bloom_comes_on_the_date_computed_separately_for_its_thermal_time() {
    let normals: BTreeMap<String, (Celsius, Celsius)> =
        table("lebanon_nh_daily_normals_1991_2020.csv")
            .iter()
            .map(|row| {
                let of = |column| Scale::Fahrenheit.celsius(row.number(column));
                (row.text("mm-dd").to_owned(), (of("tmin_F"), of("tmax_F")))
            })
            .collect();
    let first = date("2027-01-01");
    let days: Vec<(Celsius, Celsius)> = first
        .iter_days()
        .take(760)
        // 29 February is taken as the day before it.
        .map(|day| {
            let of = |day: NaiveDate| normals.get(&day.format("%m-%d").to_string());
            *of(day).or_else(|| of(day.pred_opt()?)).unwrap()
        })
        .collect();
    // Measured days replace the normals, so these are arbitrary.
    let even = Normals::new([Celsius(5.0); 12], [Celsius(15.0); 12]).unwrap();
    let frost = FrostDates {
        last_p50: (5, 10),
        last_p10: (5, 25),
        first_p50: (10, 1),
        first_p10: (9, 18),
    };
    let site = Climate::new(Latitude::new(43.6).unwrap(), even, frost).unwrap();
    let climate = first
        .iter_days()
        .zip(&days)
        .fold(site, |climate, (day, (min, max))| {
            climate.with_observed(day, Cover::Open, *min, *max).unwrap()
        });
    let rows = table("degree_day_arrivals.csv");
    assert!(rows.len() > 70);
    for row in rows {
        let figures = BloomFigures {
            base: Celsius(row.number("base_c")),
            ceiling: row.maybe("ceiling_c").map(Celsius),
            thermal_time: Some(DegreeDays(row.number("need"))),
            days_cool: (100.0, 100.0, 100.0),
            days_warm: (60.0, 60.0, 60.0),
            harvest_window_days: 30.0,
            line_factor: 1.0,
            day_length: None,
            pace: Pace::Cool,
        };
        let from = date(row.text("from"));
        let known = StageKnown::Planted;
        let bloom = first_bloom(&figures, from, &climate, Cover::Open, known).unwrap();
        assert_eq!(bloom.p50, date(row.text("arrival")), "{row:?}");
    }
}
