//! The published schema says of every kind what the reader takes: the same fields, needs, ranges and words. That it says so in
//! good JSON Schema, an independent validator finds in `tests/journeys/schema.test.mjs`, on the same files.

#![allow(
    clippy::expect_used,
    clippy::panic,
    reason = "a check that cannot be set up must stop"
)]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use season::fact::KINDS;
use season::fact::table::{Field, Need, Shape};
use season::limits::Limit;
use season::{Entry, Fact, Log, Season, file};
use serde_json::{Map, Value, json};

fn text(path: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn parsed(path: &str) -> Value {
    serde_json::from_str(&text(path)).expect("JSON")
}

const SCHEMA: &str = "schema/stemtide-log.v1.schema.json";

fn schema() -> Value {
    parsed(SCHEMA)
}

const EVERY_KIND: &str = "../../tests/journeys/data/every-kind.json";
const HEAD: [&str; 4] = ["id", "at", "device", "kind"];

/// The file is as this version of the tables has it; `WRITE_RESULTS=1` writes it anew.
fn hold(path: &str, now: &str) {
    if std::env::var_os("WRITE_RESULTS").is_some() {
        fs::write(Path::new(env!("CARGO_MANIFEST_DIR")).join(path), now).expect("written");
    }
    assert_eq!(text(path), now, "{path}: write it with WRITE_RESULTS=1");
}

#[test]
fn the_published_schema_is_that_of_the_tables() {
    let now = lines(&season::fact::schema::schema(), 0);
    hold(SCHEMA, &format!("{now}\n"));
}

/// JSON with a line for each field of a kind, so that a text diff reads.
fn lines(value: &Value, depth: usize) -> String {
    const DEPTH_MAX: usize = 5;
    match value {
        Value::Object(map) if depth < DEPTH_MAX && !map.is_empty() => {
            let (inner, outer) = ("  ".repeat(depth + 1), "  ".repeat(depth));
            let line = |(name, value): (&String, &Value)| {
                format!("{inner}{}: {}", json!(name), lines(value, depth + 1))
            };
            let all: Vec<String> = map.iter().map(line).collect();
            format!("{{\n{}\n{outer}}}", all.join(",\n"))
        }
        other => other.to_string(),
    }
}

/// A value that a field may have.
fn sample(field: &Field, shape: &Shape) -> Value {
    match shape {
        Shape::Id | Shape::Text(_) => json!(field.name),
        Shape::Date => json!("2027-02-14"),
        Shape::Week => json!("2027-W24"),
        Shape::MonthDay => json!("05-15"),
        Shape::Whole(limit) => json!(limit.record.0),
        Shape::Number(limit) => json!(limit.record.0),
        Shape::Flag => json!(true),
        Shape::Money => json!("12.50"),
        Shape::Word(list) => json!(list.words[0].0),
        Shape::Months(limit) => vec![limit.record.0; 12].into(),
        Shape::Part(part) => (part.fields)()
            .iter()
            .map(|field| (field.name.to_owned(), sample(field, &field.shape)))
            .collect::<Map<String, Value>>()
            .into(),
        Shape::List(of) => json!([sample(field, of)]),
        Shape::ByName(of) => json!({"stems_per_plant_season": sample(field, of)}),
        Shape::Object => json!({}),
    }
}

/// The file of every kind with a sample of each field that none of its entries of that kind holds.
fn with_every_field(written: &str) -> String {
    let read = file::read(written.as_bytes()).expect("a season file");
    let mut missing: BTreeMap<(&str, &str), Value> = BTreeMap::new();
    for kind in KINDS.iter() {
        for field in &kind.fields {
            // What is left out where it is the usual value is not written either.
            if !matches!(field.need, Need::Missing(_)) {
                missing.insert((kind.name, field.name), sample(field, &field.shape));
            }
        }
    }
    let map_of = |entry: &Entry| match serde_json::from_str(entry.json()) {
        Ok(Value::Object(map)) => map,
        other => panic!("{other:?}"),
    };
    for entry in &read.entries {
        for name in map_of(entry).keys() {
            missing.retain(|(kind, field), _| *kind != entry.kind() || field != name);
        }
    }
    let entries = read.entries.iter().map(|entry| {
        let mut map = map_of(entry);
        missing.retain(|(kind, field), value| {
            let here = *kind == entry.kind();
            if here {
                map.insert((*field).to_owned(), value.clone());
            }
            !here
        });
        Entry::read(&Value::Object(map).to_string()).expect("an entry")
    });
    let log: Log = entries.collect();
    assert!(missing.is_empty(), "no entry of {:?}", missing.keys());
    file::write(&log, &read.device, &read.exported_at).expect("written")
}

#[test]
fn the_file_of_every_kind_is_whole_and_holds_every_field_of_each() {
    let written = text(EVERY_KIND);
    hold(EVERY_KIND, &with_every_field(&written));
    let read = file::read(text(EVERY_KIND).as_bytes()).expect("a season file");
    let log: Log = read.entries.iter().cloned().collect();
    let season = Season::of(&log);
    assert_eq!(season.problems, []);
    assert_eq!(season.unknown, 1);
    let held: BTreeSet<&str> = log.iter().map(Entry::kind).collect();
    for kind in KINDS.iter() {
        assert!(held.contains(kind.name), "{}", kind.name);
    }
}

/// A limit for new records never lets through what a file could not hold.
#[test]
fn what_is_recorded_lies_within_what_is_read() {
    fn within<T: PartialOrd>(limit: &Limit<T>) -> bool {
        let ((low, high), (least, most)) = (&limit.read, &limit.record);
        low <= least && least < most && most <= high
    }
    fn holds(shape: &Shape) -> bool {
        match shape {
            Shape::Whole(limit) => within(limit),
            Shape::Number(limit) | Shape::Months(limit) => within(limit),
            Shape::List(of) | Shape::ByName(of) => holds(of),
            Shape::Part(part) => (part.fields)().iter().all(|field| holds(&field.shape)),
            _ => true,
        }
    }
    for kind in KINDS.iter() {
        for field in &kind.fields {
            assert!(holds(&field.shape), "{}.{}", kind.name, field.name);
        }
    }
}

/// Whether the reader takes an entry as something that happened or holds.
fn taken(entry: &Value) -> bool {
    match Entry::read(&entry.to_string()) {
        Ok(entry) => !matches!(entry.fact(), Fact::Unreadable(_)),
        Err(_) => false,
    }
}

#[test]
fn the_reader_judges_the_shared_entries_as_they_are_labelled() {
    let shared = parsed("../../tests/journeys/data/entries.json");
    for (list, expected) in [("taken", true), ("refused", false)] {
        let rows = shared[list].as_array().expect("a list");
        assert!(rows.len() > 10);
        for row in rows {
            let mut entry =
                json!({"id": "e1", "at": "2027-02-14T08:30:12.345Z/0000", "device": "d1"});
            let map = entry.as_object_mut().expect("an object");
            map.extend(row[1].as_object().expect("fields").clone());
            assert_eq!(taken(&entry), expected, "{}", row[0]);
        }
    }
}

/// One change of an entry: what to put at a place, or that it is left out; and whether the schema lets it pass.
struct Change {
    at: String,
    to: Option<Value>,
    passes: bool,
}

/// Changes just within and just beyond what the schema says of a value and all that is in it.
struct Changes<'a> {
    schema: &'a Value,
    found: Vec<Change>,
}

