//! Any set of entries: what a grower records, and what a damaged or newer program might leave.
//!
//! Ids come from small sets, so that entries meet: sowings, plantings and corrections name `e0` to `e59`, of which some are of
//! another kind and some are not in the set at all.

use proptest::collection::{btree_map, vec};
use proptest::prelude::*;
use proptest::sample::select;
use proptest::strategy::ValueTree;
use season::fact::Fact;
use season::limits::{CELLS_MAX, PLANTS_MAX, STEMS_MAX};
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

fn one_of(words: &'static [&'static str]) -> BoxedStrategy<Value> {
    select(words).prop_map(|w| json!(w)).boxed()
}

fn variety() -> BoxedStrategy<Value> {
    one_of(&["v1", "v2", "v3"])
}
fn space() -> BoxedStrategy<Value> {
    one_of(&["mat", "shelf", "tunnel", "field", "nowhere"])
}
fn bed() -> BoxedStrategy<Value> {
    one_of(&["b1", "b2", "nobed"])
}
fn flag() -> BoxedStrategy<Value> {
    any::<bool>().prop_map(|b| json!(b)).boxed()
}
fn degrees() -> BoxedStrategy<Value> {
    prop_oneof![8 => (-15.0f64..35.0).prop_map(|t| json!(t)), 1 => select(vec![json!(1e300), json!(-0.0), json!(1e17)])].boxed()
}
fn year_of_degrees() -> BoxedStrategy<Value> {
    vec(-20i32..35, 11..=12).prop_map(|v| json!(v)).boxed()
}
fn tray() -> BoxedStrategy<Value> {
    (one_of(&["block", "plug", "open"]), 0u32..20, 0u32..20)
        .prop_map(|(what, rows, columns)| json!({"what": what, "rows": rows, "columns": columns}))
        .boxed()
}
fn wanted() -> BoxedStrategy<Value> {
    prop_oneof![
        variety().prop_map(|v| json!({"variety": v})),
        one_of(&["spike", "focal", "weed"]).prop_map(|r| json!({"role": r, "colour": "white"})),
        Just(json!({})),
    ]
    .boxed()
}
fn lines() -> BoxedStrategy<Value> {
    vec((wanted(), count(STEMS_MAX)), 0..3)
        .prop_map(|lines| {
            lines
                .into_iter()
                .map(|(w, n)| json!({"wanted": w, "stems": n, "price": "1.25", "per": 10}))
                .collect()
        })
        .boxed()
}
fn money() -> BoxedStrategy<Value> {
    one_of(&["12.50", "0", "-3.125", "999999999.9999", "1e3", "12,5", ""])
}
fn learned() -> BoxedStrategy<Value> {
    let figure = (degrees(), count(PLANTS_MAX)).prop_map(
        |(value, n)| json!({"value": value, "low": 0, "high": 9.5, "plantings": n, "seasons": 1, "until": "2026-12-31"}),
    );
    btree_map(
        select(vec!["stems_per_plant_season", "germination_pct"]),
        prop_oneof![4 => figure, 1 => Just(Value::Null)],
        0..3,
    )
    .prop_map(|m| json!(m))
    .boxed()
}
fn figures() -> BoxedStrategy<Value> {
    btree_map(
        select(vec!["days_to_bloom", "stems_per_plant", "germination"]),
        prop_oneof![4 => degrees(), 1 => Just(Value::Null)],
        0..3,
    )
    .prop_map(|m| json!(m))
    .boxed()
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

type Field = (&'static str, bool, BoxedStrategy<Value>);

/// The fields of a kind; the flag says whether an entry must have it.
fn fields_of(kind: &str) -> Vec<Field> {
    let date = || ("date", true, date());
    let retired = || ("retired", false, flag());
    let of = |words| ("of", true, one_of(words));
    let name = || ("name", false, one_of(&["", "North", "Süd \u{1f33c}"]));
    let on_sowing = || ("sowing", true, sowing());
    let on_planting = || ("planting", true, planting());
    match kind {
        "device" => vec![
            of(&["d1", "d2"]),
            ("name", true, one_of(&["phone", "laptop"])),
        ],
        "place" => vec![
            of(&["p1", "p2"]),
            name(),
            retired(),
            ("latitude", false, degrees()),
            ("tmin", false, year_of_degrees()),
            ("tmax", false, year_of_degrees()),
            ("last_frost", false, one_of(&["05-15", "02-29", "13-01"])),
            ("last_frost_90", false, one_of(&["05-01", "06-20"])),
            ("first_frost_10", false, one_of(&["09-20"])),
            ("first_frost_90", false, one_of(&["10-20"])),
            ("currency", false, one_of(&["EUR", "far too long"])),
            ("buy_in_days", false, count(60)),
            ("promise_share", false, degrees()),
        ],
        "space" => vec![
            of(&["mat", "shelf", "tunnel", "field"]),
            name(),
            retired(),
            (
                "what",
                false,
                one_of(&["mat", "shelf", "tunnel", "outdoors", "attic"]),
            ),
            ("room", false, count(10_000)),
            ("walk", false, one_of(&["x"])),
            ("frost_risk", false, degrees()),
        ],
        "bed" => vec![
            of(&["b1", "b2"]),
            name(),
            retired(),
            ("space", false, space()),
            ("length_m", false, degrees()),
        ],
        "crop" => vec![of(&["stock", "zinnia"]), ("figures", false, figures())],
        "variety" => vec![
            of(&["v1", "v2", "v3"]),
            name(),
            retired(),
            ("crop", false, one_of(&["stock"])),
            ("group", false, count(4)),
            ("role", false, one_of(&["spike", "airy"])),
            ("figures", false, figures()),
            ("learned", false, learned()),
        ],
        "season" => vec![of(&["y1", "y2"]), name(), ("from", false, date().2)],
        "seed_lot" => vec![
            of(&["l1"]),
            name(),
            ("variety", false, variety()),
            ("year", false, count(2027)),
            ("seeds", false, count(9)),
            ("kept", false, one_of(&["room", "cool", "cellar"])),
        ],
        "target" => vec![
            of(&["t1", "t2"]),
            retired(),
            ("wanted", false, wanted()),
            ("stems", false, count(STEMS_MAX)),
            ("from", false, one_of(&["2027-W24", "2027-W54"])),
            ("to", false, one_of(&["2027-W31"])),
            ("chance", false, degrees()),
        ],
        "order" => vec![
            of(&["o1"]),
            ("who", false, one_of(&["Market"])),
            ("date", false, date().2),
            ("lines", false, lines()),
            ("every_days", false, count(366)),
            ("until", false, date().2),
        ],
        "recipe" => vec![of(&["r1"]), name(), ("lines", false, lines())],
        "planned" => vec![
            of(&["n1", "n2"]),
            ("variety", false, variety()),
            ("sow", false, date().2),
            ("cells", false, count(CELLS_MAX)),
        ],
        "sown" => vec![
            ("variety", true, variety()),
            date(),
            ("cells", true, count(CELLS_MAX)),
            ("space", false, space()),
            ("tray", false, tray()),
            ("dome", false, flag()),
            ("planned", false, one_of(&["n1", "n2"])),
            ("seeds_per_cell", false, count(50)),
            ("number", false, count(9_999)),
        ],
        "direct_sown" => vec![
            ("variety", true, variety()),
            date(),
            ("bed", true, bed()),
            ("plants", true, count(PLANTS_MAX)),
            ("planned", false, one_of(&["n1"])),
        ],
        "counted" => vec![
            on_sowing(),
            date(),
            ("up", true, count(CELLS_MAX)),
            ("of", false, count(CELLS_MAX)),
        ],
        "moved" => vec![on_sowing(), date(), ("space", true, space())],
        "dome_lifted" => vec![on_sowing(), date()],
        "mat_off" | "hardening" => vec![on_sowing(), date(), ("space", false, space())],
        "lost" => vec![
            ("sowing", false, sowing()),
            ("planting", false, planting()),
            date(),
            ("number", true, count(CELLS_MAX)),
            ("cause", true, one_of(&["dried_out", "eaten", "cold"])),
        ],
        "pricked_out" => vec![on_sowing(), date(), ("cells", true, count(CELLS_MAX))],
        "potted_on" => vec![on_sowing(), date(), ("tray", false, tray())],
        "transplanted" => vec![
            on_sowing(),
            date(),
            ("bed", true, bed()),
            ("plants", true, count(PLANTS_MAX)),
            ("spacing_cm", false, degrees()),
        ],
        "pinched" | "netted" => vec![on_planting(), date()],
        "watered" => vec![
            ("sowing", false, sowing()),
            ("planting", false, planting()),
            date(),
            ("regime", false, one_of(&["never_dry", "dry_between"])),
        ],
        "fed" | "finished" => vec![
            ("sowing", false, sowing()),
            ("planting", false, planting()),
            date(),
        ],
        "seen" => vec![
            on_planting(),
            date(),
            ("stage", true, one_of(&["visible_bud", "first_colour"])),
        ],
        "temperature" => vec![
            date(),
            ("min_c", true, degrees()),
            ("max_c", true, degrees()),
            ("mean_c", false, degrees()),
            ("space", false, space()),
        ],
        "frost" => vec![
            date(),
            ("space", false, space()),
            ("min_c", false, degrees()),
        ],
        "cut" => vec![
            on_planting(),
            date(),
            ("stems", true, count(STEMS_MAX)),
            ("culls", false, count(STEMS_MAX)),
            ("grade", false, one_of(&["first"])),
        ],
        "bunched" => vec![
            ("variety", true, variety()),
            date(),
            ("bunches", true, count(STEMS_MAX)),
            ("stems_each", true, count(STEMS_MAX)),
        ],
        "discarded" => vec![
            ("variety", true, variety()),
            date(),
            ("stems", true, count(STEMS_MAX)),
        ],
        "sold" => vec![
            ("variety", true, variety()),
            date(),
            ("stems", true, count(STEMS_MAX)),
            ("order", false, one_of(&["o1", "o2"])),
            ("due", false, date().2),
            ("income", false, money()),
        ],
        "bought_in" => vec![
            ("variety", true, variety()),
            date(),
            ("stems", true, count(STEMS_MAX)),
            ("cost", false, money()),
        ],
        "allocated" => vec![
            ("order", true, one_of(&["o1", "o2"])),
            ("due", false, date().2),
            ("variety", true, variety()),
            date(),
            ("stems", true, count(STEMS_MAX)),
        ],
        "handed_over" => vec![
            ("order", true, one_of(&["o1", "o2"])),
            ("due", true, date().2),
            date(),
            ("skipped", false, flag()),
        ],
        "warmed" => vec![
            ("variety", false, variety()),
            ("cut", false, date().2),
            date(),
            ("hours", true, degrees()),
            ("temp_c", true, degrees()),
        ],
        "conditioned" => vec![("variety", true, variety()), date()],
        "low_expected" => vec![
            date(),
            ("space", false, space()),
            ("min_c", true, degrees()),
        ],
        "covered" => vec![
            ("sowing", false, sowing()),
            ("planting", false, planting()),
            date(),
        ],
        "disbudded" => vec![on_planting(), date()],
        "note" => vec![
            date(),
            ("about", false, entry_id()),
            ("text", true, one_of(&["", "mould on \"row 3\"\n"])),
        ],
        "revised" => vec![("entry", true, entry_id()), ("set", true, changed())],
        "voided" => vec![("entry", true, entry_id())],
        other => panic!("no fields are given for the kind {other}"),
    }
}

fn of_kind(kind: &'static str) -> BoxedStrategy<Said> {
    let mut all: BoxedStrategy<Map<String, Value>> = Just(Map::new()).boxed();
    for (name, needed, value) in fields_of(kind) {
        // A needed field is missing once in a hundred.
        let there = if needed { 0.99 } else { 0.5 };
        all = (all, proptest::option::weighted(there, value))
            .prop_map(move |(mut map, value)| {
                map.extend(value.map(|value| (name.to_owned(), value)));
                map
            })
            .boxed();
    }
    all.prop_map(move |map| (kind.to_owned(), map)).boxed()
}

/// Any kind, known or not, with fields that nobody knows now and then.
pub fn said() -> BoxedStrategy<Said> {
    let known = select(Fact::KINDS).prop_flat_map(of_kind);
    // What beds and the cooler are about, met as often as the many other kinds leave it rare.
    let stems = select(&["cut", "sold", "allocated"][..]).prop_flat_map(of_kind);
    let correction = select(&["voided", "revised"][..]).prop_flat_map(of_kind);
    let unknown = ("[a-z_]{1,9}", btree_map("[a-z]{1,5}", any_json(), 0..4))
        .prop_map(|(kind, map)| (format!("x_{kind}"), object(json!(map))));
    let odd = (
        select(Fact::KINDS).prop_flat_map(of_kind),
        "[a-z\u{e9}]{1,4}",
        any_json(),
    )
        .prop_map(|((kind, mut map), name, value)| {
            map.insert(name, value);
            (kind, map)
        });
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
    assert_eq!(kinds, Fact::KINDS.iter().copied().collect());
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
