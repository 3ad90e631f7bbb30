//! How many to sow, against an independent statistics library.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::quantity::Chance;
use agronomy::sowing::{
    chance_of_at_least, chance_of_at_least_uncertain, least_sown, least_sown_uncertain,
};
use published::{Row, close, table};

fn chance(share: f64) -> Chance {
    Chance::new(share).unwrap()
}

/// One where the chance wanted is reached exactly with one seed fewer (as 24 of
/// 47 at even odds), which the library's rounding missed; else none.
fn reached_before(row: &Row) -> u32 {
    let before = row.maybe("P_at_min_n_minus_1");
    let exact = |before: f64| (before - row.number("confidence")).abs() < 5e-11;
    u32::from(before.is_some_and(exact))
}

/// Source: scipy 1.17.1, scipy.stats.binom; numbers exact, chances to 1e-9.
#[test]
fn the_least_number_sown_is_the_exact_binomial_one() {
    for row in table("binomial_least_sown.csv") {
        let wanted = row.count("k_wanted");
        let rate = chance(row.number("germination"));
        let sown = row.count("min_n");
        let found = least_sown(wanted, rate, chance(row.number("confidence")));
        assert_eq!(found, Ok(sown - reached_before(&row)), "{row:?}");
        let at = |sown| chance_of_at_least(wanted, sown, rate).get();
        close(at(sown), row.number("P_at_min_n"), 1e-9, &row);
        if let Some(before) = row.maybe("P_at_min_n_minus_1") {
            close(at(sown - 1), before, 1e-9, &row);
        }
    }
}

/// Source: scipy 1.17.1, scipy.stats.betabinom; numbers exact, chances to 1e-8.
#[test]
fn the_least_number_sown_for_an_uncertain_rate_is_the_exact_beta_binomial_one() {
    for row in table("beta_binomial_least_sown.csv") {
        let wanted = row.count("k_wanted");
        let (alpha, beta) = (row.number("alpha_post"), row.number("beta_post"));
        let found = least_sown_uncertain(wanted, alpha, beta, chance(row.number("confidence")));
        if row.text("min_n") == "none<=200000" {
            assert!(
                found.as_ref().map_or(true, |sown| *sown > 200_000),
                "{row:?} {found:?}"
            );
            continue;
        }
        let sown = row.count("min_n");
        assert_eq!(found, Ok(sown - reached_before(&row)), "{row:?}");
        let at = |sown| {
            chance_of_at_least_uncertain(wanted, sown, alpha, beta)
                .unwrap()
                .get()
        };
        close(at(sown), row.number("P_at_min_n"), 1e-8, &row);
        if let Some(before) = row.maybe("P_at_min_n_minus_1") {
            close(at(sown - 1), before, 1e-8, &row);
        }
    }
}

/// Source: scipy 1.17.1, scipy.stats.betabinom.cdf.
#[test]
fn the_beta_binomial_distribution_agrees_over_its_whole_range() {
    for row in table("beta_binomial_cdf.csv") {
        let more = chance_of_at_least_uncertain(
            row.count("k") + 1,
            row.count("n"),
            row.number("alpha"),
            row.number("beta"),
        );
        close(1.0 - more.unwrap().get(), row.number("cdf"), 1e-9, &row);
    }
}
