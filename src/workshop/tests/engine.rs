//! The engine at a command line, as a person calls it: what it prints, what it refuses, what it leaves alone.

#![allow(clippy::expect_used, reason = "a test that cannot set up must stop")]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use season::fact::{CountedFact, Fact, NoteFact};
use season::file::{self, Origin};
use season::ids::{DeviceId, EntryId, SowingId};
use season::{Entry, Log, Stamp};
use serde_json::Value;

/// A folder of its own for one test, gone afterwards.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let path = std::env::temp_dir().join(format!("stemtide-{name}-{}", std::process::id()));
        fs::create_dir_all(&path).expect("a folder");
        Self(path)
    }

    fn with(&self, name: &str, text: impl AsRef<[u8]>) -> PathBuf {
        let path = self.0.join(name);
        fs::write(&path, text).expect("written");
        path
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn demo(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../demo-data")
        .join(name)
}

fn run(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_workshop"))
        .args(args)
        .output()
        .expect("the program starts")
}

fn text(path: &Path) -> &str {
    path.to_str().expect("a plain path")
}

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn objected(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

fn answer(args: &[&str]) -> Value {
    let output = run(args);
    assert!(output.status.success(), "{}", objected(&output));
    serde_json::from_slice(&output.stdout).expect("JSON")
}

#[test]
fn a_winter_bench_is_told_to_keep_the_mat_for_the_stragglers_only() {
    let bench = demo("winter-bench.json");
    let asked = ["tasks", text(&bench), "--today", "2027-01-26"];
    let told = run(&asked);
    assert!(told.status.success());
    let told = said(&told);
    assert!(told.starts_with("As of Tue 26 Jan 2027.\n"), "{told}");
    let chalk = "Take the mat away: Chalk spike, sown Sat 16 Jan (Heat mat), best Fri 29 Jan";
    assert!(told.contains(chalk), "{told}");
    assert!(
        told.contains("Day 10: 45 of 60 up. Leave the mat on until Fri 29 Jan"),
        "{told}"
    );
    // The one that is nearly all up comes off now.
    let (now, later) = told.split_once("This week").expect("a heading");
    assert!(now.contains("Take the mat away: Brick spike"), "{told}");
    assert!(later.contains("Take the mat away: Chalk spike"), "{told}");
    // A mat has its caution, once.
    assert_eq!(told.matches("Usual caution").count(), 1, "{told}");

    let json = answer(&[&asked[..], &["--json"]].concat());
    let tasks = json["tasks"].as_array().expect("tasks");
    let mat: Vec<(&str, &str)> = tasks
        .iter()
        .filter(|task| task["kind"] == "mat_off" && task["variety"] != "Pale open cup")
        .filter_map(|task| Some((task["variety"].as_str()?, task["window"]["best"].as_str()?)))
        .collect();
    assert_eq!(
        mat,
        [("Brick spike", "2027-01-26"), ("Chalk spike", "2027-01-29")]
    );
}

#[test]
fn the_demo_is_planned_and_forecast_in_words_and_in_json() {
    let season = demo("demo-season.json");
    let asked = |what| answer(&[what, text(&season), "--today", "2027-07-19", "--json"]);
    let plan = asked("plan");
    assert!(!plan["proposals"].as_array().expect("list").is_empty());
    assert!(!plan["shortfalls"].as_array().expect("list").is_empty());
    for proposal in plan["proposals"].as_array().expect("list") {
        let (plants, cells) = (proposal["plants"].as_u64(), proposal["cells"].as_u64());
        assert!(plants > Some(0) && cells >= plants, "{proposal}");
        assert!(!proposal["why_cells"].as_array().expect("list").is_empty());
    }
    let forecast = asked("forecast");
    assert_eq!(forecast["targets"].as_array().map(Vec::len), Some(9));
    for tray in forecast["trays"].as_array().expect("list") {
        let bloom: Vec<&str> = tray["bloom"]
            .as_array()
            .expect("bloom")
            .iter()
            .filter_map(Value::as_str)
            .collect();
        assert!(bloom.is_sorted() && bloom.len() == 3, "{tray}");
        assert!(
            tray["verdict"]
                .as_str()
                .is_some_and(|says| says.ends_with('.')),
            "{tray}"
        );
    }
    for (what, heads) in [
        ("plan", vec!["To sow", "Short", "Ways out: buy plugs"]),
        ("forecast", vec!["Trays", "Beds", "a week\n"]),
        // 40 stems and 18 jars of five.
        (
            "tasks",
            vec![
                "Today",
                "This week",
                "Later",
                "Plant out: ",
                "Barn supper, 18 tables, Thu 29 Jul: 130 stems.",
            ],
        ),
    ] {
        let told = said(&run(&[what, text(&season), "--today", "2027-07-19"]));
        for head in heads {
            assert!(told.contains(head), "{what} lacks {head}:\n{told}");
        }
        assert!(!told.contains(" .") && !told.contains('{'), "{told}");
    }
}

#[test]
fn the_demo_tells_what_can_be_promised_and_looks_back() {
    let season = demo("demo-season.json");
    let asked = |what| answer(&[what, text(&season), "--today", "2027-07-19", "--json"]);
    let available = asked("available");
    let lines = available["lines"].as_array().expect("lines");
    let weeks = |line: &Value| line["weeks"].as_array().cloned().expect("weeks");
    let of = |what: &str| lines.iter().find(|line| line["what"] == what);
    assert!(of("spike, blue").is_some() && of("focal, yellow").is_some());
    let mut free = 0;
    for line in lines {
        for week in weeks(line) {
            free += week["free"].as_u64().expect("free");
            let stems = week["stems"].as_array().expect("stems");
            let stems: Vec<f64> = stems.iter().filter_map(Value::as_f64).collect();
            assert!(stems.is_sorted() && stems.len() == 3, "{week}");
            // Never more than the share of the middle and what stands in the cooler.
            let share = available["share"].as_f64().expect("share");
            let most = stems[1] * share + week["in_stock"].as_f64().expect("stock");
            assert!(week["free"].as_f64() <= Some(most + 1e-9), "{week}");
        }
    }
    assert!(free > 0);

    let review = asked("review");
    assert_eq!(review["from"], "2027-01-01");
    let list = |what: &str| review[what].as_array().cloned().expect("list");
    let sum = |what: &str| -> u64 {
        let cuts = list(what);
        cuts.iter().filter_map(|row| row["cut"].as_u64()).sum()
    };
    assert!(sum("plantings") > 500);
    assert_eq!(sum("plantings"), sum("weeks"));
    let lost = list("losses");
    assert!(lost.iter().any(|row| row["cause"] == "dropped"));
    assert!(!list("lots").is_empty() && !list("suggestions").is_empty());
    for suggestion in list("suggestions") {
        let figure = |name: &str| suggestion[name].as_f64().expect("figure");
        assert!(figure("low") <= figure("after") && figure("after") <= figure("high"));
    }

    for (what, heads) in [
        (
            "available",
            vec![
                "Stems that can be promised",
                "2027-W30",
                "spike, blue",
                "60%",
            ],
        ),
        (
            "review",
            vec![
                "From Fri 1 Jan 2027",
                "Plantings",
                "Weeks",
                "Seed lots",
                "Losses",
                "dropped",
                "Suggestions",
            ],
        ),
    ] {
        let told = said(&run(&[what, text(&season), "--today", "2027-07-19"]));
        for head in heads {
            assert!(told.contains(head), "{what} lacks {head}:\n{told}");
        }
        assert!(!told.contains('{') && !told.contains(" \n"), "{told}");
    }
}

#[test]
fn nothing_recorded_gives_an_answer_all_the_same() {
    let empty = demo("empty.json");
    for (what, says) in [
        ("tasks", "Nothing to do"),
        ("plan", "Nothing to sow"),
        ("forecast", "Nothing is sown"),
        ("available", "Nothing to offer"),
        ("review", "Nothing to look back on"),
    ] {
        let output = run(&[what, text(&empty), "--today", "2027-01-26"]);
        assert!(output.status.success());
        assert!(said(&output).contains(says), "{}", said(&output));
        answer(&[what, text(&empty), "--json"]);
    }
    assert!(run(&["validate", text(&empty)]).status.success());
}

#[test]
fn a_damaged_file_is_refused_with_a_sentence_that_says_where() {
    let folder = Folder::new("damaged");
    let whole = fs::read_to_string(demo("winter-bench.json")).expect("read");
    let half = &whole[..whole.len() / 2];
    let line_cut = half.lines().count();
    let changed = whole.replacen("\"up\":45", "\"up\":46", 1);
    assert_ne!(changed, whole);
    let bad_entry = whole.replacen("\"kind\":\"place\"", "\"sort\":\"place\"", 1);
    for (name, bytes, says) in [
        (
            "cut",
            half.as_bytes().to_vec(),
            format!("breaks off at line {line_cut}"),
        ),
        (
            "changed",
            changed.into_bytes(),
            "were changed after the file was written".into(),
        ),
        (
            "entry",
            bad_entry.into_bytes(),
            "Entry 3, on line 4: its field \"kind\"".into(),
        ),
        (
            "picture",
            vec![0x89, 0x50, 0x4e, 0x47, 0xff],
            "is not text".into(),
        ),
        (
            "other",
            b"{\"rows\":[]}".to_vec(),
            "not a Stemtide file".into(),
        ),
        ("nothing", Vec::new(), "is empty".into()),
        (
            "newer",
            whole
                .replacen("\"version\":1", "\"version\":7", 1)
                .into_bytes(),
            "(format 7;".into(),
        ),
    ] {
        let path = folder.with(name, bytes);
        for what in ["validate", "tasks", "plan", "forecast"] {
            let output = run(&[what, text(&path)]);
            assert_eq!(output.status.code(), Some(1), "{what} {name}");
            assert!(
                objected(&output).contains(&says),
                "{name}: {}",
                objected(&output)
            );
            assert_eq!(said(&output), "", "{what} {name}");
        }
        let output = run(&["merge", text(&path), text(&demo("empty.json"))]);
        assert_eq!(output.status.code(), Some(1), "{name}");
        assert_eq!(said(&output), "", "{name}");
    }
    let output = run(&["validate", text(&folder.0.join("nowhere.json"))]);
    assert_eq!(output.status.code(), Some(1));
    assert!(
        objected(&output).starts_with("Could not read "),
        "{}",
        objected(&output)
    );
}

fn entry(id: &str, at: u64, fact: impl Into<Fact>) -> Entry {
    let id = EntryId::new(id).expect("id");
    let at = Stamp::at(1_800_000_000_000 + at, 0).expect("stamp");
    Entry::new(id, at, DeviceId::new("phone").expect("id"), fact.into()).expect("entry")
}

fn note(id: &str, at: u64, text: &str) -> Entry {
    let date = "2027-01-26".parse().expect("date");
    let text = text.to_owned();
    entry(id, at, NoteFact::new(text, date))
}

fn written(entries: &[Entry], device: &str, at: &str) -> String {
    let log: Log = entries.iter().cloned().collect();
    let device = Origin {
        id: DeviceId::new(device).expect("id"),
        name: device.into(),
    };
    file::write(&log, &device, at).expect("written")
}

#[test]
fn records_that_do_not_add_up_are_told_one_by_one() {
    let folder = Folder::new("problems");
    let count = CountedFact::new(
        SowingId::new("nowhere").expect("id"),
        3,
        "2027-01-26".parse().expect("date"),
    );
    let path = folder.with(
        "a.json",
        written(&[entry("a", 1, count), note("b", 2, "x")], "phone", ""),
    );
    let output = run(&["validate", text(&path)]);
    assert_eq!(output.status.code(), Some(1));
    let told = said(&output);
    assert!(told.contains("2 entries, written by phone."), "{told}");
    assert!(
        told.contains("Entry 1, a: Count of Tue 26 Jan: what it belongs to is not in this log"),
        "{told}"
    );
    assert!(!told.contains("Everything adds up"), "{told}");
}

#[test]
fn merging_gives_the_union_and_the_same_file_whichever_comes_first() {
    let folder = Folder::new("merge");
    let both = note("both", 1, "known to both");
    let a = [
        both.clone(),
        note("only-a", 2, "a"),
        note("torn", 4, "as the phone has it"),
    ];
    let b = [
        both,
        note("only-b", 3, "b"),
        note("torn", 4, "as its copy has it"),
    ];
    let a = folder.with("a.json", written(&a, "phone", "2027-01-26T08:00:00.000Z"));
    let b = folder.with("b.json", written(&b, "laptop", "2027-01-27T08:00:00.000Z"));
    let (a, b) = (text(&a), text(&b));
    let one = run(&["merge", a, b]);
    let other = run(&["merge", b, a]);
    assert!(one.status.success() && other.status.success());
    assert_eq!(said(&one), said(&other));
    let report = objected(&one);
    assert!(
        report.contains("4 entries in all: 1 in both, 1 only in "),
        "{report}"
    );
    assert!(
        report.contains("different entries with the id torn"),
        "{report}"
    );

    let file = file::read(said(&one).as_bytes()).expect("a season file");
    let ids: Vec<&str> = file.entries.iter().map(|e| e.id().as_str()).collect();
    assert_eq!(ids, ["both", "only-a", "only-b", "torn"]);
    assert_eq!(file.device.name, "laptop");
    assert_eq!(file.exported_at, "2027-01-27T08:00:00.000Z");

    // Merging with what it came from changes nothing more.
    let merged = folder.with("merged.json", said(&one));
    let again = run(&["merge", text(&merged), a]);
    assert_eq!(said(&again), said(&one));
}

#[test]
fn merging_overwrites_nothing_unless_asked() {
    let folder = Folder::new("overwrite");
    let a_text = written(&[note("a", 1, "a")], "phone", "2027-01-26T08:00:00.000Z");
    let b_text = written(&[note("b", 2, "b")], "laptop", "2027-01-27T08:00:00.000Z");
    let (a, b) = (
        folder.with("a.json", &a_text),
        folder.with("b.json", &b_text),
    );
    let refused = run(&["merge", text(&a), text(&b), "-o", text(&a)]);
    assert_eq!(refused.status.code(), Some(1));
    assert!(
        objected(&refused).contains("is there already"),
        "{}",
        objected(&refused)
    );
    assert_eq!(fs::read_to_string(&a).expect("read"), a_text);

    let new = folder.0.join("new.json");
    let done = run(&["merge", text(&a), text(&b), "-o", text(&new)]);
    assert!(done.status.success() && said(&done).is_empty());
    let asked = run(&["merge", text(&a), text(&b), "-o", text(&a), "--overwrite"]);
    assert!(asked.status.success());
    assert_eq!(fs::read(&a).expect("read"), fs::read(&new).expect("read"));
    assert_eq!(fs::read_to_string(&b).expect("read"), b_text);
    // No half-written file stays behind.
    assert_eq!(fs::read_dir(&folder.0).expect("folder").count(), 3);
}

#[test]
fn the_demo_is_written_where_it_is_asked_for() {
    let folder = Folder::new("demo");
    let out = folder.0.join("deep/demo-season.json");
    assert!(run(&["demo", "-o", text(&out)]).status.success());
    for name in ["demo-season.json", "winter-bench.json", "empty.json"] {
        let made = fs::read(folder.0.join("deep").join(name)).expect("made");
        assert!(made == fs::read(demo(name)).expect("read"), "{name}");
    }
}
