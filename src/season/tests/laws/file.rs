//! The file: what goes in comes out, and damage is seen.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use proptest::prelude::*;
use season::file::{self, FileError};
use season::{Entry, Log, Season};

use crate::generate::*;
use crate::merge::{file_text, origin};

fn texts<'a>(entries: impl IntoIterator<Item = &'a Entry>) -> BTreeSet<&'a str> {
    entries.into_iter().map(Entry::json).collect()
}

/// Taken whole and right, or not at all.
fn never_something_else(bytes: &[u8], of: &Log) -> Result<(), String> {
    match file::read(bytes) {
        Err(_) => Ok(()),
        Ok(read) if texts(&read.entries) == texts(of.iter()) => Ok(()),
        Ok(read) => Err(format!("silently other entries: {:?}", read.entries)),
    }
}

fn parsed(text: &str) -> serde_json::Value {
    serde_json::from_str(text).expect("JSON")
}

/// Keys the other way round, at every depth.
fn backwards(value: &serde_json::Value) -> String {
    match value {
        serde_json::Value::Array(items) => {
            format!(
                "[{}]",
                items.iter().map(backwards).collect::<Vec<_>>().join(" ,\t")
            )
        }
        serde_json::Value::Object(map) => {
            let fields: Vec<String> = map
                .iter()
                .rev()
                .map(|(k, v)| format!("{} : {}", serde_json::json!(k), backwards(v)))
                .collect();
            format!("{{{}}}", fields.join(",\n"))
        }
        other => other.to_string(),
    }
}

proptest! {
    #[test]
    fn reading_gives_what_was_written(entries in entries()) {
        let log = log_of(&entries);
        let text = file_text(&log);
        let read = file::read(text.as_bytes()).expect("reads");
        prop_assert_eq!(&read.device, &origin());
        prop_assert_eq!(read.exported_at, "2027-03-01T07:00:00.000Z");
        prop_assert!(read.entries.iter().eq(log.iter()), "in stamp order");
        prop_assert_eq!(text.lines().count(), log.len() + 1 + usize::from(!log.is_empty() || text.lines().count() == 2), "one entry a line");
    }

    #[test]
    fn other_spellings_of_the_same_file_are_taken(entries in entries()) {
        let log = log_of(&entries);
        let text = file_text(&log);
        let pretty = serde_json::to_string_pretty(&parsed(&text)).expect("JSON");
        for spelled in [
            format!("\u{feff}{text}"),
            text.replace('\n', "\r\n"),
            text.replace('\n', ""),
            format!("\u{feff}{}", pretty.replace('\n', "\r\n")),
            backwards(&parsed(&text)),
            pretty,
        ] {
            let read = file::read(spelled.as_bytes()).expect("reads");
            prop_assert!(read.entries.iter().eq(log.iter()));
        }
    }

    #[test]
    fn damage_is_seen(entries in entries(), at in any::<prop::sample::Index>(), byte in any::<u8>(), more in any::<u8>()) {
        let log = log_of(&entries);
        let text = file_text(&log).into_bytes();
        let at = at.index(text.len());
        let mut changed = text.clone();
        changed[at] = byte;
        let mut grown = text.clone();
        grown.insert(at, more);
        let mut shrunk = text.clone();
        shrunk.remove(at);
        let mut swapped = text.clone();
        swapped.swap(at, at.saturating_sub(1));
        for damaged in [&changed, &grown, &shrunk, &swapped, &text[..at].to_vec()] {
            if let Err(why) = never_something_else(damaged, &log) { prop_assert!(false, "at {at}: {why}"); }
        }
        if !log.is_empty() {
            prop_assert!(file::read(&text[..at]).is_err() || at >= text.len() - 1, "cut at {at}");
        }
    }

    #[test]
    fn any_bytes_are_an_error_or_a_file(bytes in proptest::collection::vec(any::<u8>(), 0..200), text in "[\\[\\]{}\":,0-9a-z .eE+-]{0,80}", json in any_json()) {
        for bytes in [&bytes[..], text.as_bytes(), json.to_string().as_bytes()] {
            prop_assert!(file::read(bytes).is_err(), "none of these holds a right sum");
        }
    }

    #[test]
    fn a_preview_tells_what_taking_does(entries in entries(), held in proptest::collection::vec(0u8..4, 64)) {
        let part = |device: u8| log_of(entries.iter().zip(&held).filter(|(_, mask)| **mask & (1 << device) != 0).map(|(e, _)| e));
        let (mine, theirs) = (part(0), part(1));
        let read = file::read(file_text(&theirs).as_bytes()).expect("reads");
        let preview = file::preview(&mine, &read, START_MS);
        let mut merged = mine.clone();
        merged.extend(preview.new.iter().cloned());
        prop_assert_eq!(preview.new.len() + preview.known, read.entries.len());
        prop_assert_eq!(merged.len(), mine.len() + preview.new.len());
        prop_assert!(theirs.iter().all(|e| merged.get(e.id()).is_some()));
        prop_assert_eq!(preview.kinds.iter().map(|(_, n)| n).sum::<usize>(), preview.new.len());
        let before: BTreeSet<_> = Season::of(&mine).problems.into_iter().collect();
        let after: BTreeSet<_> = Season::of(&merged).problems.into_iter().collect();
        prop_assert_eq!(preview.new_problems, after.difference(&before).count());
    }
}

