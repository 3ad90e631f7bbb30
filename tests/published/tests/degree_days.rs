//! Degree-days against published tables and worked examples.

use agronomy::degree_days::{
    Cutoff, mean_then_threshold, simple_average, single_sine, threshold_then_mean,
};
use agronomy::quantity::Celsius;
use published::{Row, close, table};

fn pair(row: &Row, min: &str, max: &str) -> (Celsius, Celsius) {
    (Celsius(row.number(min)), Celsius(row.number(max)))
}

/// Source: McMaster & Wilhelm 1997, Agric. For. Meteorol. 87:291-300, Table 1.
#[test]
fn both_readings_of_one_equation_give_the_published_table() {
    for row in table("mcmaster_wilhelm_1997_table1.csv") {
        let (min, max) = pair(&row, "tmin_C", "tmax_C");
        let base = Celsius(row.number("tbase"));
        let first = mean_then_threshold(min, max, base, None).0;
        let second = threshold_then_mean(min, max, base, None).0;
        close(first, row.number("pub_method1"), 1e-9, &row);
        close(second, row.number("pub_method2"), 1e-9, &row);
        close(simple_average(min, max, base).0, first, 0.0, &row);
    }
}

/// Source: Zalom et al. 1983, UC DANR Leaflet 21373, Table 7, single sine,
/// thresholds 55 and 90 F, printed to two places. Degree-days in Fahrenheit obey
/// the same formula, so the figures go in as they are.
#[test]
fn the_single_sine_gives_the_published_table() {
    for row in table("zalom_1983_table7.csv") {
        let (min, max) = pair(&row, "tmin_F", "tmax_F");
        let got = single_sine(
            min,
            max,
            Celsius(row.number("t_low")),
            Some(Celsius(row.number("t_high"))),
            Cutoff::Horizontal,
        );
        close(got.0, row.number("pub_single_sine"), 0.01, &row);
    }
}

/// Sources: worked examples of farm extension services, named in the table.
#[test]
fn extension_services_worked_examples_come_out() {
    let rows = table("extension_worked_examples.csv");
    let mut three_days = 0.0;
    let mut used = 0;
    for row in &rows {
        // Sums and limits have no day of their own; they are checked below.
        let Ok(max) = row.text("tmax").parse::<f64>() else {
            continue;
        };
        let got = threshold_then_mean(
            Celsius(row.number("tmin")),
            Celsius(max),
            Celsius(row.number("t_low")),
            row.maybe("t_high").map(Celsius),
        );
        close(got.0, row.number("published"), 1e-9, row);
        if row.text("source_key") == "WAUSHARA" {
            three_days += got.0;
        }
        used += 1;
    }
    assert_eq!(used, 7);
    // Waushara Argus: the three days add up to 43.
    close(three_days, 43.0, 1e-9, &"three days");
    // Iowa State Agronomy 541: a day can give no more than 36 between 50 and 86.
    let hottest = threshold_then_mean(
        Celsius(95.0),
        Celsius(110.0),
        Celsius(50.0),
        Some(Celsius(86.0)),
    );
    close(hottest.0, 36.0, 1e-9, &"hottest day");
    // UC IPM, citrus: a mean of 64 above 53 gives 11.
    let citrus = simple_average(Celsius(60.0), Celsius(68.0), Celsius(53.0));
    close(citrus.0, 11.0, 1e-9, &"citrus");
}

/// Source: numerical integration to 25 digits (mpmath 1.4.1), all readings.
#[test]
fn all_readings_agree_with_numerical_integration() {
    for row in table("degree_day_readings.csv") {
        let (min, max) = pair(&row, "tmin", "tmax");
        let base = Celsius(row.number("t_low"));
        let ceiling = row.maybe("t_high").map(Celsius);
        let sine = |cutoff| single_sine(min, max, base, ceiling, cutoff).0;
        for (column, got) in [
            (
                "avg_method1_no_upper",
                mean_then_threshold(min, max, base, None).0,
            ),
            (
                "avg_method2_no_upper",
                threshold_then_mean(min, max, base, None).0,
            ),
            (
                "avg_method1_mean_clamped_at_upper",
                mean_then_threshold(min, max, base, ceiling).0,
            ),
            (
                "avg_method2_each_clamped_both",
                threshold_then_mean(min, max, base, ceiling).0,
            ),
            ("single_sine_horizontal", sine(Cutoff::Horizontal)),
            ("single_sine_vertical_cutoff", sine(Cutoff::Vertical)),
            (
                "single_sine_intermediate_cutoff",
                sine(Cutoff::Intermediate),
            ),
        ] {
            close(got, row.number(column), 1e-6, &(column, &row));
        }
    }
}
