//! The fitted emergence curve against published fits and independent ones.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::emergence::Count;
use agronomy::emergence::fit::{Estimate, Fit, fit};
use agronomy::quantity::Chance;
use published::{Row, close, table};

fn share(value: f64) -> Chance {
    Chance::new(value).unwrap()
}

/// Asserts agreement within a fraction of the wanted value.
fn near(got: f64, wanted: f64, share: f64, what: &dyn std::fmt::Debug) {
    close(got, wanted, wanted.abs() * share, what);
}

fn error(estimate: Estimate) -> f64 {
    estimate.standard_error.unwrap()
}

fn chickweed() -> Fit {
    let counts: Vec<Count> = table("chickweed_germination.csv")
        .iter()
        .map(|row| Count {
            day: row.number("hour"),
            up: row.count("up"),
            of: row.count("of"),
        })
        .collect();
    fit(&[&counts], None).unwrap()
}

/// Source: Ritz, Pipper & Streibig 2013, Europ. J. Agronomy 45:1-6, the summary printed for these data (b with
/// opposite sign): 20.76747 (2.94423), 0.20011 (0.0283), 196.05308 (2.5057), and the days by which 10, 50 and
/// 90 % of the final number are up.
#[test]
fn chickweed_gives_the_published_fit() {
    let found = chickweed();
    let (b, e) = (found.steepness().unwrap(), found.half_day().unwrap());
    close(b.value, 20.767_47, 0.002, &b);
    near(error(b), 2.944_23, 1e-3, &b);
    close(found.final_share().value, 0.200_11, 2e-5, &found);
    near(error(found.final_share()), 0.0283, 1e-3, &found);
    close(e.value, 196.053_08, 0.002, &e);
    near(error(e), 2.5057, 1e-3, &e);
    for (percent, hour, standard_error) in [
        (0.1, 176.37, 3.493),
        (0.5, 196.0531, 2.5057),
        (0.9, 217.9328, 4.273),
    ] {
        let at = found.day_of_emerged(share(percent)).unwrap();
        close(at.value, hour, 0.01, &at);
        near(error(at), standard_error, 2e-3, &at);
    }
}

/// The counts of each dish of a species.
fn dishes(species: &str) -> Vec<Vec<Count>> {
    table("mullein_germination.csv")
        .iter()
        .filter(|row| row.text("species") == species)
        .map(|row| {
            let mut up = 0;
            (1..=15)
                .map(|day| {
                    up += row.count(&format!("day{day}"));
                    Count {
                        day: f64::from(day),
                        up,
                        of: 25,
                    }
                })
                .collect()
        })
        .collect()
}

fn fitted(dishes: &[Vec<Count>]) -> Fit {
    let trays: Vec<&[Count]> = dishes.iter().map(Vec::as_slice).collect();
    fit(&trays, None).unwrap()
}

/// Sources: data of Catara et al. 2016, Seed Science Research 26:30-46; fits by scipy 1.17.1.
#[test]
fn three_mulleins_give_the_independent_fits_and_their_errors() {
    for row in table("mullein_fits.csv") {
        let found = fitted(&dishes(row.text("species")));
        for (got, name, tolerance) in [
            (found.steepness().unwrap(), "b", 0.002),
            (found.final_share(), "d", 2e-5),
            (found.half_day().unwrap(), "e", 2e-4),
        ] {
            close(got.value, row.number(name), tolerance, &row);
            near(error(got), row.number(&format!("se_{name}")), 2e-3, &row);
        }
    }
}

/// Pooled into one tray the dishes give the same curve: the likelihood depends only on how many came up when.
#[test]
fn dishes_pooled_give_the_same_curve() {
    for row in table("mullein_fits.csv") {
        let apart = dishes(row.text("species"));
        let pooled: Vec<Count> = (0..15)
            .map(|step| Count {
                day: apart[0][step].day,
                up: apart.iter().map(|dish| dish[step].up).sum(),
                of: 100,
            })
            .collect();
        let found = fit(&[&pooled], None).unwrap();
        let half_day = found.half_day().unwrap().value;
        close(
            half_day,
            fitted(&apart).half_day().unwrap().value,
            1e-6,
            &row,
        );
    }
}

fn set(name: &str) -> Vec<Count> {
    table("three_crops_germination.csv")
        .iter()
        .filter(|row| row.text("set") == name)
        .map(|row| Count {
            day: row.number("day"),
            up: row.count("up"),
            of: 20,
        })
        .collect()
}

/// Source: data of Ritz, Pipper & Streibig 2013 (mungbean, rice, wheat at five temperatures); fits by scipy
/// 1.17.1. If all 20 came up the final share is at its boundary, 1, and has no error; wheat at 40 degrees, of
/// which all three came up between the same two inspections, identifies no curve at all.
#[test]
fn thirteen_small_sets_are_handled_at_the_boundary_too() {
    let check = |row: &Row| {
        let found = fit(&[&set(row.text("set"))], None).unwrap();
        let kind = row.text("kind");
        close(found.final_share().value, row.number("d"), 1e-4, row);
        if kind == "none" {
            assert_eq!(found.half_day(), None, "{row:?}");
            assert_eq!(found.steepness(), None, "{row:?}");
            return;
        }
        let (b, e) = (found.steepness().unwrap(), found.half_day().unwrap());
        near(b.value, row.number("b"), 2e-3, row);
        near(e.value, row.number("e"), 1e-3, row);
        if kind == "edge" {
            assert_eq!(found.final_share().standard_error, None, "{row:?}");
        } else {
            near(error(found.final_share()), row.number("se_d"), 5e-3, row);
            near(error(b), row.number("se_b"), 5e-3, row);
            near(error(e), row.number("se_e"), 5e-3, row);
        }
    };
    table("three_crops_fits.csv").iter().for_each(check);
}