impl Changes<'_> {
    fn add(&mut self, at: &str, to: impl Into<Option<Value>>, passes: bool) {
        self.found.push(Change {
            at: at.to_owned(),
            to: to.into(),
            passes,
        });
    }

    fn resolved(&self, rules: &Value) -> (Value, bool) {
        if let Some(choice) = rules["anyOf"].as_array() {
            assert_eq!(choice.get(1), Some(&json!({"type": "null"})));
            return (self.resolved(&choice[0]).0, true);
        }
        match rules["$ref"].as_str() {
            Some(place) => {
                let pointer = place.strip_prefix('#').expect("within the schema");
                self.resolved(self.schema.pointer(pointer).expect(place))
            }
            None => {
                let or_none = [&rules["type"], &rules["enum"]]
                    .into_iter()
                    .filter_map(Value::as_array)
                    .any(|list| list.contains(&Value::Null) || list.contains(&json!("null")));
                (rules.clone(), or_none)
            }
        }
    }

    fn of(&mut self, rules: &Value, value: &Value, at: &str) {
        let (rules, or_none) = self.resolved(rules);
        if !at.is_empty() {
            self.add(at, Value::Null, or_none);
            self.add(at, json!([["neither", "nor"]]), false);
        }
        if let Some(words) = rules["enum"].as_array() {
            for word in words {
                self.add(at, word.clone(), true);
            }
            self.add(at, json!("something_else"), false);
        }
        match value {
            Value::Number(_) => self.of_number(&rules, at),
            Value::String(_) => self.of_text(&rules, at),
            Value::Array(items) => {
                for (n, item) in items.iter().enumerate() {
                    self.of(&rules["items"], item, &format!("{at}/{n}"));
                }
            }
            Value::Object(map) => {
                for (name, value) in map {
                    let at = format!("{at}/{name}");
                    match (
                        &rules["properties"][name.as_str()],
                        &rules["additionalProperties"],
                    ) {
                        (Value::Null, Value::Null) => {}
                        (Value::Null, others) => self.of(others, value, &at),
                        (rules, _) => self.of(rules, value, &at),
                    }
                    if !HEAD.contains(&name.as_str()) {
                        let needed = rules["required"]
                            .as_array()
                            .is_some_and(|list| list.contains(&json!(name)));
                        self.add(&at, None, !needed);
                    }
                }
            }
            _ => {}
        }
    }

    fn of_number(&mut self, rules: &Value, at: &str) {
        let whole = rules["type"].to_string().contains("integer");
        for (bound, beyond) in [("minimum", -1), ("maximum", 1)] {
            let bound = &rules[bound];
            assert!(bound.is_number(), "{at} has no bound");
            self.add(at, bound.clone(), true);
            let beyond = match bound.as_i64().filter(|_| whole) {
                Some(bound) => json!(bound + beyond),
                None => json!(bound.as_f64().expect("a number") + 0.001 * beyond as f64),
            };
            self.add(at, beyond, false);
        }
        self.add(at, json!("60"), false);
        if whole {
            self.add(at, json!(1.5), false);
        }
    }

    fn of_text(&mut self, rules: &Value, at: &str) {
        if let Some(length) = rules["maxLength"].as_u64() {
            // A sign of four bytes: it is characters that count.
            let longest = "\u{1f33c}".repeat(usize::try_from(length).expect("a length"));
            self.add(at, json!(longest), true);
            self.add(at, json!(format!("{longest}x")), false);
        }
        if rules["format"] == "date" {
            for (day, passes) in [
                ("1990-01-01", true),
                ("2199-12-31", true),
                ("1989-12-31", false),
                ("2200-01-01", false),
            ] {
                self.add(at, json!(day), passes);
            }
        }
        if rules["pattern"].is_string() {
            self.add(at, json!("two words"), false);
        }
        self.add(at, json!(60), false);
    }
}

