//! How many plants to expect of cells sown.

use libm::{exp, log, log1p, sqrt};

/// Mean number of plants set from `cells` of `seeds` each, when the germination rate is beta (`alpha`, `beta`), a share `usable` of
/// the cells that came up is good enough, and no more than `most` are set.
///
/// Binomial for a rate, averaged over the rates by the trapezoid rule on their log-odds, where the beta's density falls off on both
/// sides at least exponentially: the rule then errs by less than 1e-10.
pub(super) fn mean_set(
    cells: u32,
    seeds: u32,
    (alpha, beta): (f64, f64),
    usable: f64,
    most: u32,
) -> f64 {
    // Far enough that the density is below e^-40 of its top.
    const DEEP: f64 = 40.0;
    let middle = log(alpha / beta);
    let step = (0.5 * sqrt(1.0 / alpha + 1.0 / beta)).min(0.5);
    let log_density = |odds: f64| {
        // ln of rate^alpha (1 - rate)^beta, without loss where the rate is next to 0 or 1.
        let (up, down) = if odds > 0.0 {
            (-log1p(exp(-odds)), -odds - log1p(exp(-odds)))
        } else {
            (odds - log1p(exp(odds)), -log1p(exp(odds)))
        };
        (alpha * up + beta * down, down)
    };
    let (top, _) = log_density(middle);
    let (mut weights, mut sum) = (0.0, 0.0);
    for direction in [-1.0, 1.0] {
        // The middle itself belongs to one side only.
        let mut n = if direction < 0.0 { 1.0 } else { 0.0 };
        loop {
            let (density, ln_down) = log_density(middle + direction * n * step);
            if density - top < -DEEP {
                break;
            }
            let weight = exp(density - top);
            let occupied = -libm::expm1(ln_down * f64::from(seeds));
            weights += weight;
            sum += weight * mean_of_least(cells, occupied * usable, most);
            n += 1.0;
        }
    }
    sum / weights
}

/// E min(X, most) of a binomial of `trials` with chance `p`.
fn mean_of_least(trials: u32, p: f64, most: u32) -> f64 {
    let n = f64::from(trials);
    if p <= 0.0 || trials == 0 {
        return 0.0;
    }
    if most >= trials {
        return n * p;
    }
    let cap = f64::from(most);
    if p >= 1.0 {
        return cap.min(n);
    }
    // Summed outwards from the mode, in parts of the mode's chance: far terms fade, none overflows.
    const FADED: f64 = 1e-18;
    let mode = libm::floor((n + 1.0) * p).min(n);
    let odds = p / (1.0 - p);
    let (mut chances, mut sum) = (1.0, mode.min(cap));
    let (mut k, mut chance) = (mode, 1.0);
    while k < n && chance > FADED {
        chance *= (n - k) / (k + 1.0) * odds;
        k += 1.0;
        chances += chance;
        sum += chance * k.min(cap);
    }
    (k, chance) = (mode, 1.0);
    while k > 0.0 && chance > FADED {
        chance *= k / (n - k + 1.0) / odds;
        k -= 1.0;
        chances += chance;
        sum += chance * k.min(cap);
    }
    sum / chances
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The beta-binomial's mean and distribution as published in `tests/published/data/beta_binomial.csv` (SciPy 1.17.1,
    /// `scipy.stats.betabinom`). E min(X, m + 1) - E min(X, m) = P(X > m).
    #[test]
    fn capped_means_are_those_of_the_beta_binomial() {
        let table = include_str!("../../../../tests/published/data/beta_binomial.csv");
        let mut compared = 0;
        for line in table
            .lines()
            .filter(|line| line.starts_with(|c: char| c.is_ascii_digit()))
        {
            let row: Vec<f64> = line.split(',').map(|cell| cell.parse().unwrap()).collect();
            let (shape, n, k) = ((row[0], row[1]), row[2] as u32, row[3] as u32);
            let mean = |most| mean_set(n, 1, shape, 1.0, most);
            assert!((mean(n) - row[6]).abs() < 1e-9, "{line}");
            let beyond = mean(k + 1) - mean(k);
            assert!((beyond - (1.0 - row[5])).abs() < 1e-9, "{line}: {beyond}");
            compared += 1;
        }
        assert_eq!(compared, 28);
    }

    /// E (1 - rate)^2 = b (b + 1) / ((a + b) (a + b + 1)): the second moment of a beta, from any table.
    #[test]
    fn two_seeds_a_cell_fail_together_by_the_second_moment() {
        let (a, b) = (6.0, 3.0);
        let empty = b * (b + 1.0) / ((a + b) * (a + b + 1.0));
        let wanted = 80.0 * (1.0 - empty) * 0.92;
        assert!((mean_set(80, 2, (a, b), 0.92, 80) - wanted).abs() < 1e-9);
    }

    #[test]
    fn extremes_stay_within_bounds() {
        for shape in [(1e-3, 1e-3), (1e6, 1e6), (1e-3, 1e6), (1e6, 1e-3)] {
            let mean = mean_set(1000, 1, shape, 1.0, 1000);
            let wanted = 1000.0 * shape.0 / (shape.0 + shape.1);
            assert!((mean - wanted).abs() < 1e-6, "{shape:?}: {mean}");
            assert!(mean_set(1000, 3, shape, 0.9, 10) <= 10.0 + 1e-9);
        }
        assert!(mean_set(0, 1, (2.0, 2.0), 1.0, 5) < 1e-12);
    }
}
