//! Sowing counts against independent statistics libraries.

#![allow(
    clippy::unwrap_used,
    reason = "a check that cannot be set up must stop"
)]

use agronomy::quantity::Chance;
use agronomy::sowing::{Cell, Germination, least_sown};
use published::{Row, close, table};

fn chance(share: f64) -> Chance {
    Chance::new(share).unwrap()
}

/// Cells of one seed each, with every seedling surviving.
fn seeds(germination: Germination) -> Cell {
    Cell::new(germination, 1, Chance::CERTAIN).unwrap()
}

fn uncertain(alpha: f64, beta: f64) -> Cell {
    seeds(Germination::Uncertain { alpha, beta })
}

/// One if the probability is reached exactly with one seed fewer (such as 24 of 47 at even odds), which the
/// library's rounding missed; otherwise zero.
fn reached_before(row: &Row) -> u32 {
    let before = row.maybe("P_at_min_n_minus_1");
    let exact = |before: f64| (before - row.number("confidence")).abs() < 5e-11;
    u32::from(before.is_some_and(exact))
}

/// Source: scipy 1.17.1, scipy.stats.binom; numbers exact, probabilities to 1e-9.
#[test]
fn the_least_number_sown_is_the_exact_binomial_one() {
    for row in table("binomial_least_sown.csv") {
        let wanted = row.count("k_wanted");
        let seeds = seeds(Germination::Known(chance(row.number("germination"))));
        let sown = row.count("min_n");
        let found = seeds.least_cells(wanted, chance(row.number("confidence")));
        assert_eq!(found, Ok(sown - reached_before(&row)), "{row:?}");
        let at = |sown| seeds.chance_of_at_least(wanted, sown).unwrap().get();
        close(at(sown), row.number("P_at_min_n"), 1e-9, &row);
        if let Some(before) = row.maybe("P_at_min_n_minus_1") {
            close(at(sown - 1), before, 1e-9, &row);
        }
    }
}

/// Source: scipy 1.17.1, scipy.stats.betabinom; numbers exact, probabilities to 1e-8.
#[test]
fn the_least_number_sown_for_an_uncertain_rate_is_the_exact_beta_binomial_one() {
    for row in table("beta_binomial_least_sown.csv") {
        let wanted = row.count("k_wanted");
        let (alpha, beta) = (row.number("alpha_post"), row.number("beta_post"));
        let found = least_sown(wanted, alpha, beta, chance(row.number("confidence")));
        if row.text("min_n") == "none<=200000" {
            assert!(
                found.as_ref().map_or(true, |sown| *sown > 200_000),
                "{row:?} {found:?}"
            );
            continue;
        }
        let sown = row.count("min_n");
        assert_eq!(found, Ok(sown - reached_before(&row)), "{row:?}");
        let seeds = uncertain(alpha, beta);
        let at = |sown| seeds.chance_of_at_least(wanted, sown).unwrap().get();
        close(at(sown), row.number("P_at_min_n"), 1e-8, &row);
        if let Some(before) = row.maybe("P_at_min_n_minus_1") {
            close(at(sown - 1), before, 1e-8, &row);
        }
    }
}

/// Using the observed share as the rate gives too little seed: after ten of ten it would have no spare seed at
/// all. Source: scipy 1.17.1, scipy.stats.binom.
#[test]
fn a_rate_estimated_from_few_seeds_gives_less_seed_than_the_uncertain_one() {
    let mut compared = 0;
    for row in table("beta_binomial_least_sown.csv") {
        let (wanted, up, of) = (
            row.count("k_wanted"),
            row.count("observed_germinated"),
            row.count("observed_sown"),
        );
        let Some(published) = row.maybe("plug_in_binomial_min_n_for_contrast") else {
            continue;
        };
        let confidence = chance(row.number("confidence"));
        let seen = chance(f64::from(up) / f64::from(of));
        let plug_in = seeds(Germination::Known(seen))
            .least_cells(wanted, confidence)
            .unwrap();
        close(f64::from(plug_in), published, 0.0, &row);
        let (alpha, beta) = (row.number("alpha_post"), row.number("beta_post"));
        if up == of && confidence.get() > 0.5 {
            assert_eq!(plug_in, wanted, "{row:?}");
            assert!(
                least_sown(wanted, alpha, beta, confidence).map_or(true, |sown| sown >= plug_in),
                "{row:?}"
            );
        }
        compared += 1;
    }
    assert!(compared > 50, "{compared}");
}

/// Source: scipy 1.17.1, scipy.stats.betabinom.
#[test]
fn the_beta_binomial_distribution_agrees_over_its_whole_range() {
    for row in table("beta_binomial.csv") {
        let (k, n) = (row.count("k"), row.count("n"));
        let (alpha, beta) = (row.number("alpha"), row.number("beta"));
        let seeds = uncertain(alpha, beta);
        let at_least = |k| seeds.chance_of_at_least(k, n).unwrap().get();
        close(1.0 - at_least(k + 1), row.number("cdf"), 1e-9, &row);
        close(
            at_least(k) - at_least(k + 1),
            row.number("pmf"),
            1e-12,
            &row,
        );
        // The mean of a count is the sum of the probabilities of reaching 1, 2 and so on.
        let mean: f64 = (1..=n).map(at_least).sum();
        close(mean, row.number("mean"), 1e-9 * f64::from(n), &row);
        let squares: f64 = (1..=n).map(|k| f64::from(2 * k - 1) * at_least(k)).sum();
        let variance = squares - mean * mean;
        close(variance, row.number("var"), 1e-9 * f64::from(n * n), &row);
    }
}

/// Source: scipy 1.17.1, scipy.stats.binom; probabilities to 1e-9.
#[test]
fn cells_with_several_seeds_are_occupied_as_often_as_computed() {
    for row in table("occupied_cells.csv") {
        let (rate, seeds) = (
            chance(row.number("germination")),
            row.count("seeds_per_cell"),
        );
        let cell = Cell::new(Germination::Known(rate), seeds, Chance::CERTAIN).unwrap();
        let occupied = cell.gives_plant().get();
        close(occupied, row.number("occupied"), 1e-9, &row);
        close(128.0 * occupied, row.number("expected_of_128"), 1e-9, &row);
    }
}

/// Source: mpmath 1.4.1, the exact finite sum to 260 digits.
#[test]
fn plants_from_cells_of_uncertain_germination_agree_with_the_exact_sum() {
    for row in table("cells_uncertain.csv") {
        let germination = Germination::Uncertain {
            alpha: row.number("alpha"),
            beta: row.number("beta"),
        };
        let survival = chance(row.number("survival"));
        let cell = Cell::new(germination, row.count("seeds_per_cell"), survival).unwrap();
        let found = cell.chance_of_at_least(row.count("wanted"), row.count("cells"));
        close(found.unwrap().get(), row.number("chance"), 1e-12, &row);
    }
}
