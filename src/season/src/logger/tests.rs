use chrono::{Datelike, Timelike};
use proptest::prelude::*;

use super::*;
use crate::words::{Manner, has};

/// So many days of readings every so many minutes from 1 May 2027, coldest at 5, warmest at 15 o'clock, each line as told.
fn file(
    header: &str,
    days: u32,
    minutes: u32,
    line: impl Fn(chrono::NaiveDateTime, f64) -> String,
) -> String {
    let from = NaiveDate::from_ymd_opt(2027, 5, 1)
        .unwrap()
        .and_hms_opt(0, 0, 0)
        .unwrap();
    let mut text = format!("{header}\n");
    for step in 0..days * 24 * 60 / minutes {
        let at = from + chrono::TimeDelta::minutes(i64::from(step * minutes));
        text += &line(at, degrees_at(at));
        text.push('\n');
    }
    text
}

/// From 4 C at 5 o'clock to 20 C at 15.
fn degrees_at(at: chrono::NaiveDateTime) -> f64 {
    let hour = f64::from(at.hour()) + f64::from(at.minute()) / 60.0;
    let way = if (5.0..=15.0).contains(&hour) {
        (hour - 5.0) / 10.0
    } else {
        ((hour - 15.0).rem_euclid(24.0) / -14.0) + 1.0
    };
    4.0 + 16.0 * way
}

fn iso(at: chrono::NaiveDateTime, c: f64) -> String {
    format!("{},{c:.2}", at.format("%Y-%m-%d %H:%M"))
}

fn usual(text: &str) -> Reading {
    read(text.as_bytes(), &Choice::default()).unwrap()
}

/// Every day from 4 to 20 C.
fn assert_usual(reading: &Reading, days: usize) {
    assert_eq!(reading.days.len(), days, "{reading:?}");
    for day in &reading.days {
        assert_eq!((day.min_c, day.max_c), (4.0, 20.0), "{day:?}");
        assert!((11.5..12.5).contains(&day.mean_c), "{day:?}");
        assert!(day.whole, "{day:?}");
    }
    assert_eq!(
        reading.days[0].date,
        NaiveDate::from_ymd_opt(2027, 5, 1).unwrap()
    );
}

fn said(reading: &Reading) -> Vec<&'static str> {
    reading.notices.iter().map(Say::key).collect()
}

#[test]
fn a_season_of_quarters_of_an_hour_becomes_its_days() {
    let reading = usual(&file("Time,Temperature (°C)", 180, 15, iso));
    assert_usual(&reading, 180);
    assert_eq!(reading.rows, 180 * 96);
    assert_eq!(reading.interval_minutes, Some(15.0));
    assert_eq!(
        (reading.unit, reading.unit_said),
        (Unit::Celsius, UnitSaid::Header)
    );
    assert_eq!(said(&reading), Vec::<&str>::new());
    assert_eq!(reading.days[0].readings, 96);
}

#[test]
fn dates_and_marks_of_all_manners_are_read() {
    type Line = fn(chrono::NaiveDateTime, f64) -> String;
    let forms: [(&str, &str, Line); 15] = [
        ("T and Z", "timestamp\ttemp °C", |at, c| {
            format!("{}Z\t{c:.2}", at.format("%Y-%m-%dT%H:%M:%S"))
        }),
        ("offset", "timestamp,temp °C", |at, c| {
            format!("{}-05:00,{c:.2}", at.format("%Y-%m-%dT%H:%M:%S"))
        }),
        ("fraction", "timestamp,temp °C", |at, c| {
            format!("{}.000+02:00,{c:.2}", at.format("%Y-%m-%dT%H:%M:%S"))
        }),
        ("decimal comma", "Date;Temperature", |at, c| {
            format!(
                "{};{}",
                at.format("%d.%m.%Y %H:%M"),
                format!("{c:.2}").replace('.', ",")
            )
        }),
        ("quoted comma", "\"Date\",\"Temp\"", |at, c| {
            format!(
                "\"{}\",\"{}\"",
                at.format("%Y-%m-%d %H:%M"),
                format!("{c:.2}").replace('.', ",")
            )
        }),
        ("12 hours", "#,Date Time,\"Temp, °C\"", |at, c| {
            format!("1,{},{c:.2}", at.format("%m/%d/%y %I:%M:%S %p"))
        }),
        ("am with points", "Date,Temp", |at, c| {
            format!(
                "{},{c:.2}",
                at.format("%m/%d/%Y %I:%M %P")
                    .to_string()
                    .replace("am", "a.m.")
                    .replace("pm", "p.m.")
            )
        }),
        ("strokes, day first", "Date,Temp", |at, c| {
            format!("{},{c:.2}", at.format("%d/%m/%Y %H:%M"))
        }),
        ("two columns", "Date,Time,Temp,RH %", |at, c| {
            format!(
                "{},{},{c:.2},55",
                at.format("%d/%m/%Y"),
                at.format("%H:%M:%S")
            )
        }),
        ("two columns, time first", "Time|Date|Temp", |at, c| {
            format!("{}|{}|{c:.2}", at.format("%I:%M %p"), at.format("%d-%b-%Y"))
        }),
        ("month in words", "When,Temp", |at, c| {
            format!("\"{}\",{c:.2}", at.format("%b %d, %Y %H:%M"))
        }),
        ("weekday", "When,Temp", |at, c| {
            format!("\"{}\",{c:.2}", at.format("%a, %d %B %Y %H:%M"))
        }),
        ("compact", "When,Temp", |at, c| {
            format!("{},{c:.2}", at.format("%Y%m%d %H:%M"))
        }),
        ("seconds since 1970", "unix,temp_c", |at, c| {
            format!("{},{c:.2}", at.and_utc().timestamp())
        }),
        ("thousandths of seconds", "unix,temp_c", |at, c| {
            format!("{},{c:.2}", at.and_utc().timestamp_millis())
        }),
    ];
    for (name, header, line) in forms {
        let reading = usual(&file(header, 20, 15, line));
        assert_usual(&reading, 20);
        assert!(!reading.day_first_asked, "{name}");
        assert_eq!(reading.bad, 0, "{name}");
    }
}

