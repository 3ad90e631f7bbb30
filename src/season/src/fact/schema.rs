//! The published JSON Schema of season files (draft 2020-12), written from the tables of facts.

use serde_json::{Map, Value, json};

use super::table::{Field, Need, Part, Shape};
use super::values::docs_of_part;
use super::{Docs, KINDS, Kind, docs_of};
use crate::limits::{FILE_ENTRIES_MAX, ID_LENGTH_MAX, NAME_LENGTH_MAX};

/// The year a date may begin with: as `limits::YEARS`, which a test holds it to.
const YEAR: &str = r"(?:199\d|2[01]\d\d)";
/// The whole numbers that every reader of JSON holds exactly (RFC 7493, section 2.2).
const EXACT_MAX: i64 = 1 << 53;

/// The schema of season files.
pub fn schema() -> Value {
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": "urn:stemtide:log:v1",
        "title": "Stemtide season file, version 1",
        "description": "A log of recorded facts. Unknown fields are allowed everywhere. What no schema can say: count is the number of entries, no two entries share an id, and the entries hash to sha256; a file in which one of these does not hold is not read at all. An entry whose head is right but whose fields break the rules of its kind is kept by a reader, reported as a problem, and has no effect.",
        "type": "object",
        "required": ["format", "version", "device", "count", "sha256", "entries"],
        "properties": head(),
        "$defs": definitions(),
    })
}

fn head() -> Value {
    json!({
        "format": {"const": "stemtide-log"},
        "version": {"const": 1},
        "exported_at": {
            "description": "When the file was written, by the writer's clock; for showing only.",
            "type": "string",
            "format": "date-time",
        },
        "device": {
            "description": "The device that wrote the file.",
            "type": "object",
            "required": ["id"],
            "properties": {
                "id": {"description": "Its id.", "$ref": "#/$defs/id"},
                "name": {"description": "What its owner calls it.", "type": "string"},
            },
        },
        "count": {
            "description": "How many entries.",
            "type": "integer",
            "minimum": 0,
            "maximum": FILE_ENTRIES_MAX,
        },
        "sha256": {
            "description": "SHA-256 of the entries' canonical JSON (RFC 8785) in the order of stamp, device and id, joined by line feeds.",
            "type": "string",
            "pattern": "^[0-9a-f]{64}$",
        },
        "entries": {
            "description": "In the order of stamp, device and id as written; any order is read.",
            "type": "array",
            "maxItems": FILE_ENTRIES_MAX,
            "items": {"$ref": "#/$defs/entry"},
        },
    })
}

fn definitions() -> Value {
    let mut found = Map::new();
    found.insert(
        "value".into(),
        json!({
            "description": "Any JSON. A number beyond 2^53 either way is not the same number everywhere (RFC 7493, section 2.2).",
            "type": ["null", "boolean", "number", "string", "array", "object"],
            "minimum": -EXACT_MAX,
            "maximum": EXACT_MAX,
            "items": {"$ref": "#/$defs/value"},
            "additionalProperties": {"$ref": "#/$defs/value"},
        }),
    );
    found.insert(
        "id".into(),
        json!({"type": "string", "pattern": id_pattern()}),
    );
    found.insert("entry".into(), entry());
    let mut kinds = Map::new();
    for kind in KINDS.iter() {
        parts_of(&kind.fields, &mut found);
        kinds.insert(kind.name.into(), of_kind(kind));
    }
    found.insert("kinds".into(), Value::Object(kinds));
    Value::Object(found)
}

fn id_pattern() -> String {
    format!("^[A-Za-z0-9_-]{{1,{ID_LENGTH_MAX}}}$")
}

fn entry() -> Value {
    let rules: Vec<Value> = KINDS
        .iter()
        .map(|kind| {
            json!({
                "if": {"properties": {"kind": {"const": kind.name}}},
                "then": {"$ref": format!("#/$defs/kinds/{}", kind.name)},
            })
        })
        .collect();
    let days = r"(?:(?:0[13578]|1[02])-(?:0[1-9]|[12]\d|3[01])|(?:0[469]|11)-(?:0[1-9]|[12]\d|30)|02-(?:0[1-9]|1\d|2[0-8]))";
    let leap_days =
        r"(?:199[26]|20(?:[02468][048]|[13579][26])|21(?:0[48]|[2468][048]|[13579][26]))-02-29";
    let time = r"T(?:[01]\d|2[0-3]):[0-5]\d:[0-5]\d\.\d{3}Z/[0-9a-f]{4}";
    json!({
        "description": "One recorded fact. At most 64 KiB of JSON, with objects and lists nested at most 100 deep. Fields that are not named here, and whole kinds, may come from a newer version; they are kept untouched.",
        "type": "object",
        "required": ["id", "at", "device", "kind"],
        "properties": {
            "id": {
                "description": "Unlike that of any other entry; new ones are ULIDs.",
                "$ref": "#/$defs/id",
            },
            "at": {
                "description": "When it was recorded: a hybrid logical clock's wall time in UTC and its counter in hex digits.",
                "type": "string",
                "pattern": format!("^(?:{YEAR}-{days}|{leap_days}){time}$"),
            },
            "device": {"description": "Where it was recorded.", "$ref": "#/$defs/id"},
            "kind": {"description": "What kind of fact.", "type": "string"},
        },
        "additionalProperties": {"$ref": "#/$defs/value"},
        "allOf": rules,
    })
}

