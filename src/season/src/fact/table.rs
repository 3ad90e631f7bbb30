//! The table of a kind of fact: its fields with their shapes, limits and questions, as [`fact_macro::fact`] writes it from the
//! struct. Reading, checking, forms, the schema and the tests' generators go through it, so that a field is written once.

use core::fmt::Display;
use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};
use serde_json::Value as Json;

use super::words::{SpaceKind, WordList};
use crate::limits::{Letters, Limit, YEARS};
use crate::typed::Measure;

/// A kind of fact, or an object inside one.
pub trait Table {
    /// The name in files.
    const NAME: &'static str;
    /// What it is, in one or two sentences.
    const DOC: &'static str;
    /// An object inside an entry and no kind of its own.
    const IS_PART: bool;
    /// The key of its form's title.
    const TITLE: &'static str;
    /// The key of what its form's main button says.
    const ACTION: &'static str;
    /// Exactly one of these optional fields is there; none where the kind has no such rule.
    const ONE_OF: &'static [&'static str];

    /// What each field holds, in the order of [`Table::fields`]. Apart from them, so that a module that publishes no schema carries no
    /// descriptions.
    fn docs() -> Vec<&'static str>
    where
        Self: Sized;

    /// The fields, in the order in which a form asks them.
    fn fields() -> Vec<Field>
    where
        Self: Sized;

    /// What is wrong with the first field that is beyond what is read.
    fn check(&self) -> Checked;

    /// What is wrong with fields beyond what is recorded anew.
    fn faults(&self, found: &mut Faults);

    /// The day on which it happened, for events.
    fn date(&self) -> Option<NaiveDate> {
        None
    }
}

/// One field.
#[derive(Debug, Clone, PartialEq)]
pub struct Field {
    /// Its name in files.
    pub name: &'static str,
    /// Whether it may be left out.
    pub need: Need,
    /// What it may hold.
    pub shape: Shape,
    /// Its type's name, which tells ids apart.
    pub type_name: &'static str,
    /// What its number measures.
    pub unit: Option<Measure>,
    /// How a form asks it.
    pub ask: Option<Ask>,
}

/// Whether a field may be left out.
#[derive(Debug, Clone, PartialEq)]
pub enum Need {
    /// It must be there.
    Required,
    /// It may be left out, or be `null`.
    Optional,
    /// It may be left out and is then this.
    Missing(Json),
}

/// How a form asks a field. What it takes follows from the field's shape.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ask {
    /// The key of its label.
    pub label: &'static str,
    /// With large keys below: what is counted at the bench in gloves.
    pub pad: bool,
    /// Asked only when an earlier record is corrected: otherwise it was chosen before the form opened.
    pub fixed: bool,
    /// A text of several lines.
    pub area: bool,
    /// One of a sowing's trays, by its number.
    pub tray_number: bool,
    /// The kinds of space to choose among.
    pub within: &'static [SpaceKind],
}

/// What a value may be.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// An id.
    Id,
    /// A text.
    Text(Letters),
    /// A day.
    Date,
    /// An ISO week.
    Week,
    /// A day of any year.
    MonthDay,
    /// A whole number.
    Whole(Limit<i64>),
    /// A number.
    Number(Limit<f64>),
    /// Yes or no.
    Flag,
    /// An amount of money.
    Money,
    /// One of a closed list of words.
    Word(&'static WordList),
    /// Twelve numbers, January first.
    Months(Limit<f64>),
    /// An object with fields of its own.
    Part(Part),
    /// A list.
    List(Box<Shape>),
    /// Values, or `null`, by name.
    ByName(Box<Shape>),
    /// Any object.
    Object,
}

/// An object inside an entry.
#[derive(Debug, Clone, Copy)]
pub struct Part {
    /// Its name.
    pub name: &'static str,
    /// Its fields.
    pub fields: fn() -> Vec<Field>,
}

