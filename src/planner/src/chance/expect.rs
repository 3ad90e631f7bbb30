//! The expected stems, without simulation.

use super::case::{Batch, Case, CaseError, Plants};
use super::plants::mean_set;
use super::weeks::mean_share;

/// Mean stems of every class in every week; class `c` in week `w` is at index `c * weeks + w`.
///
/// The mean of a log-normal yield with median 1 and coefficient of variation v is sqrt(1 + v^2). Plants,
/// bloom, yield and frost of a batch are independent, so their means multiply.
///
/// # Errors
/// As [`Case::check`].
pub fn expected(case: &Case) -> Result<Vec<f64>, CaseError> {
    case.check()?;
    let mut mean = vec![0.0; case.classes * case.weeks];
    for batch in &case.batches {
        let stems = mean_plants(batch.plants) * batch.survival * batch.stems * mean_yield(batch);
        let from = batch.class * case.weeks;
        let Some(row) = mean.get_mut(from..from + case.weeks) else {
            continue;
        };
        for (week, mean) in row.iter_mut().enumerate() {
            *mean += stems * mean_share(&batch.shares, batch.bloom, week) * batch.spared_in(week);
        }
    }
    Ok(mean)
}

fn mean_plants(plants: Plants) -> f64 {
    match plants {
        Plants::Known(plants) => plants.mean_above(0.0),
        Plants::Sown {
            cells,
            seeds,
            alpha,
            beta,
            usable,
            most,
        } => mean_set(cells, seeds, (alpha, beta), usable, most),
    }
}

fn mean_yield(batch: &Batch) -> f64 {
    libm::sqrt(1.0 + batch.variation * batch.variation)
}

impl Batch {
    /// Share of years in which frost has not ended the batch by `week`.
    pub(super) fn spared_in(&self, week: usize) -> f64 {
        self.spared
            .get(week)
            .or(self.spared.last())
            .copied()
            .unwrap_or(1.0)
    }
}
