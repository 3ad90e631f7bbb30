use super::*;
use chrono::NaiveDate;

use crate::words::{Manner, Units};

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

#[test]
fn counts_are_whole_and_within_bounds() {
    let read = |text: &str| count(text, 0..=5_000).map_err(|say| say.key());
    assert_eq!(read(" 60 "), Ok(60));
    assert_eq!(read("1,200"), Ok(1_200));
    assert_eq!(read("1 200"), Ok(1_200));
    assert_eq!(read(""), Err("typed.no_count"));
    assert_eq!(read("-3"), Err("typed.out_of_range"));
    assert_eq!(read("99999999999999999999"), Err("typed.not_whole"));
    assert_eq!(read("5001"), Err("typed.out_of_range"));
    assert_eq!(read("4.5"), Err("typed.not_whole"));
    assert_eq!(read("some"), Err("typed.not_whole"));
}

#[test]
fn numbers_take_comma_and_point_and_nothing_odd() {
    assert_eq!(plain_number("12,5"), Some(12.5));
    assert_eq!(plain_number("\u{2212}2.5"), Some(-2.5));
    for text in ["", "1e9", "inf", "NaN", "0x10", "1.2.3", "five", "--1"] {
        assert_eq!(plain_number(text), None, "{text}");
    }
    assert_eq!(share("85 %", 1.0..=100.0), Ok(0.85));
    assert!(share("120", 1.0..=100.0).is_err());
}

#[test]
fn quantities_come_in_the_readers_unit_and_bounds_are_told_in_it() {
    let us = Manner { units: Units::Us };
    // 4 ft = 1.2192 m by definition of the international foot (0.3048 m).
    let bed = quantity("4", Measure::Length, 0.1..=20.0, us).unwrap();
    assert!((bed - 1.2192).abs() < 1e-12);
    let told = quantity("99", Measure::Length, 0.1..=20.0, us).unwrap_err();
    assert!(told.write(us).contains("65.6 ft"), "{}", told.write(us));
    assert!(quantity("20", Measure::Length, 0.1..=20.0, Manner::default()).is_ok());
}

/// ISO 8601 week dates as published: 2008-12-29 is 2009-W01-1, 2010-01-03 is 2009-W53-7 (examples of the standard, as the
/// encyclopaedia article "ISO week date" gives them; from memory).
#[test]
fn weeks_are_read_in_every_usual_spelling() {
    let today = day("2027-02-15");
    let read = |text: &str| {
        week(text, today)
            .map(|w| w.to_string())
            .map_err(|say| say.key())
    };
    for text in ["2027-W14", "2027W14", "w14", "14", "2027-w14", "2027-04-08"] {
        assert_eq!(read(text), Ok("2027-W14".into()), "{text}");
    }
    assert_eq!(read("2008-12-29"), Ok("2009-W01".into()));
    assert_eq!(read("2010-01-03"), Ok("2009-W53".into()));
    assert_eq!(read("w50"), Ok("2026-W50".into()), "a few weeks back");
    assert_eq!(read("w30"), Ok("2027-W30".into()));
    assert_eq!(read("2027-W53"), Err("typed.no_such_week"));
    assert_eq!(read("w0"), Err("typed.no_such_week"));
    assert_eq!(read("12.4"), Err("typed.not_week"));
    assert_eq!(read(""), Err("typed.no_week"));
}

#[test]
fn latitudes_are_read_north_and_south() {
    for (text, degrees) in [
        ("44.1", 44.1),
        ("44,1 n", 44.1),
        ("44° 30' N", 44.5),
        ("33.9 S", -33.9),
        ("-33.9", -33.9),
        ("0", 0.0),
    ] {
        let read = latitude(text).unwrap();
        assert!((read - degrees).abs() < 1e-9, "{text}: {read}");
    }
    for text in ["", "north", "91", "44 61' ", "44° 61'", "N"] {
        assert!(latitude(text).is_err(), "{text}");
    }
}

#[test]
fn twelve_months_come_from_a_row_a_column_or_a_list() {
    let months: [f64; 12] = core::array::from_fn(|m| m as f64 - 3.5);
    let write = |mark: &str, comma: bool| {
        let texts: Vec<String> = months.iter().map(f64::to_string).collect();
        let text = texts.join(mark);
        if comma { text.replace('.', ",") } else { text }
    };
    for text in [
        write("\t", false),
        write("\n", false),
        write(" ", true),
        write("; ", true),
        write(", ", false),
        write(",", false),
        format!("Tmin\t{}", write("\t", false)),
    ] {
        assert_eq!(twelve(&text), Ok(months), "{text}");
    }
    assert_eq!(twelve("1 2 3").unwrap_err().key(), "typed.not_twelve");
    assert_eq!(twelve("1 2 x").unwrap_err().key(), "typed.not_month");
    assert_eq!(twelve(" ").unwrap_err().key(), "typed.no_months");
}