fn of_kind(kind: &Kind) -> Value {
    let mut rules = object(docs_of(kind.name), &kind.fields);
    if !kind.one_of.is_empty() {
        let one =
            |name: &&str| json!({"required": [name], "properties": {(*name): {"type": "string"}}});
        rules.insert("$comment".into(), json!("Exactly one of the two is named."));
        rules.insert("oneOf".into(), kind.one_of.iter().map(one).collect());
    }
    Value::Object(rules)
}

/// The objects inside entries, each once.
fn parts_of(fields: &[Field], found: &mut Map<String, Value>) {
    for field in fields {
        if let Some(part) = part_in(&field.shape) {
            let fields = (part.fields)();
            parts_of(&fields, found);
            let rules = object(docs_of_part(part.name), &fields);
            found.insert(part.name.into(), Value::Object(rules));
        }
    }
}

fn part_in(shape: &Shape) -> Option<&Part> {
    match shape {
        Shape::Part(part) => Some(part),
        Shape::List(of) | Shape::ByName(of) => part_in(of),
        _ => None,
    }
}

fn object(docs: Option<Docs>, fields: &[Field]) -> Map<String, Value> {
    let (doc, docs) = docs.map_or(("", Vec::new()), |docs| (docs.doc, docs.fields));
    let required: Vec<&str> = fields
        .iter()
        .filter(|field| field.need == Need::Required)
        .map(|field| field.name)
        .collect();
    let properties: Map<String, Value> = fields
        .iter()
        .zip(docs)
        .map(|(field, doc)| (field.name.to_owned(), property(field, doc)))
        .collect();
    let mut rules = Map::new();
    rules.insert("description".into(), json!(doc));
    rules.insert("type".into(), json!("object"));
    if !required.is_empty() {
        rules.insert("required".into(), json!(required));
    }
    rules.insert("properties".into(), Value::Object(properties));
    rules
}

fn property(field: &Field, doc: &str) -> Value {
    let mut rules = of_shape(&field.shape);
    if field.need == Need::Optional {
        rules = or_null(rules);
    }
    if let Value::Object(rules) = &mut rules {
        rules.insert("description".into(), json!(doc));
        if let Need::Missing(missing) = &field.need {
            rules.insert("default".into(), missing.clone());
        }
    }
    rules
}

/// The rules of a value that may be `null` too.
fn or_null(mut rules: Value) -> Value {
    let Value::Object(map) = &mut rules else {
        return rules;
    };
    if let Some(Value::Array(words)) = map.get_mut("enum") {
        words.push(Value::Null);
    } else if let Some(of) = map.get("type").cloned() {
        map.insert("type".into(), json!([of, "null"]));
    } else {
        return json!({"anyOf": [rules, {"type": "null"}]});
    }
    rules
}

fn of_shape(shape: &Shape) -> Value {
    match shape {
        Shape::Id => json!({"type": "string", "pattern": id_pattern()}),
        Shape::Text(letters) => json!({"type": "string", "maxLength": letters.most}),
        Shape::Date => json!({"type": "string", "format": "date", "pattern": format!("^{YEAR}-")}),
        // Week 53 only of a year that has one, which a pattern can't say.
        Shape::Week => json!({
            "type": "string",
            "pattern": format!(r"^{YEAR}-W(?:0[1-9]|[1-4]\d|5[0-3])$"),
        }),
        Shape::MonthDay => json!({
            "type": "string",
            "pattern": r"^(?:(?:0[13578]|1[02])-(?:0[1-9]|[12]\d|3[01])|(?:0[469]|11)-(?:0[1-9]|[12]\d|30)|02-(?:0[1-9]|[12]\d))$",
        }),
        Shape::Whole(limit) => {
            json!({"type": "integer", "minimum": limit.read.0, "maximum": limit.read.1})
        }
        Shape::Number(limit) => {
            json!({"type": "number", "minimum": limit.read.0, "maximum": limit.read.1})
        }
        Shape::Flag => json!({"type": "boolean"}),
        Shape::Money => {
            json!({"type": "string", "pattern": r"^-?[0-9]{1,9}(?:\.[0-9]{1,4})?$"})
        }
        Shape::Word(list) => {
            let words: Vec<&str> = list.words.iter().map(|(word, _)| *word).collect();
            json!({"enum": words})
        }
        Shape::Months(limit) => json!({
            "type": "array",
            "minItems": 12,
            "maxItems": 12,
            "items": of_shape(&Shape::Number(*limit)),
        }),
        Shape::Part(part) => json!({"$ref": format!("#/$defs/{}", part.name)}),
        Shape::List(of) => json!({"type": "array", "items": of_shape(of)}),
        Shape::ByName(of) => json!({
            "type": "object",
            "propertyNames": {"maxLength": NAME_LENGTH_MAX},
            "additionalProperties": or_null(of_shape(of)),
        }),
        Shape::Object => json!({"type": "object"}),
    }
}
