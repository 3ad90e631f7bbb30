//! Degree-days against published tables and worked examples.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use std::collections::BTreeMap;

use agronomy::climate::{Climate, Cover, FrostDates, Normals};
use agronomy::degree_days::{Cutoff, DayRange, Method, Series, Thresholds, arrival};
use agronomy::quantity::{Celsius, DegreeDays, Latitude};
use chrono::NaiveDate;
use published::{Row, close, table};

/// The scale a table is written in.
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
    fn of_day(
        self,
        method: Method,
        (min, max): (f64, f64),
        (low, high): (f64, Option<f64>),
    ) -> f64 {
        let day = DayRange::new(self.celsius(min), self.celsius(max)).unwrap();
        let ceiling = high.map(|high| self.celsius(high));
        let thresholds = Thresholds::new(self.celsius(low), ceiling).unwrap();
        let DegreeDays(sum) = method.of_day(day, thresholds);
        match self {
            Self::Celsius => sum,
            Self::Fahrenheit => sum * 1.8,
        }
    }
}

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

const SINE: Method = Method::SingleSine(Cutoff::Horizontal);

fn pair(row: &Row, min: &str, max: &str) -> (f64, f64) {
    (row.number(min), row.number(max))
}

/// Source: McMaster & Wilhelm 1997, Agric. For. Meteorol. 87:291-300, Table 1.
#[test]
fn both_readings_of_one_equation_give_the_published_table() {
    for row in table("mcmaster_wilhelm_1997_table1.csv") {
        let day = pair(&row, "tmin_C", "tmax_C");
        let base = (row.number("tbase"), None);
        let of = |method| Scale::Celsius.of_day(method, day, base);
        close(
            of(Method::MeanThenThreshold),
            row.number("pub_method1"),
            1e-9,
            &row,
        );
        close(
            of(Method::ThresholdThenMean),
            row.number("pub_method2"),
            1e-9,
            &row,
        );
        close(
            of(Method::SimpleAverage),
            row.number("pub_method1"),
            1e-9,
            &row,
        );
    }
}

/// Source: Zalom et al. 1983, UC DANR Leaflet 21373, Table 7, single sine,
/// thresholds 55 and 90 F, printed to two places.
#[test]
fn the_single_sine_gives_the_published_table() {
    for row in table("zalom_1983_table7.csv") {
        let day = pair(&row, "tmin_F", "tmax_F");
        let thresholds = (row.number("t_low"), row.maybe("t_high"));
        let got = Scale::Fahrenheit.of_day(SINE, day, thresholds);
        close(got, row.number("pub_single_sine"), 0.01, &row);
    }
}

/// Source: the values that the tests of the R package TrenchR assert, to two
/// places. One of them, for a day wholly above the upper threshold, contradicts
/// that package's own double sine and the integral; there the integral holds.
#[test]
fn another_package_has_the_same_single_sine() {
    let mut misprints = 0;
    for row in table("single_sine_of_another_package.csv") {
        let day = pair(&row, "tmin", "tmax");
        let got = Scale::Celsius.of_day(SINE, day, (12.0, Some(33.0)));
        close(got, row.number("integrated"), 1e-6, &row);
        if day == (35.0, 40.0) {
            misprints += 1;
        } else {
            close(got, row.number("asserted"), 0.005, &row);
        }
    }
    assert_eq!(misprints, 1);
}

/// Sources: worked examples of farm extension services, named in the table. Both
/// wordings of the modified average agree on them.
#[test]
fn extension_services_worked_examples_come_out() {
    let rows = table("extension_worked_examples.csv");
    let mut used = 0;
    let mut three_days = Vec::new();
    for row in &rows {
        // Sums and limits have no day of their own; they are checked below.
        let Ok(max) = row.text("tmax").parse::<f64>() else {
            continue;
        };
        let day = (row.number("tmin"), max);
        let thresholds = (row.number("t_low"), row.maybe("t_high"));
        for method in [Method::ThresholdThenMean, Method::ModifiedAverage] {
            let got = Scale::Fahrenheit.of_day(method, day, thresholds);
            close(got, row.number("published"), 1e-9, row);
        }
        if row.text("source_key") == "WAUSHARA" {
            three_days.push((
                Scale::Fahrenheit.celsius(day.0),
                Scale::Fahrenheit.celsius(day.1),
            ));
        }
        used += 1;
    }
    assert_eq!(used, 7);
    // Waushara Argus: the three days add up to 43, reached as the third ends.
    let corn = Thresholds::new(
        Scale::Fahrenheit.celsius(50.0),
        Some(Scale::Fahrenheit.celsius(86.0)),
    )
    .unwrap();
    let first = NaiveDate::from_ymd_opt(2018, 4, 23).unwrap();
    let series = Series::new(first, &three_days).unwrap();
    let sum = series.degree_days(Method::ModifiedAverage, corn);
    close(sum.0 * 1.8, 43.0, 1e-9, &"three days");
    let there = series.arrival(Method::ModifiedAverage, corn, DegreeDays(43.0 / 1.8));
    assert_eq!(there, Ok(NaiveDate::from_ymd_opt(2018, 4, 26).unwrap()));
    // Iowa State Agronomy 541: a day can give no more than 36 between 50 and 86.
    let of = |method| Scale::Fahrenheit.of_day(method, (95.0, 110.0), (50.0, Some(86.0)));
    close(of(Method::ThresholdThenMean), 36.0, 1e-9, &"hottest day");
    // UC IPM, citrus: a mean of 64 above 53 gives 11.
    let citrus = Scale::Fahrenheit.of_day(Method::SimpleAverage, (60.0, 68.0), (53.0, None));
    close(citrus, 11.0, 1e-9, &"citrus");
}

