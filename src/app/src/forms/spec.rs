//! Which fields a kind of fact has in its form: the asked ones of its table, in the table's order.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use season::Fact;
use season::fact::table::{Ask, Field, Need, Shape};
use season::fact::{KINDS, Kind, SpaceKind, WordList};
use season::limits::Limit;

use crate::parts::read::Measure;

/// What a field takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Input {
    /// A day.
    Date,
    /// A whole number, typed or tapped.
    Count {
        /// Smallest.
        least: u32,
        /// Largest.
        most: u32,
        /// With large keys below it: what is counted at the bench in gloves.
        pad: bool,
    },
    /// A quantity in the reader's units; the bounds are SI.
    Measure(Measure, Limit<f64>),
    /// A plain number within bounds.
    Number(Limit<f64>),
    /// An amount of money.
    Money,
    /// A text of one line.
    Line,
    /// A text of several lines.
    Area,
    /// Yes or no.
    Tick,
    /// One of a closed list of words.
    Word(&'static WordList),
    /// Something that the grower set up.
    Pick(Pick),
    /// One of a sowing's trays, by its number.
    TrayNumber,
}

/// Something that the grower set up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pick {
    /// A space of one of these kinds.
    Space(&'static [SpaceKind]),
    /// A bed.
    Bed,
    /// A variety.
    Variety,
    /// A seed lot of the fact's variety.
    Lot,
    /// An order that is still open.
    Order,
}

/// One field of a form.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spec {
    /// Its name in files; `tray.rows` is `rows` inside `tray`.
    pub name: &'static str,
    /// The key of its label.
    pub label: &'static str,
    /// What it takes.
    pub input: Input,
    /// Whether it must be filled in.
    pub needed: bool,
    /// Asked only when an earlier record is corrected: otherwise it was chosen before the form opened.
    pub fixed: bool,
}

/// The forms of all kinds, by the kind's name.
static FORMS: LazyLock<BTreeMap<&'static str, Vec<Spec>>> = LazyLock::new(|| {
    let form = |kind: &Kind| (kind.name, specs(&kind.fields));
    KINDS.iter().map(form).collect()
});

/// The fields of a fact's form; `None` for facts that are recorded elsewhere. An order, here, is only marked as done.
pub fn fields_of(fact: &Fact) -> Option<&'static [Spec]> {
    if matches!(fact, Fact::Order(_)) {
        return Some(&[]);
    }
    let form = FORMS.get(fact.kind()?)?;
    (!form.is_empty()).then_some(form)
}

fn specs(fields: &[Field]) -> Vec<Spec> {
    let asked = |field: &Field| Some((field.clone(), field.ask?));
    fields
        .iter()
        .filter_map(asked)
        .flat_map(|(field, ask)| match &field.shape {
            // An object's fields are asked by themselves; it is there if they are.
            Shape::Part(part) => specs(&(part.fields)())
                .into_iter()
                .map(|inner| Spec {
                    // Once a field and program: the forms are made once.
                    name: format!("{}.{}", field.name, inner.name).leak(),
                    needed: false,
                    ..inner
                })
                .collect(),
            _ => spec(&field, ask).into_iter().collect::<Vec<_>>(),
        })
        .collect()
}

fn spec(field: &Field, ask: Ask) -> Option<Spec> {
    Some(Spec {
        name: field.name,
        label: ask.label,
        input: input(field, ask)?,
        needed: match &field.need {
            Need::Required => true,
            Need::Optional => false,
            // One seed a cell is what an empty field would mean; nothing is what no culls mean.
            Need::Missing(missing) => missing.as_u64().is_some_and(|n| n > 0),
        },
        fixed: ask.fixed,
    })
}

/// What a field of a shape takes; `None` where forms have nothing for it.
fn input(field: &Field, ask: Ask) -> Option<Input> {
    Some(match &field.shape {
        Shape::Date => Input::Date,
        Shape::Whole(_) if ask.tray_number => Input::TrayNumber,
        Shape::Whole(limit) => Input::Count {
            least: u32::try_from(limit.record.0).ok()?,
            most: u32::try_from(limit.record.1).ok()?,
            pad: ask.pad,
        },
        Shape::Number(limit) => match field.unit {
            Some(measure) => Input::Measure(measure, *limit),
            None => Input::Number(*limit),
        },
        Shape::Money => Input::Money,
        Shape::Text(_) if ask.area => Input::Area,
        Shape::Text(_) => Input::Line,
        Shape::Flag => Input::Tick,
        Shape::Word(list) => Input::Word(list),
        Shape::Id => Input::Pick(match field.type_name {
            "SpaceId" => Pick::Space(ask.within),
            "BedId" => Pick::Bed,
            "VarietyId" => Pick::Variety,
            "LotId" => Pick::Lot,
            "OrderId" => Pick::Order,
            _ => return None,
        }),
        _ => return None,
    })
}
