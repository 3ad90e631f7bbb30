//! Any set of entries: what a grower records, and what a damaged or newer program might leave.
//!
//! Ids come from small sets, so that entries meet: sowings, plantings and corrections name `e0` to `e59`, of which some are of
//! another kind and some are not in the set at all.

use proptest::collection::{btree_map, vec};
use proptest::prelude::*;
use proptest::sample::select;
use proptest::strategy::ValueTree;
use season::fact::KINDS;
use season::fact::table::{Field, Need, Shape};
use season::limits::{CELLS_MAX, Letters, Limit, STEMS_MAX};
use season::{Entry, Log, Season, Stamp};
use serde_json::{Map, Value, json};

/// 2027-01-04T06:00:00Z in ms since 1970.
pub const START_MS: u64 = 1_799_042_400_000;

/// A kind and its fields as they would stand in a file.
pub type Said = (String, Map<String, Value>);

fn object(value: Value) -> Map<String, Value> {
    match value {
        Value::Object(map) => map,
        other => panic!("not an object: {other}"),
    }
}

/// Mostly days of one season, with many events on one day; now and then no day, or one beyond any season.
fn date() -> BoxedStrategy<Value> {
    let usual = (0u64..40).prop_map(|n| {
        let day = chrono::NaiveDate::from_ymd_opt(2027, 1, 4)
            .and_then(|d| d.checked_add_days(chrono::Days::new(n * n / 5)))
            .expect("a day of 2027");
        json!(day.to_string())
    });
    let odd = select(vec![
        json!("2027-02-29"),
        json!("2028-02-29"),
        json!("0001-01-01"),
        json!("9999-12-31"),
        json!("+262142-12-31"),
        json!("-262143-01-01"),
        json!("2027-W04"),
        json!(""),
        json!(20270214),
    ]);
    prop_oneof![30 => usual, 1 => odd].boxed()
}

fn count(most: u32) -> BoxedStrategy<Value> {
    prop_oneof![
        20 => (0u32..130).prop_map(|n| json!(n)),
        1 => Just(json!(most)),
        1 => select(vec![json!(u32::MAX), json!(u64::from(u32::MAX) + 1), json!(-1), json!(2.5), json!(1e9)]),
    ]
    .boxed()
}

fn entry_id() -> BoxedStrategy<Value> {
    (0usize..60).prop_map(|n| json!(format!("e{n}"))).boxed()
}

/// Early ids, which [`entries`] makes sowings more often than chance would.
fn sowing() -> BoxedStrategy<Value> {
    prop_oneof![6 => (0usize..6).prop_map(|n| json!(format!("e{n}"))), 1 => entry_id()].boxed()
}

fn planting() -> BoxedStrategy<Value> {
    prop_oneof![6 => (6usize..12).prop_map(|n| json!(format!("e{n}"))), 1 => entry_id()].boxed()
}

