//! Ageing of seed against published and independent figures.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::quantity::{Celsius, Chance};
use agronomy::seed_age::{
    Constants, Storage, harrington_factor, initial_viability, viability_after,
};
use published::{Row, close, table};

fn percent(share: f64) -> Chance {
    Chance::new(share / 100.0).unwrap()
}

fn constants(row: &Row) -> Constants {
    let [ke, cw, ch, cq] = ["ke", "cw", "ch", "cq"].map(|column| row.number(column));
    Constants::new(ke, cw, ch, cq).unwrap()
}

fn storage(row: &Row) -> Storage {
    Storage::new(row.number("moisture"), Celsius(row.number("celsius"))).unwrap()
}

/// Source: output shown on the reference pages of the R package viabilitymetrics, which cite Ellis & Roberts
/// 1980; the rest computed with scipy 1.17.1, as marked in the table.
#[test]
fn the_viability_equation_agrees_with_worked_examples() {
    for row in table("seed_viability.csv") {
        let species = constants(&row);
        let found = match row.text("quantity") {
            "sigma_days" => species.sigma_days(storage(&row)),
            "viability_percent" => {
                let days = row.number("days");
                let left = viability_after(
                    percent(row.number("initial")),
                    &species,
                    storage(&row),
                    days,
                );
                left.unwrap().get() * 100.0
            }
            other => panic!("no such quantity: {other}"),
        };
        close(found, row.number("expected"), row.number("tolerance"), &row);
    }
}

/// Source: output on the same reference pages.
#[test]
fn a_test_that_all_seeds_passed_agrees_with_the_worked_example() {
    let tested = initial_viability(50, 50).unwrap();
    close(tested.get(), 0.995, 1e-12, &"50 of 50");
}

/// The published constants of more than 60 species and lots are accepted. Source: the paper of each row, read
/// in the data of the same package.
#[test]
fn published_constants_are_accepted() {
    let rows = table("seed_viability_constants.csv");
    assert!(rows.len() >= 50);
    for row in &rows {
        let species = constants(row);
        // All of them last longer dry and cool than damp and hot.
        let dry = Storage::new(5.0, Celsius(5.0)).unwrap();
        let damp = Storage::new(15.0, Celsius(40.0)).unwrap();
        let (long, short) = (species.sigma_days(dry), species.sigma_days(damp));
        assert!(long > short && short > 0.0 && long.is_finite(), "{row:?}");
    }
}

/// J. F. Harrington's rules of thumb, as quoted by extension services: half the life for each 1 % more
/// moisture and for each 10 degrees Fahrenheit more.
#[test]
fn harringtons_rules_are_as_quoted() {
    let fahrenheit = |degrees: f64| Celsius((degrees - 32.0) / 1.8);
    let store = |moisture, degrees| Storage::new(moisture, fahrenheit(degrees)).unwrap();
    let factor = |kept, than| harrington_factor(kept, than).unwrap();
    let room = store(9.0, 70.0);
    close(factor(store(9.0, 60.0), room), 2.0, 1e-9, &"10 F cooler");
    close(factor(store(8.0, 70.0), room), 2.0, 1e-9, &"1 % drier");
    close(factor(store(8.0, 50.0), room), 8.0, 1e-9, &"both");
    close(factor(store(10.0, 80.0), room), 0.25, 1e-9, &"neither");
}
