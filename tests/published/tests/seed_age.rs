//! What age does to seed, against published and independent figures.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::quantity::{Celsius, Chance};
use agronomy::seed_age::{
    Constants, Storage, days_until, harrington_factor, hundred_rule, initial_viability,
    moisture_for, normal_equivalent_deviate, viability_after,
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

/// Source: output shown on the reference pages of the R package viabilitymetrics,
/// which cite Ellis & Roberts 1980; the rest computed with scipy 1.17.1. The
/// table says which.
#[test]
fn the_viability_equation_agrees_with_worked_examples() {
    for row in table("seed_viability.csv") {
        let species = constants(&row);
        let initial = || percent(row.number("initial"));
        let wanted = || percent(row.number("wanted"));
        let found = match row.text("quantity") {
            "sigma_days" => species.sigma_days(storage(&row)),
            "viability_percent" => {
                let days = row.number("days");
                let left = viability_after(initial(), &species, storage(&row), days);
                left.unwrap().get() * 100.0
            }
            "storage_period_days" => {
                days_until(wanted(), initial(), &species, storage(&row)).unwrap()
            }
            "storage_mc_percent" => {
                let (days, celsius) = (row.number("days"), Celsius(row.number("celsius")));
                moisture_for(wanted(), initial(), days, &species, celsius).unwrap()
            }
            other => panic!("no such quantity: {other}"),
        };
        close(found, row.number("expected"), row.number("tolerance"), &row);
    }
}

/// Source: output on the same reference pages.
#[test]
fn the_steps_of_the_equation_agree_with_worked_examples() {
    let deviate = |share| normal_equivalent_deviate(percent(share)).unwrap();
    close(deviate(25.0), -0.674_489_8, 5e-8, &"25 %");
    close(deviate(98.0), 2.053_748_91, 5e-9, &"98 %");
    close(deviate(95.0), 1.644_853_63, 5e-9, &"95 %");
    let tested = initial_viability(50, 50).unwrap();
    close(tested.get(), 0.995, 1e-12, &"50 of 50");
    let aged = Constants::from_one_temperature(36.0, 1.0, Celsius(10.0)).unwrap();
    close(aged.ke(), 36.3768, 1e-9, &"KE from K = 36 at 10 degrees");
}

/// Published constants of 60 and more species and lots are within what is
/// allowed. Source: each row's paper, read in the data of the same package.
#[test]
fn published_constants_are_allowed() {
    let rows = table("seed_viability_constants.csv");
    assert!(rows.len() >= 50);
    for row in &rows {
        let species = constants(row);
        // Dry and cool, no seed of these lives shorter than damp and hot.
        let dry = Storage::new(5.0, Celsius(5.0)).unwrap();
        let damp = Storage::new(15.0, Celsius(40.0)).unwrap();
        let (long, short) = (species.sigma_days(dry), species.sigma_days(damp));
        assert!(long > short && short > 0.0 && long.is_finite(), "{row:?}");
    }
}

/// J. F. Harrington's rules of thumb, as quoted by extension services: half the
/// life for each 1 % of moisture more and for each 10 degrees Fahrenheit more, and
/// a room whose degrees Fahrenheit and relative humidity come to no more than 100.
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
    assert_eq!(hundred_rule(fahrenheit(50.0), 50.0), Ok(true));
    assert_eq!(hundred_rule(fahrenheit(50.0), 51.0), Ok(false));
    assert_eq!(hundred_rule(fahrenheit(70.0), 40.0), Ok(false));
}