impl PartialEq for Part {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name
    }
}

/// A field beyond its range.
#[derive(Debug, PartialEq)]
pub struct OutOfRange {
    /// The field, as written in files.
    pub field: &'static str,
    /// What is wrong with it, for developers.
    pub why: String,
}

/// Whether a value is within what is read.
pub type Checked = Result<(), OutOfRange>;

/// Fields that can't be recorded, and why.
pub type Faults = Vec<(&'static str, Fault)>;

/// Why a value can't be recorded.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Fault {
    /// A number outside of these bounds, or none.
    Beyond {
        /// Least.
        least: f64,
        /// Most.
        most: f64,
    },
    /// A text that must say something and is blank.
    Blank,
    /// A text longer than this, in characters.
    Long(usize),
}

/// A type that a field of a table may have.
pub trait Value {
    /// What narrows its range; `()` where the type says all.
    type Limit: 'static;

    /// What it may be.
    fn shape(limit: &'static Self::Limit) -> Shape;

    /// Whether it is within what is read.
    fn check(&self, _field: &'static str, _limit: &Self::Limit) -> Checked {
        Ok(())
    }

    /// Whether it may be recorded anew.
    fn faults(&self, _field: &'static str, _limit: &Self::Limit, _found: &mut Faults) {}
}

/// Takes a field of an entry into the state.
pub trait Merge<State> {
    /// Takes the value where the entry names the field.
    fn merge(&self, state: &mut State);
}

impl<T: Clone> Merge<T> for Option<T> {
    fn merge(&self, state: &mut T) {
        if let Some(value) = self {
            *state = value.clone();
        }
    }
}

impl<T: Clone> Merge<Option<T>> for Option<T> {
    fn merge(&self, state: &mut Option<T>) {
        if self.is_some() {
            state.clone_from(self);
        }
    }
}

/// Values set one by one by their names; `null` takes one back.
impl<T: Clone> Merge<BTreeMap<String, T>> for BTreeMap<String, Option<T>> {
    fn merge(&self, state: &mut BTreeMap<String, T>) {
        for (name, value) in self {
            match value {
                Some(value) => {
                    state.insert(name.clone(), value.clone());
                }
                None => {
                    state.remove(name);
                }
            }
        }
    }
}

/// Values by name in an entry, beside those that are set in the state.
pub trait ByName {
    /// The state's type.
    type Set;

    /// As an entry would say what is set.
    fn of_set(set: &Self::Set) -> Self;
}

impl<T: Clone> ByName for BTreeMap<String, Option<T>> {
    type Set = BTreeMap<String, T>;

    fn of_set(set: &Self::Set) -> Self {
        let some = |(name, value): (&String, &T)| (name.clone(), Some(value.clone()));
        set.iter().map(some).collect()
    }
}

/// That exactly one of two fields is there.
pub(crate) fn one_named(field: &'static str, one: bool, other: bool) -> Checked {
    if one == other {
        let why = "not exactly one of the two is named".to_owned();
        return Err(OutOfRange { field, why });
    }
    Ok(())
}

/// A number within what is read.
pub(super) fn within<T: PartialOrd + Display + Copy>(
    field: &'static str,
    value: T,
    limit: &Limit<T>,
) -> Checked {
    let (least, most) = limit.read;
    if (least..=most).contains(&value) {
        return Ok(());
    }
    let why = format!("{value} is not from {least} to {most}");
    Err(OutOfRange { field, why })
}

/// A number within what is recorded.
pub(super) fn recordable(field: &'static str, value: f64, limit: (f64, f64), found: &mut Faults) {
    let (least, most) = limit;
    // Also false for what is no number.
    if !(least..=most).contains(&value) {
        found.push((field, Fault::Beyond { least, most }));
    }
}

/// A day of a year that is read.
pub(super) fn day(field: &'static str, date: NaiveDate) -> Checked {
    within(field, date.year(), &YEARS)
}
