//! Monthly temperatures in a form: typed or pasted in the reader's units, or an example's until the grower has better ones.

use season::example_climates::{EXAMPLES, ExampleClimate};
use season::month_day::MonthDay;
use season::words::{Arg, Manner, Say};

use crate::parts::read::{MONTHS, Measure, twelve, two_rows};
use crate::parts::words::number;

/// Twelve figures in the reader's units, as the form shows them.
pub(super) fn shown(normals: &[f64; 12], manner: Manner) -> String {
    let decimals = match manner.units {
        season::words::Units::Metric => 1,
        season::words::Units::Us => 0,
    };
    normals
        .map(|c| number(Measure::Temperature.shown(c, manner), decimals))
        .join(" ")
}

/// Twelve temperatures typed in the reader's units, C.
pub(super) fn read(text: &str, manner: Manner) -> Result<[f64; 12], Say> {
    let normals = twelve(text)?.map(|n| Measure::Temperature.of(n, manner));
    possible(&normals)?;
    Ok(normals)
}

/// Names the first month whose mean no place has.
fn possible(normals: &[f64; 12]) -> Result<(), Say> {
    const POSSIBLE_C: (f64, f64) = (-60.0, 60.0);
    let within = |c: &f64| (POSSIBLE_C.0..=POSSIBLE_C.1).contains(c);
    match normals.iter().zip(MONTHS).find(|(c, _)| !within(c)) {
        Some((c, month)) => Err(Say::new("place.odd_month")
            .with("month", Arg::Key(month))
            .with("n", Arg::Temperature(*c))),
        None => Ok(()),
    }
}

/// A table of both rows in the reader's units, as the form shows them: lowest and highest.
pub(super) fn of_table(text: &str, manner: Manner) -> Result<[String; 2], Say> {
    let rows = two_rows(text)?;
    let [tmin, tmax] = rows.map(|row| row.map(|n| Measure::Temperature.of(n, manner)));
    for row in [&tmin, &tmax] {
        possible(row)?;
    }
    Ok([shown(&tmin, manner), shown(&tmax, manner)])
}

/// The figures that a form keeps when what it shows was not touched: showing them rounds them.
pub(super) fn kept(
    text: &str,
    before: Option<&[f64; 12]>,
    manner: Manner,
) -> Result<[f64; 12], Say> {
    match before {
        Some(before) if shown(before, manner) == text.trim() => Ok(*before),
        _ => read(text, manner),
    }
}

/// What an example fills into a form, turned to the hemisphere of a latitude.
pub(super) struct Filled {
    pub(super) tmin: [f64; 12],
    pub(super) tmax: [f64; 12],
    /// Last frost at 50 and 10 in 100, first frost likewise.
    pub(super) frost: Option<[MonthDay; 4]>,
}

/// The example of a key for a place; south of the equator the year is turned round.
pub(super) fn example(key: &str, latitude: f64) -> Option<Filled> {
    let example: &ExampleClimate = EXAMPLES.iter().find(|example| example.key == key)?;
    let (tmin, tmax) = example.normals_at(latitude);
    Some(Filled {
        tmin,
        tmax,
        frost: example.frost_at(latitude),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use season::words::Units;

    const US: Manner = Manner { units: Units::Us };

    #[test]
    fn what_is_shown_reads_back() {
        for example in &EXAMPLES {
            let text = shown(&example.tmin, Manner::default());
            assert_eq!(read(&text, Manner::default()), Ok(example.tmin), "{text}");
        }
    }

    #[test]
    fn figures_that_nobody_touched_stay_as_they_were() {
        let tmin = EXAMPLES[0].tmin;
        let text = shown(&tmin, US);
        assert_ne!(read(&text, US), Ok(tmin), "whole degrees F round");
        assert_eq!(kept(&text, Some(&tmin), US), Ok(tmin));
    }

    #[test]
    fn fahrenheit_typed_is_celsius_inside_and_absurd_months_are_named() {
        let typed = "32 32 32 32 32 50 50 50 32 32 32 32";
        let read_us = read(typed, US).unwrap();
        assert!((read_us[0] - 0.0).abs() < 1e-9 && (read_us[5] - 10.0).abs() < 1e-9);
        let odd = read("0 0 0 0 99 0 0 0 0 0 0 0", Manner::default()).unwrap_err();
        assert!(odd.write(Manner::default()).contains("May"));
    }

    #[test]
    fn one_table_fills_both_rows_in_the_readers_units() {
        let line = |low: f64| format!("{low}\t{}\n", low + 18.0);
        let table: String = (20..32).map(|n| line(f64::from(n))).collect();
        let [tmin, tmax] = of_table(&table, US).unwrap();
        assert_eq!(tmin, "20 21 22 23 24 25 26 27 28 29 30 31");
        assert!(tmax.starts_with("38 39") && tmax.ends_with("49"), "{tmax}");
        assert!((read(&tmin, US).unwrap()[0] - (20.0 - 32.0) / 1.8).abs() < 1e-9);
        let odd = of_table(&table.replace("38", "380"), US).unwrap_err();
        assert!(odd.write(US).contains("Jan"), "{}", odd.write(US));
    }

    #[test]
    fn south_of_the_equator_the_year_is_turned_round() {
        let north = example("maritime_52", 52.0).unwrap();
        let south = example("maritime_52", -40.0).unwrap();
        assert_eq!(north.tmin[0].to_bits(), south.tmin[6].to_bits());
        assert_eq!(south.frost.map(|f| f[0].month()), Some(10));
        assert!(example("nowhere", 0.0).is_none());
    }
}