static SMALL: LazyLock<Log> = LazyLock::new(|| {
    [
        r#"{"at":"2027-02-14T08:30:12.345Z/0000","device":"d1","id":"a","kind":"sown","variety":"v","date":"2027-02-14","cells":60,"label":"é\n\"1\""}"#,
        r#"{"at":"2027-02-24T08:30:12.345Z/0000","device":"d1","id":"b","kind":"counted","sowing":"a","date":"2027-02-24","up":45}"#,
        r#"{"at":"2027-02-25T08:30:12.345Z/0001","device":"d2","id":"c","kind":"grafted","onto":[1.5,{"x":null},1e-7]}"#,
    ]
    .into_iter()
    .map(|json| Entry::read(json).expect("an entry"))
    .collect()
});

/// Every place, with bytes that mean something in JSON and some that don't.
#[test]
fn one_damaged_byte_at_any_place_is_seen() {
    let text = file_text(&SMALL).into_bytes();
    assert!(text.len() > 500);
    for at in 0..text.len() {
        assert!(
            file::read(&text[..at]).is_err() || at == text.len() - 1,
            "cut at {at}"
        );
        for byte in b"0159 -+.eE,:\"\\[]{}\n\tnx\0\x7f\xc3\xff\xef"
            .iter()
            .copied()
            .chain([text[at] ^ 1, text[at] ^ 0x20])
        {
            let mut damaged = text.clone();
            damaged[at] = byte;
            if let Err(why) = never_something_else(&damaged, &SMALL) {
                panic!("byte {byte:#x} at {at}: {why}");
            }
        }
    }
}

fn error(text: &str) -> FileError {
    file::read(text.as_bytes()).expect_err("no file")
}