#[test]
fn however_the_text_is_coded_it_is_read() {
    let text = file(
        "Plot Title: tunnel\nSerial;123\n\nDate;Temp (°C)",
        3,
        15,
        |at, c| format!("{};{c:.2}", at.format("%Y-%m-%d %H:%M")),
    );
    let with_mark = format!("\u{feff}{text}");
    let little: Vec<u8> = with_mark
        .encode_utf16()
        .flat_map(u16::to_le_bytes)
        .collect();
    let big: Vec<u8> = with_mark
        .encode_utf16()
        .flat_map(u16::to_be_bytes)
        .collect();
    let unmarked: Vec<u8> = text.encode_utf16().flat_map(u16::to_le_bytes).collect();
    let latin: Vec<u8> = text.chars().map(|c| c as u8).collect();
    assert!(
        core::str::from_utf8(&latin).is_err(),
        "a degree sign of Latin-1"
    );
    let returns = text.replace('\n', "\r\n").into_bytes();
    let old = text.replace('\n', "\r").into_bytes();
    for bytes in [
        with_mark.into_bytes(),
        little,
        big,
        unmarked,
        latin,
        returns,
        old,
    ] {
        let reading = read(&bytes, &Choice::default()).unwrap();
        assert_usual(&reading, 3);
        assert_eq!(reading.unit_said, UnitSaid::Header);
        assert_eq!(reading.columns, ["Temp (°C)"]);
    }
}

#[test]
fn fahrenheit_by_heading_units_row_setting_or_cell_is_turned_into_celsius() {
    let f = |c: f64| c * 1.8 + 32.0;
    let line = |at: chrono::NaiveDateTime, c: f64| iso(at, f(c));
    for header in [
        "time,Temp (°F)",
        "time,temp_f",
        "time,value\n,deg F",
        "Units: Fahrenheit\ntime,Temp",
    ] {
        let reading = usual(&file(header, 4, 15, line));
        assert_usual(&reading, 4);
        assert_eq!(
            (reading.unit, reading.unit_said),
            (Unit::Fahrenheit, UnitSaid::Header),
            "{header}"
        );
    }
    let silent = file("time,Temp", 4, 15, line);
    let told = Choice {
        fahrenheit: Some(true),
        ..Choice::default()
    };
    let reading = read(silent.as_bytes(), &told).unwrap();
    assert_usual(&reading, 4);
    assert_eq!(reading.unit_said, UnitSaid::Told);
}

#[test]
fn on_a_suspicion_nothing_is_converted() {
    let hot = |at, c: f64| iso(at, c * 1.8 + 32.0);
    for header in ["time,Temp", "time,Temp (°C)"] {
        let reading = usual(&file(header, 4, 15, hot));
        assert_eq!(
            (reading.unit, reading.unit_said),
            (Unit::Celsius, UnitSaid::Doubtful),
            "{header}"
        );
        assert!(said(&reading).contains(&"logger.doubtful"));
        // No day is handed out until the grower speaks.
        assert_eq!(
            (reading.days.len(), reading.bad, reading.rows),
            (0, 0, 4 * 96)
        );
    }
    let cool = usual(&file("time,Temp", 4, 15, iso));
    assert_eq!(cool.unit_said, UnitSaid::Assumed);
    assert_eq!(said(&cool), ["logger.assumed"]);
}

