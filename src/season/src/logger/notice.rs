//! What the grower should know about a file, in plain sentences.

use super::{Reading, UnitSaid};
use crate::words::{Arg, Say};

/// Lines and days that a sentence names; it counts the rest.
const NAMED: usize = 5;

/// What is odd about a file beyond what stands in the reading.
#[derive(Debug)]
pub(super) struct Odd {
    pub(super) repeats: usize,
    pub(super) unordered: bool,
    pub(super) empty: usize,
    pub(super) ahead: usize,
    pub(super) utc: bool,
}

/// First what has to be answered, then what was done.
pub(super) fn of(reading: &Reading, odd: &Odd) -> Vec<Say> {
    let mut say = Vec::new();
    let mut say_if = |is_so: bool, sentence: Say| {
        if is_so {
            say.push(sentence);
        }
    };
    say_if(
        reading.unit_said == UnitSaid::Doubtful,
        Say::new("logger.doubtful"),
    );
    say_if(
        reading.day_first_asked,
        Say::new(if reading.day_first {
            "logger.day_first"
        } else {
            "logger.month_first"
        }),
    );
    let column = reading
        .columns
        .get(reading.column)
        .cloned()
        .unwrap_or_default();
    say_if(
        reading.columns.len() > 1,
        Say::new("logger.columns")
            .with("n", reading.columns.len())
            .with("column", column),
    );
    say_if(
        reading.unit_said == UnitSaid::Assumed,
        Say::new("logger.assumed"),
    );
    say_if(
        reading.bad > 0,
        Say::new("logger.bad")
            .with("n", reading.bad)
            .with("lines", some(&reading.bad_rows)),
    );
    say_if(odd.ahead > 0, Say::new("logger.ahead").with("n", odd.ahead));
    let left_out = reading.left_out.as_slice();
    let first = |dates: &[chrono::NaiveDate]| dates.first().copied().map(Arg::Date);
    say_if(
        !left_out.is_empty(),
        Say::new("logger.left_out")
            .with("n", left_out.len())
            .with_some("date", first(left_out)),
    );
    let gaps: Vec<_> = reading
        .days
        .iter()
        .filter(|day| !day.whole)
        .map(|day| day.date)
        .collect();
    say_if(
        !gaps.is_empty(),
        Say::new("logger.gaps")
            .with("n", gaps.len())
            .with_some("date", first(&gaps)),
    );
    say_if(odd.empty > 0, Say::new("logger.empty").with("n", odd.empty));
    say_if(
        odd.repeats > 0,
        Say::new("logger.repeats").with("n", odd.repeats),
    );
    say_if(odd.unordered, Say::new("logger.unordered"));
    say_if(odd.utc, Say::new("logger.utc"));
    say
}

fn some(lines: &[usize]) -> String {
    let named: Vec<String> = lines.iter().take(NAMED).map(usize::to_string).collect();
    let more = if lines.len() > NAMED { " ..." } else { "" };
    named.join(", ") + more
}