#[test]
fn dates_and_names_are_refused_with_a_sentence() {
    assert_eq!(date("2027-02-15"), Ok(day("2027-02-15")));
    assert_eq!(date("1027-02-15").unwrap_err().key(), "typed.year");
    assert_eq!(date("2027-02-30").unwrap_err().key(), "typed.not_date");
    assert_eq!(name("  Tunnel 1 ").unwrap(), "Tunnel 1");
    assert_eq!(name(" ").unwrap_err().key(), "typed.no_name");
    assert!(name(&"x".repeat(81)).is_err());
    assert!(name(&"é".repeat(80)).is_ok());
}

#[test]
fn dates_of_spreadsheets_are_read_unless_day_and_month_may_be_either() {
    for text in [
        "2027-06-12",
        "12.6.2027",
        "12.06.27",
        "12 June 2027",
        "Jun 12, 2027",
        "12-Jun-27",
    ] {
        assert_eq!(date_of_sheet(text), Ok(day("2027-06-12")), "{text}");
    }
    assert_eq!(date_of_sheet("6/13/2027"), Ok(day("2027-06-13")));
    assert_eq!(date_of_sheet("13/6/2027"), Ok(day("2027-06-13")));
    assert_eq!(date_of_sheet("6/6/2027"), Ok(day("2027-06-06")));
    for (text, key) in [
        ("6/12/2027", "typed.day_or_month"),
        ("31/2/2027", "typed.not_date"),
        ("12 Moon 2027", "typed.not_date"),
        ("12 June", "typed.not_date"),
        ("99999/1/1", "typed.not_date"),
        ("", "typed.no_date"),
    ] {
        assert_eq!(
            date_of_sheet(text).map_err(|say| say.key()),
            Err(key),
            "{text}"
        );
    }
}

const LOW: [f64; 12] = [
    -8.5, -7.0, -2.0, 3.0, 8.5, 13.0, 16.0, 15.0, 10.5, 5.0, 0.0, -5.0,
];

/// A table of both rows, with figures of the year and means where asked for.
fn tall_table(
    mark: &str,
    header: &str,
    first_month: usize,
    with_names: bool,
    with_mean: bool,
) -> String {
    let names = [
        "Jan", "Feb", "March", "Apr", "May", "June", "July", "Aug", "Sept", "Oct", "Nov", "Dec",
    ];
    let mut lines: Vec<String> = (0..12)
        .map(|nth| (nth + first_month) % 12)
        .map(|month| {
            let mut cells = vec![(LOW[month] + 10.0).to_string(), LOW[month].to_string()];
            if with_mean {
                cells.insert(0, (LOW[month] + 5.0).to_string());
            }
            if with_names {
                cells.insert(0, names[month].to_owned());
            }
            cells.join(mark)
        })
        .collect();
    if !header.is_empty() {
        lines.insert(0, header.replace('|', mark));
    }
    lines.join("\n")
}

#[test]
fn both_rows_come_from_one_table() {
    let high = LOW.map(|low| low + 10.0);
    let turned = tall_table("\t", "Month|Max|Min", 3, true, false);
    for (text, what) in [
        (
            tall_table("\t", "", 0, false, false),
            "bare columns, highest first",
        ),
        (
            tall_table(" ", "", 0, true, false),
            "names of months, blanks",
        ),
        (
            tall_table(";", "Month|High|Low", 0, true, false),
            "semicolons",
        ),
        (
            tall_table("\t", "Mean|Daily max|Daily min", 0, false, true),
            "a mean beside",
        ),
        (
            tall_table("\t", "", 0, true, true),
            "a mean beside, no header",
        ),
        (turned, "April first"),
    ] {
        assert_eq!(two_rows(&text), Ok([LOW, high]), "{what}\n{text}");
    }
    let row = |name: &str, figures: [f64; 12], year: &str| {
        format!(
            "{name}\t{}{year}",
            figures.map(|n| n.to_string().replace('.', ",")).join("\t")
        )
    };
    let wide = [row("Min", LOW, "\t4,1"), row("Max", high, "\t14,1")];
    assert_eq!(two_rows(&wide.join("\n")), Ok([LOW, high]));
    let numbered: String = (0..12)
        .map(|m| format!("{}\t{}\t{}\n", m + 1, LOW[m], high[m]))
        .collect();
    assert_eq!(two_rows(&numbered), Ok([LOW, high]), "months by number");
}

#[test]
fn a_table_upside_down_names_the_month() {
    let mut high = LOW.map(|low| low + 10.0);
    high[4] = LOW[4] - 1.0;
    let text = format!(
        "min {}\nmax {}",
        LOW.map(|n| n.to_string()).join(" "),
        high.map(|n| n.to_string()).join(" ")
    );
    let why = two_rows(&text).expect_err("May is upside down");
    assert_eq!(why.key(), "typed.months_upside_down");
    assert!(why.write(Manner::default()).starts_with("May"));
    for (text, key) in [
        ("", "typed.no_table"),
        ("1 2 3", "typed.not_table"),
        ("x\ty\n", "typed.not_table"),
    ] {
        assert_eq!(two_rows(text).map_err(|say| say.key()), Err(key));
    }
}
