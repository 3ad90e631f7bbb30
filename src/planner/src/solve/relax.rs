//! The linear relaxation of the program.

use core::time::Duration;

use microlp::{ComparisonOp, OptimizationDirection, Problem as Linear, SolveOptions, Variable};

use crate::model::{Model, RowKind};

/// Values of the columns; 0 for those that were left out.
#[derive(Debug, Clone)]
pub(super) struct Values {
    /// By column of the model.
    pub of: Vec<f64>,
    /// Objective at the given costs.
    pub cost: f64,
}

/// Solves the relaxation over some choices at the given costs; all others are 0, or contribute `activity` to
/// the rows.
///
/// `None` if the solver failed: at the time limit, or for numerical reasons.
pub(super) fn relaxed(
    model: &Model,
    choices: impl Iterator<Item = (usize, f64)>,
    activity: Option<&[f64]>,
    limit: Option<Duration>,
) -> Option<Values> {
    let mut linear = Linear::new(OptimizationDirection::Minimize);
    let mut own: Vec<Option<Variable>> = vec![None; model.columns.len()];
    let mut is_plants = vec![false; model.columns.len()];
    for column in model.plants.iter().flatten() {
        *is_plants.get_mut(*column)? = true;
    }
    for (choice, cost) in choices {
        let Some(column) = model.plants.get(choice).copied().flatten() else {
            continue;
        };
        let upper = model.columns.get(column)?.upper;
        *own.get_mut(column)? = Some(linear.add_var(cost, (0.0, upper)));
    }
    for (n, column) in model.columns.iter().enumerate() {
        if !column.whole && !*is_plants.get(n)? {
            *own.get_mut(n)? = Some(linear.add_var(column.cost, (0.0, column.upper)));
        }
    }
    for (n, (row, kind)) in model.rows.iter().zip(&model.kinds).enumerate() {
        if matches!(kind, RowKind::Made { .. }) {
            continue;
        }
        let terms: Vec<(Variable, f64)> = row
            .terms
            .iter()
            .filter_map(|(column, factor)| Some(((*own.get(*column)?)?, *factor)))
            .collect();
        if terms.is_empty() {
            continue;
        }
        let there = activity.and_then(|sums| sums.get(n)).copied();
        let bound = row.bound - there.unwrap_or(0.0);
        if row.at_least {
            linear.add_constraint(terms, ComparisonOp::Ge, bound);
        } else {
            linear.add_constraint(terms, ComparisonOp::Le, bound.max(0.0));
        }
    }
    let mut options = SolveOptions::default();
    options.time_limit = limit;
    let outcome = linear.solve_with(options).ok()?;
    let solution = outcome.solution()?;
    let of = own
        .iter()
        .map(|variable| variable.map_or(0.0, |v| solution.var_value(v).max(0.0)))
        .collect();
    Some(Values {
        of,
        cost: solution.objective(),
    })
}