/// One of these, or of what only looks like it now and then.
fn one_of<const N: usize>(usual: [&'static str; N], odd: &'static str) -> BoxedStrategy<Value> {
    let usual = select(usual.to_vec()).prop_map(|word| json!(word));
    prop_oneof![20 => usual, 1 => Just(json!(odd))].boxed()
}

/// Ids from small sets, of which one or the other is of nothing.
fn id(type_name: &str) -> BoxedStrategy<Value> {
    match type_name {
        "SowingId" => sowing(),
        "PlantingId" => planting(),
        "EntryId" => entry_id(),
        "VarietyId" => one_of(["v1", "v2", "v3"], "two words"),
        "SpaceId" => one_of(["mat", "shelf", "tunnel", "field"], "nowhere"),
        "BedId" => one_of(["b1", "b2"], "nobed"),
        "OrderId" => one_of(["o1"], "o2"),
        _ => one_of(["i1", "i2"], ""),
    }
}

fn number(limit: Limit<f64>) -> BoxedStrategy<Value> {
    let (least, most) = (limit.read.0.max(-15.0), limit.read.1.min(35.0));
    let odd = select(vec![json!(1e300), json!(-0.0), json!(1e17), json!(-1e6)]);
    prop_oneof![15 => (least..most).prop_map(|n| json!(n)), 1 => odd].boxed()
}

fn text(name: &'static str, letters: Letters) -> BoxedStrategy<Value> {
    match name {
        "about" => entry_id(),
        "of" => one_of(["stock", "zinnia"], ""),
        _ => {
            let usual = select(vec![
                "",
                "North",
                "S\u{fc}d \u{1f33c}",
                "mould on \"row 3\"\n",
            ]);
            let long = "x".repeat(letters.most + 1);
            prop_oneof![
                30 => usual.prop_map(move |text| json!(text.chars().take(letters.most).collect::<String>())),
                1 => Just(json!(long)),
            ]
            .boxed()
        }
    }
}

/// Values of a shape, now and then one that is not.
fn of_shape(field: &Field, shape: &Shape) -> BoxedStrategy<Value> {
    match shape {
        Shape::Id => id(field.type_name),
        Shape::Text(letters) => text(field.name, *letters),
        Shape::Date => date(),
        Shape::Week => one_of(["2027-W24", "2027-W31"], "2027-W54"),
        Shape::MonthDay => one_of(["05-15", "02-29", "10-20"], "13-01"),
        Shape::Whole(limit) => count(u32::try_from(limit.read.1).unwrap_or(u32::MAX)),
        Shape::Number(limit) => number(*limit),
        Shape::Flag => any::<bool>().prop_map(|b| json!(b)).boxed(),
        Shape::Money => one_of(["12.50", "0", "-3.125", "999999999.9999"], "1e3"),
        Shape::Word(list) => {
            let words: Vec<&str> = list.words.iter().map(|(word, _)| *word).collect();
            let usual = select(words).prop_map(|word| json!(word));
            prop_oneof![20 => usual, 1 => Just(json!("weed"))].boxed()
        }
        Shape::Months(_) => prop_oneof![
            10 => vec(-20i32..35, 12).prop_map(|months| json!(months)),
            1 => vec(-20i32..35, 11).prop_map(|months| json!(months)),
        ]
        .boxed(),
        Shape::Part(part) => object_of(&(part.fields)()).prop_map(Value::Object).boxed(),
        Shape::List(of) => vec(of_shape(field, of), 0..3).prop_map(Value::from).boxed(),
        Shape::ByName(of) => {
            let value = prop_oneof![4 => of_shape(field, of), 1 => Just(Value::Null)];
            let names = vec!["days_to_bloom", "stems_per_plant_season", "germination_pct"];
            btree_map(select(names), value, 0..3)
                .prop_map(|map| json!(map))
                .boxed()
        }
        Shape::Object => changed(),
    }
}

/// Objects with fields as a table says. A required field is missing in 1 % of them.
fn object_of(fields: &[Field]) -> BoxedStrategy<Map<String, Value>> {
    let mut all: BoxedStrategy<Map<String, Value>> = Just(Map::new()).boxed();
    for field in fields {
        let there = match field.need {
            Need::Required => 0.99,
            Need::Optional | Need::Missing(_) => 0.5,
        };
        let name = field.name;
        all = (
            all,
            proptest::option::weighted(there, of_shape(field, &field.shape)),
        )
            .prop_map(move |(mut map, value)| {
                map.extend(value.map(|value| (name.to_owned(), value)));
                map
            })
            .boxed();
    }
    all
}

/// JSON of any shape.
pub fn any_json() -> BoxedStrategy<Value> {
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<i32>().prop_map(Value::from),
        (-9e15f64..9e15).prop_map(Value::from),
        (-1.0f64..1.0).prop_map(|f| Value::from(f.powi(40))),
        "\\PC{0,6}".prop_map(Value::from),
        select(vec![
            "\u{feff}",
            "\"",
            "\\",
            "\n\u{0}\u{7f}",
            "\u{20ac}\u{1f33c}"
        ])
        .prop_map(Value::from),
    ];
    leaf.prop_recursive(3, 12, 4, |inner| {
        prop_oneof![
            vec(inner.clone(), 0..4).prop_map(Value::from),
            btree_map("[a-z\u{e9}\u{20ac}]{1,3}", inner, 0..4).prop_map(|m| json!(m)),
        ]
    })
    .boxed()
}
fn changed() -> BoxedStrategy<Value> {
    let field = prop_oneof![
        date().prop_map(|v| ("date", v)),
        count(STEMS_MAX).prop_map(|v| ("stems", v)),
        count(CELLS_MAX).prop_map(|v| ("cells", v)),
        count(CELLS_MAX).prop_map(|v| ("up", v)),
        sowing().prop_map(|v| ("sowing", v)),
        Just(("space", Value::Null)),
        Just(("kind", json!("note"))),
        Just(("id", json!("e1"))),
        Just(("at", json!("2000-01-01T00:00:00.000Z/0000"))),
        Just(("device", json!("d9"))),
        any_json().prop_map(|v| ("mood", v)),
    ];
    vec(field, 0..3)
        .prop_map(|fields| {
            Value::Object(fields.into_iter().map(|(k, v)| (k.to_owned(), v)).collect())
        })
        .boxed()
}

fn of_kind(name: &'static str) -> BoxedStrategy<Said> {
    let kind = KINDS.iter().find(|kind| kind.name == name);
    let fields = &kind.expect("a kind").fields;
    object_of(fields)
        .prop_map(move |map| (name.to_owned(), map))
        .boxed()
}