#[test]
fn dates_that_read_both_ways_are_asked_for() {
    let text = file("Date,Temp (C)", 9, 15, |at, c| {
        format!("{},{c:.2}", at.format("%d/%m/%Y %H:%M"))
    });
    let reading = usual(&text);
    assert!(
        reading.day_first_asked && reading.day_first,
        "a week, not nine months"
    );
    assert_eq!(said(&reading), ["logger.day_first"]);
    assert_usual(&reading, 9);
    let told = Choice {
        day_first: Some(false),
        ..Choice::default()
    };
    let other = read(text.as_bytes(), &told).unwrap();
    assert!(!other.day_first_asked);
    let months: Vec<u32> = other.days.iter().map(|day| day.date.month()).collect();
    assert_eq!(months, [1, 2, 3, 4, 5, 6, 7, 8, 9]);
    // One day of the file that can't be a month settles it.
    assert!(
        !usual(&file("Date,Temp (C)", 14, 15, |at, c| format!(
            "{},{c:.2}",
            at.format("%m/%d/%Y %H:%M")
        )))
        .day_first_asked
    );
}

#[test]
fn columns_of_temperatures_are_told_apart_from_all_others() {
    let line = |at: chrono::NaiveDateTime, c: f64| {
        format!(
            "7,{},{c:.2},61.0,{:.2},-3.0,3.1",
            at.format("%Y-%m-%d %H:%M"),
            c - 2.0
        )
    };
    let text = file(
        "No.,Date-Time,Tunnel Temp (°C),Humidity (%RH),Outdoors Temp (°C),Dew point (°C),Battery V",
        3,
        15,
        line,
    );
    let reading = usual(&text);
    assert_eq!(reading.columns, ["Tunnel Temp (°C)", "Outdoors Temp (°C)"]);
    assert_eq!(said(&reading), ["logger.columns"]);
    assert_usual(&reading, 3);
    let second = read(
        text.as_bytes(),
        &Choice {
            column: Some(1),
            ..Choice::default()
        },
    )
    .unwrap();
    assert_eq!(
        (second.column, second.days[0].min_c, second.days[0].max_c),
        (1, 2.0, 18.0)
    );
    let beyond = read(
        text.as_bytes(),
        &Choice {
            column: Some(9),
            ..Choice::default()
        },
    )
    .unwrap();
    assert_eq!(beyond.column, 0);
    // Headings that say nothing, and none at all.
    let bare = usual(&file("stamp;tunnel", 3, 15, |at, c| {
        format!("{};{c:.2}", at.format("%Y-%m-%d %H:%M"))
    }));
    assert_eq!(bare.columns, ["tunnel"]);
    let text = file("", 3, 15, iso);
    assert_eq!(usual(text.trim_start()).columns, ["Column 2"]);
}

#[test]
fn gaps_repeats_disorder_and_nonsense_are_said_and_counted() {
    let mut lines: Vec<String> = file("time,Temp (°C)", 6, 15, iso)
        .lines()
        .map(str::to_owned)
        .collect();
    // The second day ends at eleven: its highest is not known. The third loses its evening: the day's own hours are there.
    lines.retain(|line| {
        let morning_only = line.starts_with("2027-05-02") && line.as_str() >= "2027-05-02 11";
        let evening = line.starts_with("2027-05-03") && line.as_str() >= "2027-05-03 17:30";
        !morning_only && !evening
    });
    let hour: Vec<String> = lines
        .iter()
        .filter(|l| l.starts_with("2027-05-04 01"))
        .map(|l| l.replace(",", ",1"))
        .collect();
    lines.extend(hour);
    lines.push("2027-05-05 12:00,-127.0".into());
    lines.push("2027-05-05 12:15,err".into());
    lines.push("2027-05-05 12:17,".into());
    lines.push(lines[1].clone());
    lines.push("2031-05-05 12:15,12.0".into());
    lines.push("End of file,".into());
    lines.swap(2, 300);
    let choice = Choice {
        today: NaiveDate::from_ymd_opt(2027, 6, 1),
        ..Choice::default()
    };
    let reading = read(lines.join("\n").as_bytes(), &choice).unwrap();
    let dates: Vec<u32> = reading.days.iter().map(|day| day.date.day()).collect();
    assert_eq!(dates, [1, 3, 4, 5, 6]);
    assert!(!reading.days[1].whole && reading.days[0].whole);
    assert_eq!((reading.days[1].min_c, reading.days[1].max_c), (4.0, 20.0));
    assert_eq!(
        reading.left_out,
        [NaiveDate::from_ymd_opt(2027, 5, 2).unwrap()]
    );
    assert_eq!(reading.bad, 3, "{:?}", reading.bad_rows);
    assert_eq!(
        said(&reading),
        [
            "logger.bad",
            "logger.ahead",
            "logger.left_out",
            "logger.gaps",
            "logger.empty",
            "logger.repeats",
            "logger.unordered"
        ]
    );
    for say in &reading.notices {
        assert!(has(say.key()));
        let text = say.write(Manner::default());
        assert!(!text.contains(['{', '}']), "{text}");
    }
}

