//! What speaks against recording a fact: found before it is saved, told at the field, and never by losing what was typed.
//!
//! An objection either refuses (it can't be) or asks once (it is unlikely: then the grower is believed).

mod cooler;
mod events;
mod set_up;

use chrono::{Datelike, NaiveDate};

use crate::almanac::Almanac;
use crate::fact::Fact;
use crate::fact::table::Fault;
use crate::limits::YEARS;
use crate::typed::Measure;
use crate::words::{Arg, Say};

/// How much an objection weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// Unlikely: ask once, then believe.
    Ask,
    /// Impossible: not to be recorded.
    Refuse,
}

/// Something that speaks against a fact.
#[derive(Debug, Clone, PartialEq)]
pub struct Objection {
    /// The fact's field that it is about, as named in files.
    pub field: &'static str,
    /// How much it weighs.
    pub weight: Weight,
    /// In one sentence: what is wrong and what to do.
    pub say: Say,
}

/// Collects objections.
#[derive(Debug, Default)]
pub(crate) struct Objections(Vec<Objection>);

impl Objections {
    pub(crate) fn refuse(&mut self, field: &'static str, say: Say) {
        self.0.push(Objection {
            field,
            weight: Weight::Refuse,
            say,
        });
    }

    pub(crate) fn ask(&mut self, field: &'static str, say: Say) {
        self.0.push(Objection {
            field,
            weight: Weight::Ask,
            say,
        });
    }

    /// A figure within its limits.
    pub(crate) fn number(&mut self, field: &'static str, n: f64, least: f64, most: f64) {
        if !(least..=most).contains(&n) {
            self.fault(field, Fault::Beyond { least, most });
        }
    }

    /// A value that can't be recorded.
    fn fault(&mut self, field: &'static str, fault: Fault) {
        let say = match fault {
            Fault::Beyond { least, most } => Say::new("check.number")
                .with("least", bound(field, least))
                .with("most", bound(field, most)),
            Fault::Blank => Say::new("check.name_missing"),
            Fault::Long(most) => Say::new("check.name_long").with("most", most),
        };
        self.refuse(field, say);
    }
}

/// A bound of a field, with the unit that the field's name ends in.
fn bound(field: &str, n: f64) -> Arg {
    Measure::of_name(field).map_or(Arg::Decimal(n, 2), |measure| measure.arg(n))
}

/// Days ahead for which stems may be noted as bought in: they are ordered before they come.
const COMES_DAYS: i64 = 60;
/// Days before today beyond which a date is asked about.
const LONG_AGO_DAYS: i64 = 400;

/// All that speaks against recording a fact today, weightiest first.
pub fn check(almanac: &Almanac<'_>, fact: &Fact, today: NaiveDate) -> Vec<Objection> {
    let mut found = Objections::default();
    if let Some(date) = fact.date() {
        let comes_later =
            matches!(fact, Fact::BoughtIn(_)) && (date - today).num_days() <= COMES_DAYS;
        date_of_event(
            &mut found,
            if comes_later { date.min(today) } else { date },
            today,
        );
    }
    for (field, fault) in fact.faults() {
        found.fault(field, fault);
    }
    set_up::check(almanac, fact, today, &mut found);
    events::check(almanac, fact, &mut found);
    found
        .0
        .sort_by_key(|objection| core::cmp::Reverse(objection.weight));
    found.0
}

fn date_of_event(found: &mut Objections, date: NaiveDate, today: NaiveDate) {
    if !YEARS.contains(&date.year()) {
        found.refuse(
            "date",
            Say::new("check.year")
                .with("from", YEARS.record.0)
                .with("to", YEARS.record.1),
        );
    } else if date > today {
        found.refuse("date", Say::new("check.future").with("date", date));
    } else if (today - date).num_days() > LONG_AGO_DAYS {
        found.ask(
            "date",
            Say::new("check.long_ago")
                .with("date", date)
                .with("year", date.year()),
        );
    }
}

#[cfg(test)]
mod tests;
