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

use season::fact::*;
use season::file;
use season::{Entry, Fact, Log, Season};
use serde::de::value::Error as Refusal;
use serde::de::{Deserialize, Deserializer, Error as _, Visitor};
use serde_json::{Value, json};

fn text(path: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn parsed(path: &str) -> Value {
    serde_json::from_str(&text(path)).expect("JSON")
}

fn schema() -> Value {
    parsed("schema/stemtide-log.v1.schema.json")
}

const EVERY_KIND: &str = "../../tests/journeys/data/every-kind.json";
const HEAD: [&str; 4] = ["id", "at", "device", "kind"];

/// Takes note of the fields that a type reads, and gives it none.
#[derive(Default)]
struct Fields(&'static [&'static str]);

impl<'de> Deserializer<'de> for &mut Fields {
    type Error = Refusal;

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _name: &'static str,
        fields: &'static [&'static str],
        _visitor: V,
    ) -> Result<V::Value, Refusal> {
        self.0 = fields;
        Err(Refusal::custom("asked for its fields only"))
    }

    fn deserialize_any<V: Visitor<'de>>(self, _visitor: V) -> Result<V::Value, Refusal> {
        Err(Refusal::custom("not a type with fields"))
    }

    serde::forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf option unit unit_struct
        newtype_struct seq tuple tuple_struct map enum identifier ignored_any
    }
}

fn fields_of<T: for<'de> Deserialize<'de>>() -> BTreeSet<String> {
    let mut fields = Fields::default();
    assert!(T::deserialize(&mut fields).is_err());
    assert!(!fields.0.is_empty(), "a type with fields");
    fields.0.iter().map(|&name| name.to_owned()).collect()
}

/// Where in the schema each wire type stands, and its fields.
fn wire_types() -> BTreeMap<String, BTreeSet<String>> {
    macro_rules! types {
        ($($place:literal: $type:ty),+ $(,)?) => { [$(($place.to_owned(), fields_of::<$type>())),+].into() };
    }
    types! {
        "kinds/device": DeviceFact, "kinds/place": PlaceFact, "kinds/space": SpaceFact, "kinds/bed": BedFact,
        "kinds/crop": CropFact, "kinds/variety": VarietyFact, "kinds/seed_lot": SeedLotFact, "kinds/target": TargetFact,
        "kinds/order": OrderFact, "kinds/recipe": RecipeFact, "kinds/planned": PlannedFact, "kinds/sown": SownFact,
        "kinds/direct_sown": DirectSownFact, "kinds/counted": CountedFact, "kinds/moved": MovedFact,
        "kinds/dome_lifted": DomeLiftedFact, "kinds/mat_off": MatOffFact, "kinds/lost": LostFact,
        "kinds/pricked_out": PrickedOutFact, "kinds/potted_on": PottedOnFact, "kinds/hardening": HardeningFact,
        "kinds/transplanted": TransplantedFact, "kinds/pinched": PinchedFact, "kinds/netted": NettedFact,
        "kinds/watered": WateredFact, "kinds/fed": FedFact, "kinds/seen": SeenFact, "kinds/temperature": TemperatureFact,
        "kinds/frost": FrostFact, "kinds/cut": CutFact, "kinds/bunched": BunchedFact, "kinds/discarded": DiscardedFact,
        "kinds/sold": SoldFact, "kinds/bought_in": BoughtInFact,
        "kinds/allocated": AllocatedFact, "kinds/handed_over": HandedOverFact, "kinds/warmed": WarmedFact,
        "kinds/conditioned": ConditionedFact, "kinds/low_expected": LowExpectedFact, "kinds/covered": CoveredFact,
        "kinds/disbudded": DisbuddedFact, "kinds/season": SeasonFact, "learned": Learned,
        "kinds/finished": FinishedFact, "kinds/note": NoteFact, "kinds/revised": RevisedFact,
        "kinds/voided": VoidedFact, "wanted": Wanted, "line": OrderLine, "pieces": OrderPieces, "tray": Tray,
    }
}