#[test]
fn what_gives_no_day_says_why() {
    let err = |bytes: &[u8]| read(bytes, &Choice::default()).unwrap_err();
    use LoggerError::*;
    assert_eq!(err(b""), Empty);
    assert_eq!(err(b"\xef\xbb\xbf \r\n\r\n"), Empty);
    assert_eq!(err(b"PK\x03\x04rest"), Workbook);
    assert_eq!(err(b"\x89PNG\r\n\x1a\n"), NotText);
    assert_eq!(err(&[0, 1, 2, 3, 0, 9, 8, 7, 1, 1, 1, 1]), NotText);
    assert_eq!(err(b"a letter, with commas, and no readings"), NoTime);
    assert_eq!(
        err(b"time,humidity %\n2027-05-01 00:00,55\n"),
        NoTemperature
    );
    assert_eq!(err(b"time,temp\n2027-05-01 00:00,\n"), NoTemperature);
    assert_eq!(
        err(b"date,temp\n2027-05-01,12\n2027-05-02,13\n"),
        NoTimeOfDay
    );
    assert_eq!(
        err(b"time,temp\n2027-05-01 00:00,-127\n2027-05-01 01:00,999\n"),
        NoRow
    );
    assert_eq!(
        err(file("time,temp", 4, 15, |at, c| format!(
            "{},{}",
            at.format("%Y-%m-%d %H:%M"),
            format!("{c:.1}").replace('.', ",")
        ))
        .as_bytes()),
        MoreCells
    );
    assert_eq!(err(file("time,temp", 40, 360, iso).as_bytes()), TooSeldom);
    for why in [
        Empty,
        TooLarge,
        Workbook,
        NotText,
        NoTime,
        NoTimeOfDay,
        NoTemperature,
        NoRow,
        MoreCells,
        TooSeldom,
    ] {
        assert!(has(why.say().key()), "{why:?}");
    }
    // One reading is no day, and nothing worse.
    let one = usual("time,temp\n2027-05-01 00:00,5\n");
    assert_eq!(
        (one.days.len(), one.left_out.len(), one.interval_minutes),
        (0, 1, None)
    );
}

#[test]
fn moments_that_cannot_be_are_none() {
    for bad in [
        "2027-02-30 10:00",
        "2027-05-01 25:00",
        "2027-05-01 10:61",
        "13/13/2027 10:00",
        "12.5",
        "61",
        "2027",
        "x",
        "",
        "2027-05-01x",
        "1/2/3",
        "5:00 pm",
        "2027-05-01 0:00 pm",
    ] {
        assert_eq!(moment(bad), None, "{bad}");
    }
    assert_eq!(time("12:00 AM"), Some((0, Clock::Local)));
    assert_eq!(time("12:30 pm"), Some((45_000, Clock::Local)));
    assert_eq!(time("24:00"), Some((86_399, Clock::Local)));
    assert_eq!(time("07:05:09.250 GMT-05:00"), Some((25_509, Clock::Local)));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn no_bytes_stop_the_reader(bytes in proptest::collection::vec(any::<u8>(), 0..600)) {
        let _read = read(&bytes, &Choice::default());
    }

    #[test]
    fn no_table_stops_the_reader(
        text in "(time|date|temp|°[CF]|\"|[0-9]{1,13}|[-/.:;,\t|]|T|Z|am|pm|jan|\r?\n| ){0,120}",
        column in proptest::option::of(0_usize..4),
        day_first in proptest::option::of(any::<bool>()),
    ) {
        let text = format!("time,temp\n2027-05-01 00:00,5\n{text}");
        let choice = Choice { column, day_first, ..Choice::default() };
        if let Ok(reading) = read(text.as_bytes(), &choice) {
            prop_assert!(reading.days.iter().all(|day| day.min_c <= day.max_c));
            prop_assert!(reading.bad_rows.len() <= reading.bad);
        }
    }
}
