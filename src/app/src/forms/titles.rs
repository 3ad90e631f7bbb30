//! What a form is called and what its main button says.

use season::Fact;
use season::words::{Arg, Say};

use chrono::NaiveDate;

fn keys(fact: &Fact) -> (&'static str, &'static str) {
    match (fact, fact.kind_table()) {
        (Fact::Finished(f), _) if f.planting.is_some() => ("form.cleared", "form.cleared.do"),
        (Fact::Finished(_), _) => ("form.given_up", "form.given_up.do"),
        (_, Some(kind)) => (kind.title, kind.action),
        (_, None) => ("form.other", "form.other.do"),
    }
}

/// The key of a form's title.
pub fn title(fact: &Fact) -> &'static str {
    keys(fact).0
}

/// The main button: the fact with its day, not "OK".
pub fn deed(fact: &Fact, today: NaiveDate) -> Say {
    let when: Arg = match fact.date() {
        Some(date) if date != today => Say::new("form.on").with("date", date).into(),
        _ => Arg::Key("form.today"),
    };
    Say::new(keys(fact).1)
        .with("when", when)
        .with_some("n", number(fact))
}

fn number(fact: &Fact) -> Option<u32> {
    match fact {
        Fact::Sown(f) => Some(f.cells),
        Fact::Counted(f) => Some(f.up),
        Fact::Lost(f) => Some(f.number),
        Fact::Transplanted(f) => Some(f.plants),
        Fact::DirectSown(f) => Some(f.plants),
        Fact::Cut(f) => Some(f.stems),
        Fact::Discarded(f) => Some(f.stems),
        Fact::Sold(f) => Some(f.stems),
        Fact::BoughtIn(f) => Some(f.stems),
        Fact::Allocated(f) => Some(f.stems),
        Fact::Bunched(f) => Some(f.bunches),
        Fact::PrickedOut(f) => Some(f.cells),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::forms::spec::fields_of;
    use crate::forms::tests::one_of_each;

    #[test]
    fn every_form_has_a_title_a_button_and_labels() {
        for fact in one_of_each() {
            let (title, deed) = keys(&fact);
            assert_ne!(title, "form.other", "{fact:?}");
            for key in [title, deed] {
                assert!(season::words::has(key), "{key}");
            }
            for spec in fields_of(&fact).unwrap_or_default() {
                assert!(season::words::has(spec.label), "{}", spec.label);
            }
        }
    }

    #[test]
    fn the_button_says_the_day_unless_it_is_today() {
        let day = |d| NaiveDate::from_ymd_opt(2027, 1, d).unwrap();
        let fact = super::super::fresh::frost(day(16));
        let say = |today| deed(&fact, today).write(Default::default());
        assert!(say(day(16)).contains(season::words::text("form.today")));
        assert!(say(day(17)).contains("Sat 16 Jan"), "{}", say(day(17)));
    }
}