fn names(object: &Value) -> BTreeSet<String> {
    let map = object
        .as_object()
        .unwrap_or_else(|| panic!("not an object: {object}"));
    map.keys().cloned().collect()
}

#[test]
fn the_schema_and_the_reader_know_the_same_kinds_and_fields() {
    let schema = schema();
    let known: BTreeSet<String> = Fact::KINDS.iter().map(|&kind| kind.to_owned()).collect();
    assert_eq!(names(&schema["$defs"]["kinds"]), known);
    let rules = schema["$defs"]["entry"]["allOf"]
        .as_array()
        .expect("a rule for each kind");
    assert_eq!(rules.len(), known.len());
    for rule in rules {
        let kind = rule["if"]["properties"]["kind"]["const"]
            .as_str()
            .expect("a kind");
        assert!(known.contains(kind), "{kind}");
        assert_eq!(
            rule["then"],
            json!({"$ref": format!("#/$defs/kinds/{kind}")})
        );
    }

    let types = wire_types();
    let kinds: BTreeSet<String> = types
        .keys()
        .filter_map(|place| place.strip_prefix("kinds/"))
        .map(str::to_owned)
        .collect();
    assert_eq!(kinds, known, "a type for each kind");
    for (place, fields) in types {
        let rules = schema
            .pointer(&format!("/$defs/{place}/properties"))
            .unwrap_or_else(|| panic!("{place} is not in the schema"));
        assert_eq!(names(rules), fields, "{place}");
    }
}

#[test]
fn the_schema_and_the_reader_know_the_same_words() {
    macro_rules! same {
        ($type:ident, $place:literal) => {
            let schema = schema();
            let words: Vec<Value> = schema
                .pointer(concat!("/$defs/", $place, "/enum"))
                .and_then(Value::as_array)
                .unwrap_or_else(|| panic!("no words at {}", $place))
                .iter()
                .filter(|word| !word.is_null())
                .cloned()
                .collect();
            let known: Vec<Value> = $type::ALL.iter().map(|word| json!(word.word())).collect();
            assert_eq!(words, known, $place);
        };
    }
    same!(SpaceKind, "kinds/space/properties/what");
    same!(Role, "kinds/variety/properties/role");
    same!(Role, "wanted/properties/role");
    same!(Keeping, "kinds/seed_lot/properties/kept");
    same!(CellKind, "tray/properties/what");
    same!(LossCause, "kinds/lost/properties/cause");
    same!(WaterRegime, "kinds/watered/properties/regime");
    same!(BloomStage, "kinds/seen/properties/stage");
    same!(Grade, "kinds/cut/properties/grade");
}

#[test]
fn the_file_of_every_kind_is_whole_and_holds_every_field_of_each() {
    let written = text(EVERY_KIND);
    let read = file::read(written.as_bytes()).expect("a season file");
    let log: Log = read.entries.iter().cloned().collect();
    let again = file::write(&log, &read.device, &read.exported_at).expect("written");
    assert_eq!(again, written, "written as this version writes");
    let season = Season::of(&log);
    assert_eq!(season.problems, []);
    assert_eq!(season.unknown, 1);

    let mut held = BTreeMap::<String, BTreeSet<String>>::new();
    for entry in &read.entries {
        let value: Value = serde_json::from_str(entry.json()).expect("JSON");
        held.entry(format!("kinds/{}", entry.kind()))
            .or_default()
            .extend(names(&value));
    }
    for (place, fields) in wire_types() {
        if let Some(kind) = place.strip_prefix("kinds/") {
            let missing: Vec<_> = fields
                .iter()
                .filter(|field| !held.get(&place).is_some_and(|h| h.contains(*field)))
                .collect();
            assert!(missing.is_empty(), "{kind}: {missing:?}");
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
