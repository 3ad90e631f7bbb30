//! The expected number of plants from a sowing.

use libm::{exp, log, log1p, sqrt};

/// Mean number of plants set out from `cells` with `seeds` each, for a germination rate with distribution
/// Beta(`alpha`, `beta`), a share `usable` of good seedlings, and at most `most` plants.
///
/// The binomial mean is averaged over the rate by the trapezoidal rule in its log odds, where the density of
/// the beta decays at least exponentially on both sides; the error is below 1e-10.
pub(super) fn mean_set(
    cells: u32,
    seeds: u32,
    (alpha, beta): (f64, f64),
    usable: f64,
    most: u32,
) -> f64 {
    // Log of the density ratio at which the tails are cut off.
    const DEEP: f64 = 40.0;
    let middle = log(alpha / beta);
    let step = (0.5 * sqrt(1.0 / alpha + 1.0 / beta)).min(0.5);
    let log_density = |odds: f64| {
        // ln of rate^alpha (1 - rate)^beta, accurate for rates close to 0 and 1.
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
        // Only one direction includes the mode.
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

/// E min(X, most) for a binomial X with `trials` trials of probability `p`.
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
    // Summed outwards from the mode, relative to its probability, so that nothing overflows.
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

    /// Mean and distribution of the beta-binomial, from `tests/published/data/beta_binomial.csv` (SciPy
    /// 1.17.1, `scipy.stats.betabinom`): E min(X, m + 1) - E min(X, m) = P(X > m).
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

    /// E (1 - rate)^2 = b (b + 1) / ((a + b) (a + b + 1)), the second moment of a beta.
    #[test]
    fn two_seeds_a_cell_fail_together_with_the_second_moment() {
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