#[test]
fn every_field_needs_and_holds_what_the_schema_says() {
    let schema = schema();
    let file = parsed(EVERY_KIND);
    let mut tried = BTreeMap::<bool, usize>::new();
    for entry in file["entries"].as_array().expect("entries") {
        let kind = entry["kind"].as_str().expect("a kind");
        let rules = &schema["$defs"]["kinds"][kind];
        if rules.is_null() {
            continue;
        }
        assert!(taken(entry), "{kind}");
        let mut changes = Changes {
            schema: &schema,
            found: Vec::new(),
        };
        changes.of(rules, entry, "");
        for Change { at, to, passes } in changes.found {
            let (parent, name) = at.rsplit_once('/').expect("within the entry");
            // One of the two must be there, which no field's own rule says.
            let one_named = rules["oneOf"].is_array() && ["sowing", "planting"].contains(&name);
            let passes = passes && !(one_named && to.as_ref().is_none_or(Value::is_null));
            let mut changed = entry.clone();
            match (changed.pointer_mut(parent).expect("a parent"), &to) {
                (Value::Object(map), Some(to)) => {
                    map.insert(name.to_owned(), to.clone());
                }
                (Value::Object(map), None) => {
                    map.remove(name);
                }
                (Value::Array(list), Some(to)) => {
                    list[name.parse::<usize>().expect("a place in a list")] = to.clone();
                }
                (parent, _) => panic!("{at}: {parent}"),
            }
            assert_eq!(taken(&changed), passes, "{kind}{at} changed to {to:?}");
            *tried.entry(passes).or_default() += 1;
        }
    }
    let count = |passes| tried.get(&passes).copied().unwrap_or(0);
    assert!(count(true) > 200 && count(false) > 500, "{tried:?}");
}
