//! Weeks and chances in words.

use agronomy::iso_week::IsoWeek;
use agronomy::quantity::Chance;
use season::words::{Arg, Manner, Say};

/// Weeks that follow each other, told together.
fn runs(weeks: &[IsoWeek]) -> Vec<(IsoWeek, IsoWeek)> {
    weeks
        .chunk_by(|a, b| a.plus(1) == *b)
        .filter_map(|run| Some((*run.first()?, *run.last()?)))
        .collect()
}

fn number(week: IsoWeek) -> Arg {
    Arg::Number(i64::from(week.week()))
}

/// Weeks in words: "week 24", "weeks 24, 26 to 28". They must be in order.
pub fn weeks(weeks: &[IsoWeek], manner: Manner) -> String {
    let told: Vec<String> = runs(weeks)
        .into_iter()
        .map(|(from, to)| {
            Say::new("weeks.run")
                .with("from", number(from))
                .with_some("to", (from != to).then(|| number(to)))
                .write(manner)
        })
        .collect();
    Say::new("weeks.list")
        .with("n", weeks.len())
        .with("list", told.join(", "))
        .write(manner)
}

/// A span of weeks in words: "week 24 to week 31".
pub fn span(from: IsoWeek, to: IsoWeek) -> Say {
    Say::new("weeks.span")
        .with("from", from)
        .with_some("to", (from != to).then_some(to))
}

/// "Short in 6 of 10 seasons"; nothing where it hardly ever happens.
pub fn short_in(chance: Chance) -> Option<Say> {
    let of_ten = (chance.get() * 10.0).round() as u32;
    match of_ten {
        0 => None,
        10 => Some(Say::new("supply.always_short")),
        n => Some(Say::new("supply.short_in").with("n", n)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weeks_are_told_in_runs_across_new_year_too() {
        let weeks_of = |texts: &[&str]| -> Vec<IsoWeek> {
            texts.iter().map(|text| text.parse().unwrap()).collect()
        };
        let told = |texts: &[&str]| weeks(&weeks_of(texts), Manner::default());
        assert_eq!(told(&["2027-W24"]), "week 24");
        assert_eq!(
            told(&["2027-W24", "2027-W26", "2027-W27", "2027-W28"]),
            "weeks 24, 26 to 28"
        );
        // 2026 is a long year.
        assert_eq!(told(&["2026-W53", "2027-W01"]), "weeks 53 to 1");
    }

    #[test]
    fn a_chance_is_told_in_seasons_of_ten() {
        let key = |chance: f64| short_in(Chance::new(chance).unwrap()).map(|say| say.key());
        assert_eq!(key(0.04), None);
        assert_eq!(key(0.55), Some("supply.short_in"));
        assert_eq!(key(0.99), Some("supply.always_short"));
    }
}