fn known_kind() -> BoxedStrategy<Said> {
    let names: Vec<&'static str> = KINDS.iter().map(|kind| kind.name).collect();
    select(names).prop_flat_map(of_kind).boxed()
}

/// Any kind, known or not, with fields that nobody knows now and then.
pub fn said() -> BoxedStrategy<Said> {
    let known = known_kind();
    // What beds and the cooler are about, met as often as the many other kinds leave it rare.
    let stems = select(&["cut", "sold", "allocated"][..]).prop_flat_map(of_kind);
    let correction = select(&["voided", "revised"][..]).prop_flat_map(of_kind);
    let unknown = ("[a-z_]{1,9}", btree_map("[a-z]{1,5}", any_json(), 0..4))
        .prop_map(|(kind, map)| (format!("x_{kind}"), object(json!(map))));
    let odd = (known_kind(), "[a-z\u{e9}]{1,4}", any_json()).prop_map(
        |((kind, mut map), name, value)| {
            map.insert(name, value);
            (kind, map)
        },
    );
    prop_oneof![20 => known, 3 => stems, 5 => correction, 1 => unknown, 2 => odd].boxed()
}

/// The entry that says so; `None` if this text is no entry at all.
pub fn entry(id: &str, at: Stamp, device: &str, (kind, fields): &Said) -> Option<Entry> {
    let mut map = fields.clone();
    for (name, text) in [
        ("id", id.to_owned()),
        ("at", at.to_string()),
        ("device", device.to_owned()),
        ("kind", kind.clone()),
    ] {
        map.insert(name.into(), text.into());
    }
    Entry::read(&Value::Object(map).to_string()).ok()
}

/// A stamp within a few hours, so that many are equal.
pub fn stamp() -> BoxedStrategy<Stamp> {
    (0u64..200, 0u16..3)
        .prop_map(|(n, counter)| Stamp::at(START_MS + n * 60_000, counter).expect("in range"))
        .boxed()
}

/// Entries of distinct ids from four devices, in no order.
pub fn entries() -> BoxedStrategy<Vec<Entry>> {
    let start = |kind| (of_kind(kind), stamp(), 0usize..4);
    let sowings = vec(start("sown"), 6);
    let plantings = vec(prop_oneof![start("transplanted"), start("direct_sown")], 6);
    let rest = vec((said(), stamp(), 0usize..4), 0..45);
    (sowings, plantings, rest)
        .prop_map(|(sowings, plantings, rest)| {
            sowings
                .into_iter()
                .chain(plantings)
                .chain(rest)
                .enumerate()
                .filter_map(|(n, (said, at, device))| {
                    entry(&format!("e{n}"), at, &format!("d{device}"), &said)
                })
                .collect::<Vec<_>>()
        })
        .prop_shuffle()
        .boxed()
}

pub fn log_of<'a>(entries: impl IntoIterator<Item = &'a Entry>) -> Log {
    entries.into_iter().cloned().collect()
}

pub fn season_text(log: &Log) -> String {
    Season::of(log).canonical().expect("a season is JSON")
}

/// The laws are only as good as what they are tried on: every kind is met alive, and every kind of problem.
#[test]
fn the_generator_meets_every_kind_and_every_problem() {
    use std::collections::BTreeSet;

    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let (mut kinds, mut problems) = (BTreeSet::new(), BTreeSet::new());
    let (mut sown, mut planted, mut cut, mut revised, mut unknown) = (0, 0, 0, 0, 0);
    for _ in 0..200 {
        let log = log_of(&entries().new_tree(&mut runner).expect("a set").current());
        let season = Season::of(&log);
        kinds.extend(log.iter().filter_map(|e| e.fact().kind()));
        problems.extend(season.problems.iter().map(|p| p.what));
        sown += season.sowings.len();
        planted += season.plantings.len();
        cut += season
            .plantings
            .values()
            .filter(|p| p.stems_cut() > 0)
            .count();
        revised += season.events.values().filter(|e| e.revised).count();
        unknown += season.unknown;
    }
    assert_eq!(kinds, KINDS.iter().map(|kind| kind.name).collect());
    use season::state::ProblemKind::*;
    assert_eq!(
        problems,
        [
            Unreadable,
            Dangling,
            BeforeItsTarget,
            BeforeItsStart,
            MoreThanThere
        ]
        .into()
    );
    assert!(
        sown > 400 && planted > 400,
        "{sown} sowings, {planted} plantings"
    );
    assert!(
        cut > 40 && revised > 40 && unknown > 40,
        "{cut} cut, {revised} revised, {unknown} unknown"
    );
}
