//! Saving several facts that each have a field of their own: what speaks against one is said at its field.

use leptos::prelude::*;
use season::Fact;
use season::check::{Weight, check};

use crate::parts::typed::show_first_wrong;
use crate::parts::{Saver, Typed};
use crate::store::Store;

/// A fact with the field that its number was typed in.
pub type Row = (Fact, Option<Typed>);

/// Facts that were asked about; saved when asked to again.
pub type Doubted = RwSignal<Option<Vec<Fact>>>;

/// Records all facts together, once nothing speaks against any, or only what was asked about before.
pub fn check_and_save(
    rows: Vec<Row>,
    date: Typed,
    doubted: Doubted,
    saver: Saver,
    then: impl FnOnce() + 'static,
) {
    let store = Store::here();
    let today = store.today_now();
    let found: Vec<_> = store.with_almanac_now(|almanac| {
        rows.iter()
            .flat_map(|(fact, field)| {
                check(almanac, fact, today)
                    .into_iter()
                    .map(|objection| (objection, *field))
            })
            .collect()
    });
    let facts: Vec<Fact> = rows.into_iter().map(|(fact, _)| fact).collect();
    let refused = found.iter().any(|(o, _)| o.weight == Weight::Refuse);
    let known = doubted.with_untracked(|d| d.as_ref() == Some(&facts));
    if found.is_empty() || known && !refused {
        doubted.set(None);
        return saver.save(facts, move |_| then());
    }
    doubted.set((!refused).then_some(facts));
    for (objection, field) in found {
        match field {
            Some(field) if objection.field != "date" => field.object(objection.say),
            _ => date.object(objection.say),
        }
    }
    show_first_wrong();
}