/// Source: numerical integration to 25 digits (mpmath 1.4.1), all readings. Rows
/// with thresholds of 50 and more are in Fahrenheit. The literal wording of the
/// modified average falls below zero on one day, which we count as zero.
#[test]
fn all_readings_agree_with_numerical_integration() {
    let rows = table("degree_day_readings.csv");
    for row in &rows {
        let day = pair(row, "tmin", "tmax");
        let base = row.number("t_low");
        let ceiling = row.maybe("t_high");
        let scale = if base >= 50.0 {
            Scale::Fahrenheit
        } else {
            Scale::Celsius
        };
        for (column, method, high) in [
            ("avg_method1_no_upper", Method::SimpleAverage, ceiling),
            ("avg_method1_no_upper", Method::MeanThenThreshold, None),
            ("avg_method2_no_upper", Method::ThresholdThenMean, None),
            (
                "avg_method1_mean_clamped_at_upper",
                Method::MeanThenThreshold,
                ceiling,
            ),
            (
                "avg_method2_each_clamped_both",
                Method::ThresholdThenMean,
                ceiling,
            ),
            ("literal_86_50", Method::ModifiedAverage, ceiling),
            ("single_sine_horizontal", SINE, ceiling),
            (
                "single_sine_vertical_cutoff",
                Method::SingleSine(Cutoff::Vertical),
                ceiling,
            ),
            (
                "single_sine_intermediate_cutoff",
                Method::SingleSine(Cutoff::Intermediate),
                ceiling,
            ),
        ] {
            let got = scale.of_day(method, day, (base, high));
            close(got, row.number(column).max(0.0), 1e-6, &(column, row));
        }
    }
    assert_eq!(rows.len(), 21);
}

/// Source: the daily normals of Lebanon, New Hampshire (NOAA NCEI), taken for the measured days of two years; the arrivals computed
/// separately, day by day over many points of the sine.
#[test]
fn warmth_arrives_on_the_days_that_were_computed_separately() {
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
        // 29 February goes by the day before it.
        .map(|day| {
            let of = |day: NaiveDate| normals.get(&day.format("%m-%d").to_string());
            *of(day).or_else(|| of(day.pred_opt()?)).unwrap()
        })
        .collect();
    // Measured days stand in for the normals, so any will do.
    let even = Normals::new([Celsius(5.0); 12], [Celsius(15.0); 12]).unwrap();
    let frost = FrostDates {
        last_p50: (5, 10),
        last_p10: (5, 25),
        first_p50: (10, 1),
        first_p10: (9, 18),
    };
    let place = Climate::new(Latitude::new(43.6).unwrap(), even, frost).unwrap();
    let climate = first
        .iter_days()
        .zip(&days)
        .fold(place, |climate, (day, (min, max))| {
            climate.with_observed(day, Cover::Open, *min, *max).unwrap()
        });
    let rows = table("degree_day_arrivals.csv");
    assert!(rows.len() > 70);
    for row in rows {
        let ceiling = row.maybe("ceiling_c").map(Celsius);
        let thresholds = Thresholds::new(Celsius(row.number("base_c")), ceiling).unwrap();
        let need = DegreeDays(row.number("need"));
        let from = date(row.text("from"));
        let expected = date(row.text("arrival"));
        let told = arrival(&climate, Cover::Open, from, SINE, thresholds, need).unwrap();
        assert_eq!(told, expected, "{row:?}");
        let past = usize::try_from((from - first).num_days()).unwrap();
        let series = Series::new(from, &days[past..]).unwrap();
        assert_eq!(
            series.arrival(SINE, thresholds, need),
            Ok(expected),
            "{row:?}"
        );
    }
}