#[test]
fn each_fault_has_its_name() {
    let good = file_text(&SMALL);
    let said = |from: &str, to: &str| {
        let changed = good.replacen(from, to, 1);
        assert_ne!(changed, good, "{from}");
        error(&changed)
    };
    assert_eq!(error(""), FileError::Empty);
    assert_eq!(error("\u{feff} \r\n"), FileError::Empty);
    assert_eq!(
        file::read(b"{\"a\":1,\n\"\xff\"}"),
        Err(FileError::NotText { line: 2 })
    );
    for other in [
        "1",
        "null",
        "[]",
        "\"stemtide-log\"",
        "{}",
        r#"{"format":"other","version":1}"#,
        r#"{"format":"stemtide-log"}"#,
        r#"{"format":"stemtide-log","version":"1"}"#,
        r#"{"format":"stemtide-log","version":0}"#,
        r#"["stemtide-log",1]"#,
        r#"{"type":"FeatureCollection","features":[]}"#,
    ] {
        assert_eq!(error(other), FileError::NotOurs, "{other}");
    }
    assert_eq!(
        said("\"version\":1", "\"version\":2"),
        FileError::Newer { version: 2 }
    );
    assert_eq!(
        said("\"count\":3", "\"count\":4"),
        FileError::WrongCount { said: 4, found: 3 }
    );
    assert_eq!(said("\"up\":45", "\"up\":46"), FileError::WrongSum);
    assert_eq!(
        said("\"id\":\"b\"", "\"id\":\"a\""),
        FileError::TwiceTheSame { number: 2, line: 3 }
    );
    assert!(matches!(
        said("\"id\":\"b\"", "\"id\":\"b b\""),
        FileError::BadEntry {
            number: 2,
            line: 3,
            ..
        }
    ));
    assert!(matches!(
        said("\"sha256\"", "\"sha257\""),
        FileError::BadEnvelope { .. }
    ));
    assert!(matches!(
        error(&good[..good.len() / 2]),
        FileError::NotJson {
            cut_short: true,
            ..
        }
    ));
    assert!(matches!(
        said("\"up\":45", "\"up\":045"),
        FileError::NotJson {
            line: 3,
            cut_short: false,
            ..
        }
    ));
    // A line taken out by hand, count mended: the sum tells.
    let lines: Vec<&str> = good.lines().collect();
    let without = [lines[0], lines[1], lines[3], lines[4]]
        .join("\n")
        .replace("\"count\":3", "\"count\":2");
    assert_eq!(error(&without), FileError::WrongSum);
}

/// Nesting far beyond any real file is refused on the way in, wherever it stands, without running out of stack.
#[test]
fn bottomless_nesting_is_refused() {
    for depth in [120, 130, 1_000, 1_000_000] {
        for (open, close) in [("[", "]"), ("{\"a\":", "}")] {
            let deep = format!("{}1{}", open.repeat(depth), close.repeat(depth));
            assert!(file::read(deep.as_bytes()).is_err());
            let inside = file_text(&SMALL).replace("1e-7", &deep);
            assert!(file::read(inside.as_bytes()).is_err());
            let entry = format!(
                r#"{{"id":"a","at":"2027-02-14T08:30:12.345Z/0000","device":"d","kind":"x","deep":{deep}}}"#
            );
            assert!(Entry::read(&entry).is_err());
        }
    }
    let aside = format!("{}1{}", "[".repeat(1_000_000), "]".repeat(1_000_000));
    let text =
        file_text(&SMALL).replacen("{\"format\"", &format!("{{\"extra\":{aside},\"format\""), 1);
    assert!(never_something_else(text.as_bytes(), &SMALL).is_ok());
}

/// Numbers that one device would read otherwise than another are refused; every other one comes back as the same double.
#[test]
fn numbers_travel_or_are_refused() {
    let entry = |number: &str| {
        Entry::read(&format!(
            r#"{{"id":"a","at":"2027-02-14T08:30:12.345Z/0000","device":"d","kind":"x","n":{number}}}"#
        ))
    };
    for number in [
        "0",
        "-0",
        "-0.0",
        "1.0",
        "1e2",
        "0.1",
        "5e-324",
        "9007199254740992",
        "-9007199254740992",
        "9.007199254740992e15",
        "0.1234567890123456789",
    ] {
        let read = entry(number).expect(number);
        let again = Entry::read(read.json()).expect(number);
        assert_eq!(read.json(), again.json(), "{number}");
        let back: f64 = parsed(again.json())["n"].as_f64().expect("a number");
        assert_eq!(back, number.parse::<f64>().expect("a number"), "{number}");
    }
    for number in [
        "9007199254740993",
        "-9007199254740993",
        "18446744073709551616",
        "1e17",
        "-1e17",
        "1e300",
        "1e400",
    ] {
        assert!(entry(number).is_err(), "{number}");
    }
}
