//! A form's texts and the fact they stand for: one to the other and back.

use std::collections::BTreeMap;

use season::Fact;
use season::limits::CELLS_MAX;
use season::money::Money;
use season::words::{Manner, Say};
use serde_json::{Map, Value};

use super::spec::{Input, Spec, fields_of};
use crate::parts::read;
use crate::parts::words::number;

/// What stands in a ticked field.
pub const TICKED: &str = "yes";

/// Texts by field name.
pub type Texts = BTreeMap<&'static str, String>;

/// What is wrong, by field.
pub type Wrong = Vec<(&'static str, Say)>;

/// A form that is being filled in: the fact it began with, and its fields.
#[derive(Debug, Clone, PartialEq)]
pub struct Filled {
    kind: &'static str,
    base: Map<String, Value>,
    fields: Vec<Spec>,
}

impl Filled {
    /// The form of a fact; `None` for facts that have none. Fields that were settled before it opened are left out unless an
    /// earlier record is `corrected`.
    pub fn of(fact: &Fact, corrected: bool) -> Option<Self> {
        let fields = fields_of(fact)?;
        Some(Self {
            kind: fact.kind()?,
            base: fact.fields()?,
            fields: fields
                .iter()
                .filter(|spec| corrected || !spec.fixed)
                .copied()
                .collect(),
        })
    }

    /// Its fields.
    pub fn fields(&self) -> &[Spec] {
        &self.fields
    }

    /// The texts that the fields begin with.
    pub fn texts(&self, manner: Manner) -> Texts {
        self.fields
            .iter()
            .map(|spec| (spec.name, shown(spec, get(&self.base, spec.name), manner)))
            .collect()
    }

    /// The fact that the texts stand for, or what is wrong with them. What the form does not ask stays as it began.
    pub fn read(&self, texts: &Texts, manner: Manner) -> Result<Fact, Wrong> {
        let mut fields = self.base.clone();
        let mut wrong = Wrong::new();
        for spec in &self.fields {
            let text = texts.get(spec.name).map_or("", |text| text.trim());
            match value(spec, text, manner) {
                Ok(Some(value)) => put(&mut fields, spec.name, value),
                Ok(None) => take(&mut fields, spec.name),
                Err(say) => wrong.push((spec.name, say)),
            }
        }
        whole_tray(&mut fields, &mut wrong);
        if !wrong.is_empty() {
            return Err(wrong);
        }
        match Fact::of_fields(self.kind, fields) {
            Fact::Unknown | Fact::Unreadable(_) => {
                // Every field read, yet together they don't: told at the first one.
                let first = self.fields.first().map_or("", |spec| spec.name);
                Err(vec![(first, Say::new("form.no_sense"))])
            }
            fact => Ok(fact),
        }
    }
}

/// A value as the text of its field. A needed number that is not there is one that files leave out at its least: one seed a cell.
fn shown(spec: &Spec, value: Option<&Value>, manner: Manner) -> String {
    match (spec.input, value) {
        (Input::Tick, Some(Value::Bool(true))) => TICKED.into(),
        (Input::Measure(measure, ..), Some(value)) => value
            .as_f64()
            .map(|si| plain(&number(measure.shown(si, manner), 1)))
            .unwrap_or_default(),
        (_, Some(Value::String(text))) => text.clone(),
        (Input::Number(..), Some(value)) => value
            .as_f64()
            .map(|n| plain(&number(n, 1)))
            .unwrap_or_default(),
        (Input::Count { .. } | Input::TrayNumber, Some(value)) => {
            value.as_u64().map_or_else(String::new, |n| n.to_string())
        }
        (Input::Count { least, .. }, None) if spec.needed => least.to_string(),
        _ => String::new(),
    }
}

/// With a minus that is on every keyboard.
fn plain(text: &str) -> String {
    text.replace('\u{2212}', "-")
}

/// A field's text as the value that stands in files; nothing typed into a field that need not be filled in is `None`.
fn value(spec: &Spec, text: &str, manner: Manner) -> Result<Option<Value>, Say> {
    if text.is_empty() && !spec.needed {
        return Ok(None);
    }
    Ok(Some(match spec.input {
        Input::Date => Value::String(read::date(text)?.to_string()),
        Input::Count { least, most, .. } => Value::from(read::count(text, least..=most)?),
        Input::Measure(measure, limit) => Value::from(rounded(read::quantity(
            text,
            measure,
            limit.range(),
            manner,
        )?)),
        Input::Number(limit) => Value::from(rounded(read::decimal(text, limit.range())?)),
        Input::Money => Value::String(Money::of_typed(text)?.to_string()),
        Input::Line => Value::String(read::name(text)?),
        Input::Area if text.is_empty() => return Err(Say::new("check.note_empty")),
        Input::Area => Value::String(text.to_owned()),
        Input::Tick => Value::Bool(text == TICKED),
        Input::TrayNumber => Value::from(read::count(text, 1..=CELLS_MAX)?),
        Input::Word(_) | Input::Pick(_) if text.is_empty() => {
            return Err(Say::new("typed.not_picked"));
        }
        Input::Word(_) | Input::Pick(_) => Value::String(text.to_owned()),
    }))
}

/// To a hundredth: finer than any thermometer or ruler, and free of what converting leaves behind.
fn rounded(si: f64) -> f64 {
    (si * 100.0).round() / 100.0
}

/// A tray has rows and columns, or neither.
fn whole_tray(fields: &mut Map<String, Value>, wrong: &mut Wrong) {
    let Some(Value::Object(tray)) = fields.get("tray") else {
        return;
    };
    let has = |name| tray.get(name).is_some();
    match (has("rows"), has("columns")) {
        (false, false) => {
            fields.remove("tray");
        }
        (true, false) if wrong.iter().all(|(name, _)| *name != "tray.columns") => {
            wrong.push(("tray.columns", Say::new("typed.no_count")));
        }
        (false, true) if wrong.iter().all(|(name, _)| *name != "tray.rows") => {
            wrong.push(("tray.rows", Say::new("typed.no_count")));
        }
        (true, true) if !has("what") => wrong.push(("tray.what", Say::new("typed.not_picked"))),
        _ => {}
    }
}

fn get<'a>(fields: &'a Map<String, Value>, name: &str) -> Option<&'a Value> {
    match name.split_once('.') {
        Some((outer, inner)) => fields.get(outer)?.as_object()?.get(inner),
        None => fields.get(name),
    }
}

fn put(fields: &mut Map<String, Value>, name: &str, value: Value) {
    match name.split_once('.') {
        Some((outer, inner)) => {
            let slot = fields
                .entry(outer)
                .or_insert_with(|| Value::Object(Map::new()));
            if let Value::Object(map) = slot {
                map.insert(inner.to_owned(), value);
            }
        }
        None => {
            fields.insert(name.to_owned(), value);
        }
    }
}

fn take(fields: &mut Map<String, Value>, name: &str) {
    match name.split_once('.') {
        Some((outer, inner)) => {
            if let Some(Value::Object(map)) = fields.get_mut(outer) {
                map.remove(inner);
            }
        }
        None => {
            fields.remove(name);
        }
    }
}
